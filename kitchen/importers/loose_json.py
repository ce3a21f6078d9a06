"""JSON as pages really carry it: wrapped in comments, spelled in entities, with broken strings and stray commas.

What is good JSON is read by the standard library. Only what it refuses is read again, by a patient reader that goes over the text
once and keeps what it understands.
"""

from __future__ import annotations

import html
import json
import re
from typing import Any

MOST_LOOSE = 3_000_000
MOST_VALUES = 20
MOST_DEPTH = 200
MOST_WRAPPINGS = 8
_LONGEST_NUMBER = 300

_WRAPPING = re.compile(r"(?:\s|\ufeff|//[^\n{\[\"]{0,40}(?:\n|(?=<))|/\*.{0,40}?\*/|<!--|-->|<!\[CDATA\[|\]\]>|;)+", re.DOTALL)


class TooDeep(ValueError):
    """Data nested so deep that no person made it."""


def read_json(text: str) -> list[Any]:
    """Return the values in a text that should be JSON: usually one, several where they follow each other, none where nothing is.

    Raises
    ------
    TooDeep
        If its lists and objects are nested more than some hundred deep.

    Examples
    --------
    >>> read_json('<!-- {"name": "Soup",} -->')
    [{'name': 'Soup'}]
    >>> read_json('{"a": 1}{"b": "say "no" more"}')
    [{'a': 1}, {'b': 'say "no" more'}]
    """
    text = _unwrapped(text)
    if not text:
        return []
    try:
        return _strict(text)
    except RecursionError:
        raise TooDeep("nested too deep") from None
    except ValueError:
        pass
    if any(quote in text for quote in ("&quot;", "&amp;quot;", "&#34;", "&#034;")):
        plain = _unwrapped(html.unescape(html.unescape(text)) if "&amp;quot;" in text else html.unescape(text))
        try:
            return _strict(plain)
        except RecursionError:
            raise TooDeep("nested too deep") from None
        except ValueError:
            text = plain if text.find('"') < 0 else text
    return _loose(text[:MOST_LOOSE])


def _unwrapped(text: str) -> str:
    """Return text without the comments, marks and semicolons that scripts are wrapped in."""
    start = _WRAPPING.match(text)
    text = text[start.end() :] if start else text
    for _ in range(MOST_WRAPPINGS):
        cut = text.rstrip(" \t\r\n;\ufeff\0")
        for mark in ("-->", "]]>", "*/", "//", "/*"):
            cut = cut.removesuffix(mark)
        if cut == text:
            return text
        text = cut
    return text


def _number(digits: str) -> Any:
    return float("nan") if len(digits) > _LONGEST_NUMBER else int(digits)


_DECODER = json.JSONDecoder(strict=False, parse_int=_number, parse_constant=lambda _: None)


def _strict(text: str) -> list[Any]:
    """Return the values of good JSON; line breaks inside strings are good enough."""
    found: list[Any] = []
    place = 0
    while place < len(text) and len(found) < MOST_VALUES:
        value, place = _DECODER.raw_decode(text, place)
        found.append(value)
        between = _WRAPPING.match(text, place)
        place = between.end() if between else place
        if text.startswith(",", place):
            gap = _SPACE.match(text, place + 1)
            place = gap.end() if gap else place + 1
    return found


_SPACE = re.compile(r"(?:\s|\ufeff)*")
_PLAIN = re.compile(r'[^"\\]+')
_WORD = re.compile(r"[^\s,:{}\[\]\"]+")
_LITERALS = {"true": True, "false": False, "null": None, "undefined": None}
_ESCAPES = {"n": "\n", "t": "\t", "r": "\n", "b": "", "f": "", "/": "/", "\\": "\\", '"': '"', "'": "'"}
# After the quote that ends a string comes the next key or value, or the end of what it stands in.
_ENDS_KEY = re.compile(r"\s*:")
_ENDS_VALUE = re.compile(
    r"\s*(?:$|[}\]]\s*(?:$|[,}\]{<;/])|,\s*(?:$|\"[^\"\n]{0,80}\"\s*:|[\"{\[}\]]|-?\d|true\b|false\b|null\b))"
)
_ENDS_MISSING_COMMA = re.compile(r"\s*\n\s*\"[^\"\n]{1,60}\"\s*:")


def _loose(text: str) -> list[Any]:
    reader = _Reader(text)
    found: list[Any] = []
    while not reader.at_end() and len(found) < MOST_VALUES:
        before = reader.place
        value = reader.value(0)
        if isinstance(value, dict | list):
            found.append(value)
        reader.place = max(reader.place, before + 1)
    return found


class _Reader:
    """Reads values from a text that is nearly JSON."""

    def __init__(self, text: str) -> None:
        self.text, self.place = text, 0

    def at_end(self) -> bool:
        self.skip()
        return self.place >= len(self.text)

    def skip(self) -> None:
        found = _SPACE.match(self.text, self.place)
        self.place = found.end() if found else self.place

    def peek(self) -> str:
        self.skip()
        return self.text[self.place : self.place + 1]

    def value(self, depth: int) -> Any:
        """Return the value that begins here; None for what is none."""
        if depth > MOST_DEPTH:
            raise TooDeep("nested too deep")
        sign = self.peek()
        if sign == "{":
            return self.mapping(depth)
        if sign == "[":
            return self.sequence(depth)
        return self.string(_ENDS_VALUE) if sign == '"' else self.word()

    def mapping(self, depth: int) -> dict[str, Any]:
        self.place += 1
        found: dict[str, Any] = {}
        while (sign := self.peek()) not in ("", "}", "]"):
            if sign in ",:{[":
                self.place += 1
                continue
            key = self.string(_ENDS_KEY) if sign == '"' else str(self.word())
            if self.peek() == ":":
                self.place += 1
                value = None if self.peek() in ("}", ",", "") else self.value(depth + 1)
                if key not in found or value:
                    found[key] = value
        self.place += self.peek() == "}"
        return found

    def sequence(self, depth: int) -> list[Any]:
        self.place += 1
        found: list[Any] = []
        while (sign := self.peek()) not in ("", "]", "}"):
            if sign in ",:":
                self.place += 1
            else:
                found.append(self.value(depth + 1))
        self.place += self.peek() == "]"
        return found

    def word(self) -> Any:
        """Return a number, true, false, null or a word without quotes."""
        found = _WORD.match(self.text, self.place)
        if found is None:
            self.place += 1
            return None
        self.place = found.end()
        word = found.group()
        if word in _LITERALS:
            return _LITERALS[word]
        try:
            return float(word) if "." in word else int(word) if len(word) < _LONGEST_NUMBER else word[:_LONGEST_NUMBER]
        except ValueError:
            return word[:1000].strip("'")

    def string(self, end: re.Pattern[str]) -> str:
        """Return a string; a quote inside it ends it only where what follows says so."""
        self.place += 1
        pieces: list[str] = []
        while self.place < len(self.text):
            plain = _PLAIN.match(self.text, self.place)
            if plain:
                pieces.append(plain.group())
                self.place = plain.end()
                continue
            sign = self.text[self.place]
            self.place += 1
            if sign == "\\":
                pieces.append(self.escaped())
            elif end.match(self.text, self.place) or (end is _ENDS_VALUE and _ENDS_MISSING_COMMA.match(self.text, self.place)):
                break
            else:
                pieces.append('"')
        return "".join(pieces)

    def escaped(self) -> str:
        sign = self.text[self.place : self.place + 1]
        self.place += 1
        if sign != "u":
            return _ESCAPES.get(sign, sign)
        digits = self.text[self.place : self.place + 4]
        try:
            code = int(digits, 16)
        except ValueError:
            return ""
        self.place += 4
        return chr(code)
