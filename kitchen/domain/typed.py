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

HEAD_FIELDS = ("title", "summary", "servings", "serving_g", "tags", "drawing", "home_url", "note", "pasted_steps")
PART_FIELDS = ("title", "lines")
STEP_FIELDS = ("text", "stage", "minutes", "temp_c", "photo")
MOST_PASTED_STEPS = 200
_MOST_ROWS = 600  # a browser's page of more rows has more fields than one request may carry

_ROW_FIELD = re.compile(r"(part|step)-([0-9]{1,4})-([a-z_]+)\Z")
_STEP_NUMBER = re.compile(r"\A\s*(?:step\s*)?[0-9]{1,2}\s*[.):]\s+", re.IGNORECASE)
_BLANK_LINE = re.compile(r"\n[ \t]*\n")

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
        """Return the draft with an empty step at the end, of the last step's stage."""
        stage = self.steps[-1]["stage"] if self.steps else ""
        return replace(self, steps=(*self.steps, {**dict.fromkeys(STEP_FIELDS, ""), "stage": stage}))

    def without_step(self, index: int) -> TypedDraft:
        """Return the draft without one step; an index that is not there changes nothing."""
        return replace(self, steps=tuple(step for place, step in enumerate(self.steps) if place != index))

    def with_step_moved(self, index: int, by: int) -> TypedDraft:
        """Return the draft with one step moved up (-1) or down (+1); nothing moves past an end."""
        target = index + by
        if not (0 <= index < len(self.steps) and 0 <= target < len(self.steps)):
            return self
        steps = list(self.steps)
        steps.insert(target, steps.pop(index))
        return replace(self, steps=tuple(steps))

    def with_pasted_steps(self) -> TypedDraft:
        """Return the draft with the pasted text turned into steps after those that hold text; the paste field is empty then.

        More than 200 steps stay in the paste field, whose form says so: a page of thousands of fields helps nobody.
        """
        texts = split_steps(self.head.get("pasted_steps", ""))
        if not 0 < len(texts) <= MOST_PASTED_STEPS:
            return self
        pasted = [{**dict.fromkeys(STEP_FIELDS, ""), "text": text} for text in texts]
        return replace(self, head={**self.head, "pasted_steps": ""}, steps=(*self.written_steps(), *pasted))

    def written_steps(self) -> tuple[Row, ...]:
        """Return the steps in which anything was written: a stage alone is only what a new row starts with."""
        return tuple(step for step in self.steps if step["text"].strip() or step["minutes"].strip() or step["temp_c"].strip())

    def size(self) -> int:
        """Return how many characters were typed in all."""
        return sum(len(value) for value in self.as_fields().values())


def split_steps(text: str) -> list[str]:
    """Return pasted text as steps: one for each paragraph where blank lines part them, else one for each line.

    Numbers at the start ("1.", "2)", "Step 3:") are taken off.

    Examples
    --------
    >>> split_steps("1. Chop the onion.\\n2. Fry it.")
    ['Chop the onion.', 'Fry it.']
    >>> split_steps("Chop\\nthe onion.\\n\\nFry it.")
    ['Chop the onion.', 'Fry it.']
    """
    text = _plain(text).strip()
    pieces = _BLANK_LINE.split(text) if _BLANK_LINE.search(text) else text.split("\n")
    joined = (" ".join(line.strip() for line in piece.split("\n") if line.strip()) for piece in pieces)
    return [step for step in (_STEP_NUMBER.sub("", piece) for piece in joined) if step]


def _rows(found: Mapping[int, Mapping[str, str]], names: Sequence[str]) -> tuple[Row, ...]:
    return tuple({name: found[number].get(name, "") for name in names} for number in sorted(found)[:_MOST_ROWS])


def _plain(value: Any) -> str:
    """Return text with one kind of line end and without the null characters that a database refuses."""
    return str(value).replace("\r\n", "\n").replace("\r", "\n").replace("\x00", "")
