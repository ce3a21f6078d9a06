"""How lines read: what the bench shows beside the cook's own words, whether they are saved already or not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kitchen.domain import record
from kitchen.domain.amounts import format_range
from kitchen.domain.draft import DraftPart
from kitchen.domain.reading import LineReading, read_line
from kitchen.domain.units import label_of
from kitchen.models import Line, Revision
from kitchen.queries.bench import known_foods
from kitchen.queries.site import the_site

READ_FIELDS = ("low", "high", "unit", "name", "note", "size", "rule", "optional", "to_taste", "food", "sure")


@dataclass(frozen=True)
class ReadRow:
    """One line beside how it was read; ``number`` is the saved line's, None while the line is not saved."""

    number: int | None
    text: str
    amount: str
    unit: str
    name: str
    food: str
    note: str
    rule: str
    corrected: bool


@dataclass(frozen=True)
class ReadPart:
    """One part of the ingredients as read."""

    title: str
    rows: tuple[ReadRow, ...]


def take_reading(line: Line, reading: LineReading) -> Line:
    """Put a reading onto a line (not saved yet) and return the line."""
    for name in READ_FIELDS:
        setattr(line, name, getattr(reading, name))
    line.also = record.write(reading.also)
    return line


def rows_of(revision: Revision) -> list[ReadPart]:
    """Return how a revision's saved lines read (its rows fetched along, as ``newest_revision`` does)."""
    return [ReadPart(part.title, tuple(row_of(line) for line in part.lines.all())) for part in revision.parts.all()]


def rows_as_typed(parts: Sequence[DraftPart]) -> list[ReadPart]:
    """Return how lines would read that are not saved yet. Two queries."""
    foods, home = known_foods(), the_site().measures
    return [
        ReadPart(part.title, tuple(row_of(take_reading(Line(text=text), read_line(text, foods, home))) for text in part.lines))
        for part in parts
    ]


def row_of(line: Line) -> ReadRow:
    """Return one line as the bench shows it."""
    flags = [words for words, holds in (("to taste", line.to_taste), ("optional", line.optional)) if holds]
    return ReadRow(
        number=line.pk,
        text=line.text,
        amount="" if line.low is None or line.high is None else format_range(line.low, line.high),
        unit=label_of(line.unit, line.high) if line.unit and line.high is not None else line.unit,
        name=line.name,
        food=line.food.name if line.food is not None else "",
        note=", ".join(filter(None, [line.size, line.note, *flags])),
        rule=line.get_rule_display(),
        corrected=line.corrected,
    )
