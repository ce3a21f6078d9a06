"""A page without recipe data: its headings, its lists and the names of its boxes tell of a recipe. A guess, and said so."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby, islice

from kitchen.domain.lines import parse_line
from kitchen.importers.asides import is_aside
from kitchen.importers.found import ReadRecipe, ReadStep
from kitchen.importers.headings import is_fact, joined_labels, kind_of, times_in, yield_in
from kitchen.importers.ingredients import first_variant, is_amount, part_lines
from kitchen.importers.instructions import read_steps
from kitchen.importers.markup import Document, Element
from kitchen.importers.tags import HEADINGS
from kitchen.importers.wording import one_line, without_bullet

SEVERAL_LISTS = (
    "The page shows the same ingredients several times with other amounts, as for several numbers of portions. "
    "The first list was taken: see that it fits the servings."
)
MOST_BLOCKS = 20_000
MOST_GATHERED = 400
MOST_HEADINGS = 30
_AROUND = 60
# Not "aside" and "form": the ingredients may stand in the one, and the whole page in the other.
_ASIDE = frozenset(("nav", "footer", "dialog", "title"))
_TAIL = re.compile(r"\s+[|–—•»:-]+\s+[^|–—•»]{1,60}$")
_RECIPE_TAIL = re.compile(r"\s+recipe$", re.IGNORECASE)
_BOX_OF_INGREDIENTS = re.compile(r"ingredient", re.IGNORECASE)
_BOX_OF_STEPS = re.compile(r"instruction|direction|method|preparation|recipe-?_?steps?|procedure|\bsteps?\b", re.IGNORECASE)
_NOT_A_BOX = re.compile(r"related|nutrition|sidebar|comment|newsletter|filter|menu|search|payment|shipping", re.IGNORECASE)


@dataclass(frozen=True)
class Block:
    """One line of a page's text and the kind of element that it stands in; ``strong`` where all of it is set in bold, ``ordered``
    where it is an item of a numbered list.
    """

    tag: str
    text: str
    strong: bool = False
    element: int = -1
    ordered: bool = False

    @property
    def heading(self) -> bool:
        return (
            self.tag in HEADINGS or (self.strong and len(self.text) <= 70) or self.tag in ("legend", "summary", "dt", "caption")
        )


def guess_recipe(page: Document) -> ReadRecipe:
    """Return the recipe that a page's headings and lists tell of; without lines or steps where they tell of none.

    Examples
    --------
    >>> from kitchen.importers.markup import scan
    >>> page = scan("<h1>Soup</h1><h2>Ingredients</h2><ul><li>1 leek</ul><h2>Method</h2><p>Boil it.<p>Eat.")
    >>> found = guess_recipe(page)
    >>> found.title, found.lines, [step.text for step in found.steps]
    ('Soup', ('1 leek',), ['Boil it.', 'Eat.'])
    """
    blocks = list(_blocks(page))
    start = _ingredients_at(blocks)
    lines = _ingredient_lines(blocks, start) if start is not None else []
    parts = part_lines(first_variant(lines))
    steps = _steps(blocks, start or 0)
    if not parts:
        parts = part_lines(_in_boxes(page, _BOX_OF_INGREDIENTS, "ingredients"))
    if not steps:
        steps = read_steps(_in_boxes(page, _BOX_OF_STEPS, "method"))
    place = start if start is not None else len(blocks)
    facts = joined_labels([block.text for block in blocks[max(0, place - _AROUND) : place + _AROUND]])
    return ReadRecipe(
        title=page_title(page),
        summary=meta(page, "og:description", "description"),
        parts=parts,
        steps=steps,
        makes=yield_in(facts),
        times=times_in(facts),
        home_url=_whole(canonical(page) or meta(page, "og:url")),
        image_url=_whole(meta(page, "og:image")),
        source="page",
        not_understood=(SEVERAL_LISTS,) if len(first_variant(lines)) < len(set(lines)) else (),
    )


def _blocks(page: Document) -> Iterator[Block]:
    count = 0
    for row, found in groupby(page.blocks(without=_is_beside), key=lambda block: _row_of(page, block[0])):
        lines = list(found)
        joined = _row(page, row, [line for _, line in lines]) if row >= 0 else None
        for number, line in lines if joined is None else joined:
            count += 1
            if count > MOST_BLOCKS:
                return
            strong = _is_strong(page, number, line) or _is_titled(page, number)
            yield Block(_kind(page, number), line, strong, number, row >= 0 and _is_numbered_list(page, row))


def _is_beside(element: Element) -> bool:
    return element.tag in _ASIDE or is_aside(element)


def _row_of(page: Document, number: int) -> int:
    """Return the row of a table or the item of a list that a block stands in, -1 for none."""
    for _ in range(5):
        if number < 0 or page.elements[number].tag in ("table", "ul", "ol"):
            return -1
        if page.elements[number].tag in ("tr", "li"):
            return number
        number = page.elements[number].parent
    return -1


def _is_numbered_list(page: Document, row: int) -> bool:
    parent = page.elements[row].parent
    return parent >= 0 and page.elements[parent].tag == "ol"


_MOST_CELLS = 6
_LONGEST_CELL = 80


def _row(page: Document, row: int, cells: list[str]) -> list[tuple[int, str]] | None:
    """Return the cells of a row as one line of ingredients ("200 g", "flour"), none for a table's head; None to leave them."""
    if len(cells) < 2 or len(cells) > _MOST_CELLS or max(map(len, cells)) > _LONGEST_CELL:
        return None
    inside = {page.elements[each].tag for each in page.inside(row)[:20]}
    if page.elements[row].tag == "tr" and "th" in inside and "td" not in inside:
        return []
    if cells[0].replace(",", ".").replace(".", "").isdigit() or is_amount(cells[0]):
        return [(row, " ".join(cells))]
    if is_amount(cells[1]) and len(cells) == 2:
        return [(row, f"{cells[1]} {cells[0]}")]
    if len(cells) == 3 and cells[1].isdigit() and is_amount(f"{cells[1]} {cells[2]}"):
        return [(row, f"{cells[1]} {cells[2]} {cells[0]}")]
    return None


_TITLED = re.compile(r"(?:^|[\s_-])(?:heading|title|subtitle|header|subhead(?:ing)?|group[_-]?name)(?:\s|$)", re.IGNORECASE)


def _is_titled(page: Document, number: int) -> bool:
    """Say whether a box is named as a heading, or is the only cell across a table."""
    element = page.elements[number] if number >= 0 else None
    if element is None:
        return False
    return bool(_TITLED.search(element.attributes.get("class", ""))) or (
        element.tag in ("td", "th") and element.attributes.get("colspan", "1") != "1"
    )


def _kind(page: Document, number: int) -> str:
    """Return the tag that a block's text belongs to: the list item or heading around it, where one is near."""
    here = number
    for _ in range(4):
        if here < 0:
            break
        tag = page.elements[here].tag
        if tag == "li" or tag in HEADINGS or tag == "td":
            return tag
        here = page.elements[here].parent
    return page.elements[number].tag if number >= 0 else ""


def _is_strong(page: Document, number: int, line: str) -> bool:
    """Say whether a short block holds nothing but bold words."""
    if number < 0 or len(line) > 70:
        return False
    inside = page.inside(number)
    return any(page.elements[each].tag in ("b", "strong") and page.text(each) == line for each in inside[:4])


def _ingredients_at(blocks: list[Block]) -> int | None:
    """Return the place of the heading under which the most lines begin with amounts."""
    best, most = None, 0
    for place in _headings_of(blocks, "ingredients"):
        near = (block.text for block in blocks[place + 1 : place + 13] if len(block.text) <= 120)
        amounts = sum(parse_line(text).low is not None for text in near)
        if amounts > most:
            best, most = place, amounts
    return best


def _headings_of(blocks: list[Block], kind: str, start: int = 0) -> list[int]:
    """Return the places of the first headings of a kind."""
    return list(islice((place for place in range(start, len(blocks)) if kind_of(blocks[place].text) == kind), MOST_HEADINGS))


def _ingredient_lines(blocks: list[Block], start: int) -> list[str]:
    lines: list[str] = []
    near = blocks[start + 1 : start + 2 + MOST_GATHERED]
    listed = any(block.tag == "li" for block in near[:4])
    counted = any(block.ordered for block in near[:4])
    for place, block in enumerate(near[:MOST_GATHERED]):
        kind = kind_of(block.text)
        if kind in ("method", "after") or (block.ordered and not counted):
            break
        if is_fact(block.text) or kind == "ingredients":
            continue
        before_list = (
            listed and block.tag not in ("li", "tr", "td") and [each.tag for each in near[place + 1 : place + 2]] == ["li"]
        )
        if (block.heading or before_list) and len(block.text) <= 60 and parse_line(block.text).low is None:
            lines.append(f"# {block.text.rstrip(': ')}")
        elif len(block.text) > 200 or (listed and block.tag != "li" and len(block.text) > 60):
            break
        else:
            lines.append(without_bullet(block.text))
    while lines and lines[-1].startswith("# "):
        lines.pop()
    return lines


def _steps(blocks: list[Block], start: int) -> tuple[ReadStep, ...]:
    """Return the steps under the heading of the method that follows the ingredients; of several headings the fullest."""
    best: tuple[ReadStep, ...] = ()
    for place in _headings_of(blocks, "method", start):
        if best and place - start > MOST_GATHERED:
            break
        found = _steps_under(blocks, place)
        if _characters_in(found) > _characters_in(best):
            best = found
    return best


def _characters_in(steps: tuple[ReadStep, ...]) -> int:
    return sum(len(step.text) for step in steps)


def _steps_under(blocks: list[Block], place: int) -> tuple[ReadStep, ...]:
    texts: list[str] = []
    listed = any(block.tag == "li" for block in blocks[place + 1 : place + 6])
    for block in blocks[place + 1 : place + 1 + MOST_GATHERED]:
        kind = kind_of(block.text)
        if kind in ("after", "ingredients") or (block.tag in ("h1", "h2") and texts and kind != "method"):
            break
        if block.heading and kind != "method" and not _is_step_number(block.text):
            texts.append(f"{block.text.rstrip(': ')}:")
        elif listed and texts and block.tag != "li" and not block.heading and not texts[-1].endswith(":"):
            break
        elif kind != "method" and not is_fact(block.text, labelled=True):
            texts.append(block.text)
    while texts and texts[-1].endswith(":"):
        texts.pop()
    return read_steps(texts)


def _is_step_number(text: str) -> bool:
    return re.fullmatch(r"(?:step\s*)?\d{1,2}\s*[.:)]?", text, re.IGNORECASE) is not None


def _in_boxes(page: Document, named: re.Pattern[str], kind: str) -> list[str]:
    """Return the items of the lists in elements whose class or id says what they hold, else their lines."""
    items: list[str] = []
    lines: list[str] = []
    passed = -1
    for number, element in enumerate(page.elements):
        words = f"{element.attributes.get('class', '')} {element.attributes.get('id', '')}"
        if (
            number < passed
            or not named.search(words)
            or _NOT_A_BOX.search(words)
            or element.tag in ("body", "html", "article", "main")
        ):
            continue
        passed = element.after
        inside = [each for each in page.inside(number) if page.elements[each].tag == "li"]
        items += [page.text(each) for each in ([number] if element.tag == "li" else inside[:MOST_GATHERED])]
        lines += page.lines(number)[:MOST_GATHERED]
        if len(lines) > MOST_GATHERED * 2:
            break
    found = [line for line in items or lines if line and not kind_of(line)]
    likely = sum(parse_line(line).low is not None for line in found[:MOST_GATHERED]) if kind == "ingredients" else len(found)
    return found[:MOST_GATHERED] if likely else []


def page_title(page: Document) -> str:
    """Return the title of a page's recipe: its only large heading, else what it calls itself when shared, else its window's."""
    large = list(islice((text for n, element in enumerate(page.elements) if element.tag == "h1" and (text := page.text(n))), 5))
    shared = _TAIL.sub("", meta(page, "og:title", "twitter:title"))
    if large:
        alike = [text for text in large if shared and (text.lower() in shared.lower() or shared.lower() in text.lower())]
        return one_line((alike or large)[0])[:300]
    window = next((page.text(number) for number, element in enumerate(page.elements) if element.tag == "title"), "")
    return one_line(_RECIPE_TAIL.sub("", shared or _TAIL.sub("", window)))[:300]


def meta(page: Document, *names: str) -> str:
    """Return what the head of a page says under the first of some names."""
    said: dict[str, str] = {}
    for element in page.elements:
        if element.tag == "meta":
            name = (element.attributes.get("property") or element.attributes.get("name") or "").lower()
            said.setdefault(name, element.attributes.get("content", ""))
    return next((one_line(said[name]) for name in names if said.get(name)), "")


def canonical(page: Document) -> str:
    """Return the address that a page gives as its own."""
    links = (element for element in page.elements if element.tag == "link" and "canonical" in element.words("rel"))
    return next((element.attributes.get("href", "").strip() for element in links), "")


def _whole(address: str) -> str:
    return address if address.lower().startswith(("http://", "https://")) and len(address) <= 200 else ""
