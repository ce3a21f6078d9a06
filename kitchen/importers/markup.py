"""HTML as real pages have it, taken apart in one pass: elements in their order, and the text between them.

The standard library's parser starts over at each mark that is never closed, so that a purpose-made page takes it hours. Here each
character is looked at a bounded number of times, nothing recurses, and what is never closed ends with the page.
"""

from __future__ import annotations

import html
import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from kitchen.domain.units import find_unit
from kitchen.importers.tags import BLOCKS, CLOSES, INLINE, RAW, UNSEEN, VOID

MOST_ELEMENTS = 200_000
MOST_OPEN = 400
MOST_TOKENS_READ = 3_000_000
MOST_ATTRIBUTES = 200
MOST_LOOKED_UP = 12
LONGEST_TEXT = 200_000

_MARK = re.compile(r"<(?:(?P<open>[A-Za-z][^\s/>]*)|/(?P<close>[A-Za-z][^\s/>]*)|(?P<comment>!--)|(?P<other>[!?/]))")
_ATTRIBUTE = re.compile(
    r"""[\s/]*(?:(?P<end>>)|(?P<name>[^\s/>][^\s/>=]*)(?:\s*=\s*(?:"(?P<double>[^"]*)"|'(?P<single>[^']*)'|(?P<plain>[^\s>"'][^\s>]*)))?)"""
)
_RAW_ENDS = {tag: re.compile(rf"</{tag}(?=[\s/>])", re.IGNORECASE) for tag in RAW}


@dataclass(slots=True)
class Element:
    """One element: its tag, its attributes, its parent's number (-1 for none), and the tokens and elements inside it."""

    tag: str
    attributes: dict[str, str]
    parent: int
    first: int
    last: int = -1
    after: int = -1

    def words(self, name: str) -> list[str]:
        """Return the words of an attribute that holds several, in small letters."""
        return self.attributes.get(name, "").lower().split()


@dataclass(slots=True)
class Document:
    """A page taken apart. A token is text, the number of an element that begins, or -1 less the number of one that ends."""

    elements: list[Element] = field(default_factory=list)
    tokens: list[str | int] = field(default_factory=list)
    scripts: list[tuple[dict[str, str], str]] = field(default_factory=list)
    cut: bool = False
    patience: int = MOST_TOKENS_READ

    def inside(self, number: int) -> range:
        """Return the numbers of the elements inside one."""
        return range(number + 1, self.elements[number].after)

    def text(self, number: int) -> str:
        """Return the text of an element on one line."""
        return " ".join(self.lines(number))

    def lines(self, number: int, without: Callable[[Element], bool] | None = None) -> list[str]:
        """Return the lines of an element's text, as its blocks and line breaks part them, ``without`` what is left out.

        Elements inside each other could be asked for the same text again and again: a page that has been read over too often by
        that answers nothing more.
        """
        element = self.elements[number]
        self.patience -= element.last - element.first
        if self.patience < 0:
            return []
        return [line for _, line in self.blocks(element.first, element.last, without)]

    def blocks(
        self, first: int = 0, last: int | None = None, without: Callable[[Element], bool] | None = None
    ) -> Iterator[tuple[int, str]]:
        """Yield each line of text between two tokens, with the number of the block element that it stands in (-1 for none)."""
        last = len(self.tokens) if last is None else last
        place, block, pieces = first, -1, []
        length = 0
        while place < last:
            token = self.tokens[place]
            place += 1
            if isinstance(token, str):
                if length < LONGEST_TEXT:
                    pieces.append(token)
                    length += len(token)
                continue
            element = self.elements[token if token >= 0 else -1 - token]
            if token >= 0 and (element.tag in UNSEEN or (without is not None and without(element))):
                place = place if self._is_unit(element) else max(place, element.last)
            if element.tag in BLOCKS:
                if line := _plain(pieces):
                    yield block, line
                pieces, length = [], 0
                block = token if token >= 0 and element.tag not in VOID else element.parent if token < 0 else block
        if line := _plain(pieces):
            yield block, line

    def _is_unit(self, element: Element) -> bool:
        """Say whether a button shows no more than a unit, as where units can be switched."""
        inside = self.tokens[element.first : min(element.last, element.first + 6)] if element.tag == "button" else []
        words = "".join(piece for piece in inside if isinstance(piece, str)).strip()
        return 0 < len(words) <= 12 and find_unit(words) is not None


def _plain(pieces: list[str]) -> str:
    text = "".join(pieces)[:LONGEST_TEXT]
    return " ".join((html.unescape(text) if "&" in text else text).split())


def scan(text: str) -> Document:
    """Return a page, or a piece of one, taken apart. Never raises; what is cut off after 200,000 elements is said in ``cut``.

    Examples
    --------
    >>> page = scan("<ul><li>1 egg<li>2 <b>cups</b> milk</ul><p>Stir")
    >>> [(page.elements[block].tag, line) for block, line in page.blocks()]
    [('li', '1 egg'), ('li', '2 cups milk'), ('p', 'Stir')]
    """
    return _Scanner(text).document


class _Scanner:
    """One pass over a text."""

    def __init__(self, text: str) -> None:
        self.page, self.document = text, Document()
        self.open: list[int] = []
        self.counts: Counter[str] = Counter()
        place = 0
        while mark := _MARK.search(text, place):
            self._take_text(place, mark.start())
            if len(self.document.elements) >= MOST_ELEMENTS:
                self.document.cut, place = True, len(text)
                break
            place = self._take(mark)
        self._take_text(place, len(text))
        self._close_down_to(0)

    def _take_text(self, start: int, end: int) -> None:
        if end > start:
            self.document.tokens.append(self.page[start:end])

    def _take(self, mark: re.Match[str]) -> int:
        """Take one mark and return where the text goes on."""
        if mark["open"]:
            return self._start_tag(mark["open"].lower(), mark.end())
        if mark["comment"]:
            end = self.page.find("-->", mark.end())
            return len(self.page) if end < 0 else end + 3
        if mark["close"]:
            self._end_tag(mark["close"].lower())
        elif self.page.startswith("<![CDATA[", mark.start()):
            end = self.page.find("]]>", mark.end())
            return len(self.page) if end < 0 else end + 3
        end = self.page.find(">", mark.end())
        return len(self.page) if end < 0 else end + 1

    def _start_tag(self, tag: str, place: int) -> int:
        attributes, place = self._attributes(place)
        if tag in RAW:
            return self._raw(tag, attributes, place)
        self._close_implied(tag)
        number = len(self.document.elements)
        parent = self.open[-1] if self.open else -1
        element = Element(tag, attributes, parent, len(self.document.tokens) + 1)
        self.document.elements.append(element)
        self.document.tokens.append(number)
        if tag in VOID or len(self.open) >= MOST_OPEN:
            element.last, element.after = element.first, number + 1
        else:
            self.open.append(number)
            self.counts[tag] += 1
        return place

    def _attributes(self, place: int) -> tuple[dict[str, str], int]:
        found: dict[str, str] = {}
        for _ in range(MOST_ATTRIBUTES):
            match = _ATTRIBUTE.match(self.page, place)
            if match is None:
                return found, len(self.page)
            place = match.end()
            if match["end"]:
                return found, place
            value = match["double"] or match["single"] or match["plain"] or ""
            found.setdefault(match["name"].lower(), html.unescape(value) if "&" in value else value)
        end = self.page.find(">", place)
        return found, len(self.page) if end < 0 else end + 1

    def _raw(self, tag: str, attributes: dict[str, str], place: int) -> int:
        end = _RAW_ENDS[tag].search(self.page, place)
        stop = end.start() if end else len(self.page)
        if tag == "script":
            self.document.scripts.append((attributes, self.page[place:stop]))
        else:
            number = len(self.document.elements)
            parent = self.open[-1] if self.open else -1
            first = len(self.document.tokens) + 1
            shown = tag in ("title", "textarea")
            self.document.elements.append(Element(tag, attributes, parent, first, first + shown, number + 1))
            self.document.tokens.append(number)
            if shown:
                self.document.tokens.append(self.page[place:stop])
            self.document.tokens.append(-1 - number)
        close = self.page.find(">", stop)
        return len(self.page) if close < 0 else close + 1

    def _close_implied(self, tag: str) -> None:
        """Close what a start tag ends without saying so: a list item by the next one, a paragraph by a block."""
        if tag not in CLOSES:
            return
        closed, beyond = CLOSES[tag]
        for depth in range(len(self.open) - 1, max(-1, len(self.open) - 1 - MOST_LOOKED_UP), -1):
            name = self.document.elements[self.open[depth]].tag
            if name in closed:
                self._close_down_to(depth)
            elif name in beyond:
                return

    def _end_tag(self, tag: str) -> None:
        """Close an element; a letter style's end tag never closes the block that it stands in."""
        if not self.counts[tag]:
            return
        for depth in range(len(self.open) - 1, -1, -1):
            name = self.document.elements[self.open[depth]].tag
            if name == tag:
                self._close_down_to(depth)
                return
            if tag in INLINE and name not in INLINE:
                return

    def _close_down_to(self, depth: int) -> None:
        elements, tokens = self.document.elements, self.document.tokens
        while len(self.open) > depth:
            number = self.open.pop()
            element = elements[number]
            element.last, element.after = len(tokens), len(elements)
            tokens.append(-1 - number)
            self.counts[element.tag] -= 1
