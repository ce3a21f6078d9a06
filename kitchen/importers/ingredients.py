"""A recipe's list of ingredients, in any of the shapes that data gives it, as lines in their parts."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from kitchen.domain.lines import parse_line
from kitchen.domain.nouns import singular
from kitchen.importers.asides import is_aside_line
from kitchen.importers.found import ReadPart
from kitchen.importers.headings import kind_of
from kitchen.importers.properties import MOST_DEEP, first_of, listed, properties, texts
from kitchen.importers.wording import lines_of, without_bullet

MOST_LINES = 1000
_COMMAS = re.compile(r"\s*[,;]\s+(?=\d|[½⅓⅔¼¾⅛]|(?:an?|one|two|three|half)\s)")
_STRONG = re.compile(r"\s*<(b|strong|h[1-6]|u)\b[^<>]*>[^<>]{2,60}</\1>\s*:?\s*", re.IGNORECASE)
_RULED = re.compile(r"^[-=*_~#–—]{2,}\s*(.{2,60}?)\s*:?\s*[-=*_~#–—]{2,}$")
_ONLY_SIGNS = re.compile(r"[\W_]*")
_LISTS = ("itemlistelement", "items", "ingredients", "recipeingredient", "ingredient", "lines", "list")
_AMOUNTS = ("amount", "quantity", "requiredquantity", "value", "qty")
_NAMES = ("name", "ingredient", "text", "item", "description", "title", "food")


def read_parts(value: Any) -> tuple[ReadPart, ...]:
    """Return ingredient lines in their parts; headings among the lines open parts of their own.

    Examples
    --------
    >>> read_parts(["200 g flour", "For the sauce:", "2 tomatoes", ""])
    (ReadPart(title='', lines=('200 g flour',)), ReadPart(title='For the sauce', lines=('2 tomatoes',)))
    >>> read_parts("1 onion, chopped<br>2 eggs")[0].lines
    ('1 onion, chopped', '2 eggs')
    >>> read_parts([{"name": "flour", "amount": "200 g"}])[0].lines
    ('200 g flour',)
    """
    return part_lines(once_only(_own_lines(_lines(value))))


def _own_lines(lines: list[str]) -> list[str]:
    """Return lines without the heading of the list, and without the method that follows it."""
    kinds = [kind_of(line.removeprefix("# ")) for line in lines]
    end = next((place for place, kind in enumerate(kinds) if kind in ("method", "after") and place), len(lines))
    return [line for line, kind in zip(lines[:end], kinds[:end], strict=True) if kind != "ingredients"]


def joined_amounts(lines: Sequence[str]) -> list[str]:
    """Return lines with an amount that stands alone put before its food: the line below it, or the one above.

    Examples
    --------
    >>> joined_amounts(["200 g", "flour", "2", "eggs", "salt"]), joined_amounts(["flour", "200 g", "eggs", "2"])
    (['200 g flour', '2 eggs', 'salt'], ['200 g flour', '2 eggs'])
    """
    alone = [is_amount(line) for line in lines]
    if True not in alone or len(lines) < 2:
        return list(lines)
    above = not alone[0] and alone[1] and _is_food(lines[0])
    joined: list[str] = []
    for place, line in enumerate(lines):
        if above and alone[place] and joined and not alone[place - 1] and _is_food(joined[-1]):
            joined[-1] = f"{line} {joined[-1].removeprefix('# ')}"
        elif not above and place and alone[place - 1] and not alone[place] and _is_food(line):
            joined[-1] = f"{joined[-1]} {line}"
        else:
            joined.append(line)
    return joined


def is_amount(line: str) -> bool:
    """Say whether a line is an amount of nothing: "200 g", "2"."""
    read = parse_line(line) if len(line) <= 25 and any(map(str.isnumeric, line)) else None
    return read is not None and read.low is not None and not read.name and not read.note


def _is_food(line: str) -> bool:
    return len(line) <= 80 and parse_line(line).low is None


def part_lines(lines: Sequence[str]) -> tuple[ReadPart, ...]:
    """Return lines in their parts. A heading is a line that ends with a colon, begins with "For the", or is ruled off."""
    parts: list[tuple[str, list[str]]] = [("", [])]
    for line in joined_amounts([line for line in lines[:MOST_LINES] if not is_aside_line(line)]):
        title = heading_in(line)
        if title:
            parts.append((title, []))
        else:
            parts[-1][1].append(line.removeprefix("# "))
    return tuple(ReadPart(title, tuple(found)) for title, found in parts if found or title)


def heading_in(line: str) -> str:
    """Return the title in a line that is a heading, or nothing."""
    ruled = _RULED.match(line)
    if ruled:
        return ruled[1]
    read = parse_line(line) if len(line) <= 80 else None
    return read.name if read is not None and read.heading else ""


def once_only(lines: list[str]) -> list[str]:
    """Return lines without a second copy of the whole list, which some pages carry for another screen or another measure."""
    half = len(lines) // 2
    return lines[:half] if half >= 2 and lines[:half] == lines[half:] else lines


_MOST_VARIANTS = 12


def first_variant(lines: list[str]) -> list[str]:
    """Return the first of several lists of the same foods: a page may show one for each number of portions, or one a screen.

    Examples
    --------
    >>> first_variant(["1 egg", "50 g flour", "2 eggs", "100 g flour"])
    ['1 egg', '50 g flour']
    """
    foods = [" ".join(map(singular, parse_line(line).name.lower().split())) for line in lines if not line.startswith("# ")]
    whole = len(foods)
    sizes = [whole // times for times in range(_MOST_VARIANTS, 1, -1) if whole % times == 0 and whole // times >= 2]
    if not sizes:
        return lines
    size = next((size for size in sizes if foods == foods[:size] * (whole // size)), 0)
    places = [place for place, line in enumerate(lines) if not line.startswith("# ")]
    return lines[: places[size - 1] + 1] if size else lines


def _lines(value: Any, depth: int = 0) -> list[str]:
    """Return the lines in a value; headings come as "Title:" and strongly marked ones as "# Title"."""
    values = value if isinstance(value, list | tuple) else [value]
    if len(values) == 1 and isinstance(values[0], str):
        return _of_one_text(values[0])
    found: list[str] = []
    for each in values[:MOST_LINES]:
        if isinstance(each, list | tuple) and depth < MOST_DEEP:
            found += _lines(each, depth + 1)
        elif isinstance(each, Mapping) and depth < MOST_DEEP:
            found += _of_node(each, depth)
        elif isinstance(each, str):
            found += _of_item(each)
    return found


def _of_one_text(text: str) -> list[str]:
    """Return the lines of a list that came as one text: by its lines, else by commas before amounts."""
    lines = [line for line in map(without_bullet, lines_of(text)) if _says(line)]
    if len(lines) == 1 and len(_COMMAS.findall(lines[0])) >= 2:
        return [line for line in _COMMAS.split(lines[0]) if _says(line)]
    return lines


def _of_item(text: str) -> list[str]:
    """Return one item of a list as its line; several where it holds a whole list."""
    lines = [line for line in map(without_bullet, lines_of(text)) if _says(line)]
    if "<li" in text.lower() or len(lines) > 3:
        return lines
    line = " ".join(lines)
    return [f"# {line}" if _STRONG.fullmatch(text) and line else line] if line else []


def _says(line: str) -> bool:
    return not _ONLY_SIGNS.fullmatch(line)


def _of_node(node: Mapping[str, Any], depth: int) -> list[str]:
    """Return the line of an ingredient given as a node, or the lines of a group of them under its name."""
    held = properties(node)
    group = first_of(held, _LISTS)
    name = " ".join(texts(first_of(held, _NAMES))[:1])
    if isinstance(group, list | tuple):
        inner = _lines(list(group), depth + 1)
        return [f"# {name.rstrip(': ')}", *inner] if name and inner else inner
    amount = " ".join(_amount_words(first_of(held, _AMOUNTS)))
    unit = " ".join(texts(first_of(held, ("unittext", "unit", "unitcode")))[:1])
    note = " ".join(texts(first_of(held, ("preparation", "note", "notes", "comment")))[:1])
    line = " ".join(word for word in (amount, unit, name) if word)
    return [f"{line}, {note}" if note and note not in line else line] if line else []


def _amount_words(value: Any) -> list[str]:
    words = []
    for each in listed(value):
        if isinstance(each, Mapping):
            held = properties(each)
            words += [*texts(first_of(held, ("value", "name", "text")))[:1], *texts(first_of(held, ("unittext", "unit")))[:1]]
        elif isinstance(each, float):
            words.append(f"{each:g}")
        else:
            words += texts(each)
    return words[:2]
