"""The recipe editor's page as typed: plain strings that may still be nonsense, and what its buttons do to them.

An editor's fields travel as one flat mapping of names to strings: ``title``, ``servings`` ..., ``part-0-title``,
``part-0-lines``, ``step-0-text``, ``step-0-minutes`` ... The same mapping is what a form posts and what a draft keeps when it
cannot be saved yet, so that a closed tab loses nothing.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from kitchen.domain.draft import RECIPE_WORDS
from kitchen.domain.step_words import read_step

HEAD_FIELDS = (*RECIPE_WORDS, "servings", "serving_g", "note", "pasted_steps")
PART_FIELDS = ("title", "lines")
STEP_FIELDS = ("text", "stage", "minutes", "temp_c", "photo", "read")
"""``read`` is not empty once a step's words were read into its empty fields: what is empty from then on, its cook left empty."""

_READ_FIELDS = ("stage", "minutes", "temp_c")
MOST_PASTED_STEPS = 200
_MOST_ROWS = 600  # a browser's page of more rows has more fields than one request may carry

_ROW_FIELD = re.compile(r"(part|step)-([0-9]{1,4})-([a-z_]+)\Z")
_STEP_MARK = re.compile(
    r"\A\s*(?:(?:step\s*)?[0-9]{1,2}\s*[.):](?:\s+|\Z)|step\s*[0-9]{1,2}\s*\Z|[-*\u2022\u2013]\s+)", re.IGNORECASE
)

Row = Mapping[str, str]


@dataclass(frozen=True)
class TypedDraft:
    """The editor's fields: the head's by name, then one mapping for each part and each step."""

    head: Row = field(default_factory=dict)
    parts: tuple[Row, ...] = ()
    steps: tuple[Row, ...] = ()

    @classmethod
    def from_fields(cls, fields: Mapping[str, Any]) -> TypedDraft:
        """Return the draft in a flat mapping; rows come in the order of their numbers, unknown names are ignored.

        Examples
        --------
        >>> TypedDraft.from_fields({"title": "Soup", "step-4-text": "Stir.", "step-2-text": "Chop."}).steps[0]["text"]
        'Chop.'
        """
        rows: dict[str, dict[int, dict[str, str]]] = {"part": {}, "step": {}}
        for name, value in fields.items():
            match = _ROW_FIELD.match(name)
            if match:
                rows[match[1]].setdefault(int(match[2]), {})[match[3]] = _plain(value)
        head = {name: _plain(fields[name]) for name in HEAD_FIELDS if name in fields}
        return cls(head, _rows(rows["part"], PART_FIELDS), _rows(rows["step"], STEP_FIELDS))

    def as_fields(self) -> dict[str, str]:
        """Return the flat mapping; rows are numbered from 0 without gaps."""
        fields = dict(self.head)
        for kind, rows in (("part", self.parts), ("step", self.steps)):
            for number, row in enumerate(rows):
                fields.update({f"{kind}-{number}-{name}": value for name, value in row.items()})
        return fields

    def with_part(self) -> TypedDraft:
        """Return the draft with an empty part at the end."""
        return replace(self, parts=(*self.parts, dict.fromkeys(PART_FIELDS, "")))

    def with_step(self) -> TypedDraft:
        """Return the draft with an empty step at the end."""
        return replace(self, steps=(*self.steps, dict.fromkeys(STEP_FIELDS, "")))

    def rows(self, kind: str) -> tuple[Row, ...]:
        """Return the rows of a kind: ``part`` or ``step``."""
        return self.parts if kind == "part" else self.steps

    def without_row(self, kind: str, index: int) -> TypedDraft:
        """Return the draft without one part or step; an index that is not there changes nothing."""
        return self._with(kind, [row for place, row in enumerate(self.rows(kind)) if place != index])

    def with_row(self, kind: str, index: int, row: Mapping[str, str]) -> TypedDraft:
        """Return the draft with one more part or step at a place, at the end where that is further down."""
        names = PART_FIELDS if kind == "part" else STEP_FIELDS
        rows = list(self.rows(kind))
        rows.insert(index, {name: row.get(name, "") for name in names})
        return self._with(kind, rows)

    def with_row_moved(self, kind: str, index: int, target: int) -> TypedDraft:
        """Return the draft with one part or step moved to another place; nothing moves past an end."""
        rows = list(self.rows(kind))
        if not (0 <= index < len(rows) and 0 <= target < len(rows)):
            return self
        rows.insert(target, rows.pop(index))
        return self._with(kind, rows)

    def _with(self, kind: str, rows: Sequence[Row]) -> TypedDraft:
        return replace(self, parts=tuple(rows)) if kind == "part" else replace(self, steps=tuple(rows))

    def with_pasted_steps(self) -> TypedDraft:
        """Return the draft with the pasted text turned into steps after those that hold text; the paste field is empty then.

        More than 200 steps stay in the paste field, whose form says so: a page of thousands of fields helps nobody.
        """
        texts = split_steps(self.head.get("pasted_steps", ""))
        if not 0 < len(texts) <= MOST_PASTED_STEPS:
            return self
        pasted = [{**dict.fromkeys(STEP_FIELDS, ""), "text": text} for text in texts]
        return replace(self, head={**self.head, "pasted_steps": ""}, steps=(*self.written_steps(), *pasted))

    def with_readings(self) -> TypedDraft:
        """Return the draft with the words of each new step read into its empty fields; what was typed stays."""
        return replace(
            self, steps=tuple(step if step.get("read") or not step["text"].strip() else as_read(step) for step in self.steps)
        )

    def with_reading(self, index: int) -> TypedDraft:
        """Return the draft with the words of one step read into its empty fields; an index that is not there changes nothing."""
        return replace(self, steps=tuple(as_read(step) if place == index else step for place, step in enumerate(self.steps)))

    def written_steps(self) -> tuple[Row, ...]:
        """Return the steps in which anything was written: a stage alone is only what a new row starts with."""
        return tuple(step for step in self.steps if step["text"].strip() or step["minutes"].strip() or step["temp_c"].strip())

    def size(self) -> int:
        """Return how many characters were typed in all."""
        return sum(len(value) for value in self.as_fields().values())


def proposed(step: Row) -> Row:
    """Return what a step's words say for those of its fields that are empty.

    Examples
    --------
    >>> proposed({"text": "Simmer for 20 minutes.", "stage": "", "minutes": "25", "temp_c": ""})
    {'stage': 'hold'}
    """
    found = read_step(step["text"])
    degrees, minutes = ("" if one is None else f"{one.normalize():f}" for one in (found.temp_c, found.minutes))
    said = {"stage": found.stage, "minutes": minutes, "temp_c": degrees}
    return {name: said[name] for name in _READ_FIELDS if said[name] and not step[name].strip()}


def as_read(step: Row) -> Row:
    """Return a step with its words read into its empty fields."""
    return {**step, **proposed(step), "read": "1"}


def split_steps(text: str) -> list[str]:
    """Return pasted text as steps.

    A number at the start of a line ("1.", "2)", "Step 3:"), a bullet, or a blank line begins a step; where there is none of
    these, every line is one. Numbers, bullets and lines that say only "Step 3" are taken off; broken lines are joined.

    Examples
    --------
    >>> split_steps("1. Chop the onion.\\n2. Fry it\\nuntil brown.")
    ['Chop the onion.', 'Fry it until brown.']
    >>> split_steps("Chop\\nthe onion.\\n\\nFry it.")
    ['Chop the onion.', 'Fry it.']
    >>> split_steps("Step 1\\nChop the onion.\\nStep 2\\nFry it.")
    ['Chop the onion.', 'Fry it.']
    """
    lines = _plain(text).strip().split("\n")
    marked = any(_STEP_MARK.match(line) for line in lines)
    each = not marked and all(line.strip() for line in lines)
    steps: list[list[str]] = [[]]
    for line in lines:
        if each or not line.strip() or _STEP_MARK.match(line):
            steps.append([])
        steps[-1].append(_STEP_MARK.sub("", line).strip())
    joined = (" ".join(filter(None, step)) for step in steps)
    return [step for step in joined if step]


def _rows(found: Mapping[int, Mapping[str, str]], names: Sequence[str]) -> tuple[Row, ...]:
    return tuple({name: found[number].get(name, "") for name in names} for number in sorted(found)[:_MOST_ROWS])


def _plain(value: Any) -> str:
    """Return text with one kind of line end and without the null characters that a database refuses."""
    return str(value).replace("\r\n", "\n").replace("\r", "\n").replace("\x00", "")
