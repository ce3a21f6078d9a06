"""A recipe's method, in any of the shapes that data gives it, as steps with the names of their sections."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from kitchen.importers.asides import is_aside_line
from kitchen.importers.found import ReadStep
from kitchen.importers.headings import kind_of
from kitchen.importers.properties import MOST_DEEP, first_of, listed, properties, texts, types_of
from kitchen.importers.wording import has_items, is_numbered, lines_of, without_bullet, without_number

MOST_STEPS = 500
_GENERIC = re.compile(
    r"(?:step|stage|direction|instruction|method|preparation|how\s*to|part)s?\s*#?\s*\d*\s*[.:]?"
    r"|recipe\s+(?:instructions?|steps?)|\d+\s*[.:)]?",
    re.IGNORECASE,
)
_INLINE_NUMBER = re.compile(r"(?:(?<=[.!?)\]])\s*|(?<=\s)|^)(?P<number>\d{1,2})\s?[.)](?=\s?[A-Z¡¿À-Þ])\s*")
_STEP_WORD = re.compile(r"(?:(?<=[.!?)])\s*|^)step\s+(?P<number>\d{1,2})\s*[.:–-]?\s*", re.IGNORECASE)
_LISTS = ("itemlistelement", "itemlistelements", "itemlist", "steps", "step", "recipeinstructions", "instructions", "item")
_TEXTS = ("text", "description", "direction", "instruction", "@value", "articlebody")
_NAMES = ("name", "headline", "title")
_SECTION_TYPES = frozenset(("howtosection", "itemlist", "howto"))


def read_steps(value: Any) -> tuple[ReadStep, ...]:
    """Return the steps of a method.

    Examples
    --------
    >>> [step.text for step in read_steps("1. Chop the onion. 2. Fry it.")]
    ['Chop the onion.', 'Fry it.']
    >>> read_steps([{"@type": "HowToSection", "name": "Sauce", "itemListElement": [{"@type": "HowToStep", "text": "Stir."}]}])
    (ReadStep(text='Stir.', name='', section='Sauce'),)
    """
    found = _steps(value, "", 0)
    if len(found) == 1 and not found[0].section:
        parted = _of_text(_only_text(value) or found[0].text, "")
        found = parted if len(parted) > 1 else found
    return _once_only(tuple(_without_count([step for step in found if not is_aside_line(step.text)])[:MOST_STEPS]))


_COUNT = re.compile(r"[(\[]?(?P<number>\d{1,2})[)\]]?[.:]?\s+(?=\S)")


def _without_count(steps: list[ReadStep]) -> list[ReadStep]:
    """Return steps without numbers before them that count them all: "(1) Chop", "1 Chop"."""
    counts = [_COUNT.match(step.text) for step in steps]
    if len(steps) < 2 or any(found is None or int(found["number"]) != place for place, found in enumerate(counts, 1)):
        return steps
    return [replace(step, text=_COUNT.sub("", step.text, count=1)) for step in steps]


def _only_text(value: Any) -> str:
    """Return the text of a method that came as one node, with the lines that it has."""
    nodes = list(listed(value))
    said = first_of(properties(nodes[0]), _TEXTS) if len(nodes) == 1 and isinstance(nodes[0], Mapping) else None
    return said if isinstance(said, str) else ""


def _once_only(steps: tuple[ReadStep, ...]) -> tuple[ReadStep, ...]:
    half = len(steps) // 2
    return steps[:half] if half >= 2 and [s.text for s in steps[:half]] == [s.text for s in steps[half:]] else steps


def _steps(value: Any, section: str, depth: int) -> list[ReadStep]:
    if isinstance(value, Mapping):
        return _of_node(value, section, depth)
    if isinstance(value, str):
        return _of_text(value, section)
    if not isinstance(value, list | tuple) or depth > MOST_DEEP:
        return []
    if len(value) == 1:
        return _steps(value[0], section, depth + 1)
    found: list[ReadStep] = []
    for each in value[: MOST_STEPS * 2]:
        if isinstance(each, str) and not has_items(each):
            step, section = _of_item(each, section)
            found += step
        elif isinstance(each, Mapping | list | tuple | str):
            found += _steps(each, section, depth + 1)
    return found


def _of_item(text: str, section: str) -> tuple[list[ReadStep], str]:
    """Return one text of a list as its step, and the section that the next one stands in: a heading opens another."""
    line = without_number(without_bullet(" ".join(lines_of(text))))
    if not line or _GENERIC.fullmatch(line):
        return [], section
    heading = section_in(line)
    return ([], heading) if heading else ([ReadStep(line, section=section)], section)


def section_in(line: str) -> str:
    """Return the heading in a line that is nothing else: short, and with a colon at its end."""
    return line.rstrip(": ") if line.endswith(":") and len(line) <= 60 and "." not in line else ""


def _of_text(text: str, section: str) -> list[ReadStep]:
    """Return the steps of a text: by its blocks and lines, else by the numbers that run through it."""
    lines = under_own_heading(lines_of(text))
    if len(lines) == 1:
        lines = by_numbers(lines[0])
    elif any(map(is_numbered, lines)):
        lines = joined_by_number(lines)
    found: list[ReadStep] = []
    for line in lines:
        step, section = _of_item(line, section)
        found += step
    return found


def under_own_heading(lines: list[str]) -> list[str]:
    """Return lines without the heading of the method, and without what follows it: notes, tips, comments."""
    kinds = [kind_of(line) for line in lines]
    end = next((place for place, kind in enumerate(kinds) if kind == "after" and place > 1), len(lines))
    own = [line for line, kind in zip(lines[:end], kinds[:end], strict=True) if line and (kind != "method" or len(lines) == 1)]
    return [line for line in own if not is_aside_line(line)]


def joined_by_number(lines: list[str]) -> list[str]:
    """Return lines with what follows a numbered one joined to it, where most of a method is numbered; else as they are."""
    numbered = sum(map(is_numbered, lines))
    if numbered < 2 or not is_numbered(lines[0]):
        return lines
    joined: list[str] = []
    for line in lines:
        if is_numbered(line) or section_in(line) or not joined or section_in(joined[-1]):
            joined.append(line)
        else:
            joined[-1] = f"{joined[-1]}{'.' if joined[-1].isdigit() else ''} {line}"
    return joined


def by_numbers(line: str) -> list[str]:
    """Return a text parted where numbers 1, 2, 3 ... run through it; whole where none do.

    Examples
    --------
    >>> by_numbers("1. Heat oil to 180. 2. Fry 3. Drain on paper.")
    ['1. Heat oil to 180.', '2. Fry', '3. Drain on paper.']
    >>> by_numbers("Add 2. Stir well.")
    ['Add 2. Stir well.']
    """
    for pattern in (_STEP_WORD, _INLINE_NUMBER):
        starts, wanted = [], 1
        for found in pattern.finditer(line):
            if int(found["number"]) == wanted:
                starts.append(found.start())
                wanted += 1
        if len(starts) >= 2 and starts[0] <= 2:
            ends = [*starts[1:], len(line)]
            return [line[start:end].strip() for start, end in zip(starts, ends, strict=True)]
    return [line]


def _of_node(node: Mapping[str, Any], section: str, depth: int) -> list[ReadStep]:
    """Return the steps of a node: a section's under its name, a step's directions joined, a plain step."""
    if depth > MOST_DEEP:
        return []
    held, types = properties(node), types_of(node)
    name = " ".join(texts(first_of(held, _NAMES))[:1])
    said = first_of(held, _TEXTS)
    inner = first_of(held, _LISTS)
    if inner is not None and (types & _SECTION_TYPES or not types & {"howtostep"}):
        own = "" if _GENERIC.fullmatch(name) else name.rstrip(": ")
        steps = _steps(inner, own or section, depth + 1)
        lead = _of_text(said, own or section) if isinstance(said, str) and not steps else []
        return lead + steps
    if inner is not None and not said:
        return _joined(_steps(inner, section, depth + 1), name, section)
    if types & _SECTION_TYPES and isinstance(said, str):
        return _of_text(said, "" if _GENERIC.fullmatch(name) else name.rstrip(": ") or section)
    return _step(said, name, section)


def _joined(steps: list[ReadStep], name: str, section: str) -> list[ReadStep]:
    """Return a step whose directions and tips stand in a list of their own."""
    text = " ".join(step.text for step in steps)
    return [ReadStep(text, _own_name(name, text), section)] if text else _step("", name, section)


def _step(said: Any, name: str, section: str) -> list[ReadStep]:
    if isinstance(said, str) and has_items(said):
        return [replace(step, section=step.section or section) for step in _of_text(said, section)]
    lines = texts(said) if not isinstance(said, str) else lines_of(said)
    text = without_number(without_bullet(" ".join(lines)))
    if not text and name and not _GENERIC.fullmatch(name):
        return [ReadStep(without_number(name), section=section)]
    return [ReadStep(text, _own_name(name, text), section)] if text else []


def _own_name(name: str, text: str) -> str:
    """Return a step's name where it says something that the text does not begin with."""
    plain = name.rstrip(".…: ").lower()
    if not plain or len(name) > 80 or _GENERIC.fullmatch(name) or plain in text.lower():
        return ""
    return without_number(name).rstrip(". :")
