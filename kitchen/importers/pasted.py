"""Plain pasted text as a recipe: by its headings where it has them, else by which lines read as ingredients."""

from __future__ import annotations

import re
from dataclasses import dataclass

from kitchen.domain.lines import parse_line
from kitchen.importers.found import ReadRecipe, ReadStep, UnreadableRecipe
from kitchen.importers.headings import is_fact, joined_labels, kind_of, times_in, yield_in
from kitchen.importers.ingredients import heading_in, part_lines
from kitchen.importers.instructions import read_steps
from kitchen.importers.wording import is_numbered, one_line, without_bullet

MOST_LINES = 3000
LONGEST_LINE = 20_000
_SENTENCE_END = re.compile(r"[.!?][\"'”’)]?$")
_BULLET = re.compile(r"^(?:[•‣◦·▪□▢☐*]|[-–—]\s)")
_ADDRESS = re.compile(r"https?://[^\s<>\"')]{4,190}")
_MORE_STEPS = re.compile(r"^(?:step\s*)?\d{1,2}\s*[.):]\s*\S", re.IGNORECASE)

NO_RECIPE = (
    "No recipe was found in this text: no line begins with an amount, and there is no heading such as “Ingredients” or “Method”. "
    "Paste the title, the ingredients line by line, and the steps."
)


@dataclass
class _Pieces:
    """The lines of a text by what they are; ``gap`` marks where a blank line parted steps."""

    head: list[str]
    ingredients: list[str]
    method: list[str]
    rest: list[str]


def read_text(text: str) -> ReadRecipe:
    """Return the recipe in a pasted text.

    Raises
    ------
    UnreadableRecipe
        If there is nothing in it that reads as ingredients or as a method.

    Examples
    --------
    >>> recipe = read_text("Leek soup\\nServes 4\\n\\n2 leeks\\n1 l water\\n\\nSlice the leeks.\\n\\nBoil them for ten minutes.")
    >>> recipe.title, recipe.makes.number, recipe.lines, len(recipe.steps)
    ('Leek soup', 4, ('2 leeks', '1 l water'), 2)
    """
    lines = _lines(text)
    pieces = _by_headings(lines) or _by_shape(lines)
    parts = part_lines([without_bullet(line) if not line.startswith("# ") else line for line in pieces.ingredients if line])
    steps = _steps(pieces.method)
    if not steps and not any(part.lines for part in parts):
        raise UnreadableRecipe(NO_RECIPE)
    head = [line for line in pieces.head if line]
    title = _title(head)
    facts = joined_labels([*head, *(line for line in pieces.rest if line)])
    address = next((found.group() for line in [*head, *pieces.rest] if (found := _ADDRESS.search(line))), "")
    summary = " ".join(line for line in head if line != title and not is_fact(line) and not _ADDRESS.search(line))
    left = [line for line in pieces.rest if line and not is_fact(line) and not kind_of(line)]
    doubts = tuple(f"Left out: “{line[:160]}{'…' if len(line) > 160 else ''}”" for line in left[:12])
    more = (f"And {len(left) - 12} more lines at the end.",) if len(left) > 12 else ()
    return ReadRecipe(
        title=title.strip("#* ").strip(),
        summary=summary[:2000],
        parts=parts,
        steps=steps,
        makes=yield_in(facts),
        times=times_in(facts),
        home_url=address,
        source="text",
        not_understood=doubts + more,
    )


def _lines(text: str) -> list[str]:
    """Return the lines of a text, with an empty one where there was a gap."""
    lines: list[str] = []
    for raw in text.replace("\r\n", "\n").replace("\r", "\n").split("\n")[: MOST_LINES * 3]:
        line = one_line(raw[:LONGEST_LINE])
        if line or (lines and lines[-1]):
            lines.append(line)
    return lines[:MOST_LINES]


def _title(head: list[str]) -> str:
    return next((line for line in head if not is_fact(line) and not kind_of(line) and not _ADDRESS.fullmatch(line)), "")


def _by_headings(lines: list[str]) -> _Pieces | None:
    """Return the pieces under the headings of a text, or None where it has neither that of ingredients nor that of a method."""
    kinds = [kind_of(line.strip("#* ")) for line in lines]
    if "ingredients" not in kinds:
        return None if "method" not in kinds else _with_method_alone(lines, kinds.index("method"))
    start = kinds.index("ingredients")
    pieces = _Pieces(lines[:start], [], [], [])
    now = pieces.ingredients
    places = {"ingredients": pieces.ingredients, "method": pieces.method, "after": pieces.rest}
    for line, kind in zip(lines[start + 1 :], kinds[start + 1 :], strict=True):
        if kind:
            now = places[kind]
        elif now is pieces.ingredients and is_fact(line):
            pieces.rest.append(line)
        else:
            now.append(line)
    if not pieces.method:
        shaped = _by_shape(pieces.ingredients, titled=False)
        pieces.ingredients, pieces.method = [*shaped.head, *shaped.ingredients], [*shaped.method, *shaped.rest]
    return pieces


def _with_method_alone(lines: list[str], start: int) -> _Pieces:
    before = _by_shape(lines[:start])
    after = next((place for place in range(start + 1, len(lines)) if kind_of(lines[place]) == "after"), len(lines))
    return _Pieces(before.head, [*before.ingredients, *before.method], lines[start + 1 : after], lines[after:])


def _by_shape(lines: list[str], *, titled: bool = True) -> _Pieces:
    """Return the pieces of a text without headings: the first run of lines with amounts, what stands before and after it."""
    first = next((place for place, line in enumerate(lines) if place >= titled and _is_ingredient(line)), None)
    if first is None:
        steps_at = next((place for place, line in enumerate(lines) if place >= titled and _MORE_STEPS.match(line)), len(lines))
        return _Pieces(lines[:steps_at], [], lines[steps_at:], [])
    if first and heading_in(lines[first - 1]) and first > 1:
        first -= 1
    end = first
    for place in range(first, len(lines)):
        if _is_ingredient(lines[place]) or heading_in(lines[place]) or not lines[place]:
            end = place + 1 if lines[place] else end
        elif not _short_word(lines[place]):
            break
        elif lines[place - 1] or any(map(_is_ingredient, lines[place + 1 : place + 3])):
            end = place + 1
        else:
            break
    while end > first and (not lines[end - 1] or heading_in(lines[end - 1])):
        end -= 1
    method = lines[end:]
    after = next((place for place, line in enumerate(method) if kind_of(line) == "after"), len(method))
    return _Pieces(lines[:first], lines[first:end], method[:after], method[after:])


def _is_ingredient(line: str) -> bool:
    """Say whether a line reads as an ingredient: a short one with an amount, that is no numbered step and no yield."""
    if not line or len(line) > 160 or is_fact(line):
        return False
    plain = without_bullet(line)
    # "Slice the leeks." is no slice of something.
    if _SENTENCE_END.search(plain) and (is_numbered(plain) or not any(map(str.isnumeric, plain))):
        return False
    read = parse_line(plain)
    if read.low is None:
        return read.to_taste or (bool(_BULLET.match(line)) and len(line) <= 80 and not _SENTENCE_END.search(line))
    return not (is_numbered(plain) and len(plain.split()) > 6) and not (_SENTENCE_END.search(plain) and len(plain.split()) > 12)


def _short_word(line: str) -> bool:
    """Say whether a line could be an ingredient without an amount: "salt", "a little oil"."""
    return len(line.split()) <= 6 and not _SENTENCE_END.search(line) and not is_numbered(line)


def _steps(lines: list[str]) -> tuple[ReadStep, ...]:
    """Return the steps: numbered ones, else paragraphs where blank lines part them, else lines."""
    while lines and not lines[-1]:
        lines = lines[:-1]
    while lines and not lines[0]:
        lines = lines[1:]
    if sum(map(is_numbered, lines)) >= 2:
        return read_steps("\n".join(line for line in lines if line))
    if "" not in lines:
        return read_steps([line for line in lines if line])
    joined: list[str] = [""]
    for line in lines:
        if not line or line.endswith(":"):
            joined += [line, ""] if line else [""]
        else:
            joined[-1] = f"{joined[-1]} {line}".strip()
    return read_steps([line for line in joined if line])
