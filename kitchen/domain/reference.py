"""The reference table: composition and household weights of common foods."""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from typing import Any

from kitchen.domain import record
from kitchen.domain.archive import FoodDocument
from kitchen.domain.facts import FoodFacts, WeightFacts


@dataclass(frozen=True)
class ReferenceFood(FoodDocument):
    """One row: per 100 g edible, as sold; the names are our own, the SR number says which row of the source it is."""

    remark: str = ""

    def facts(self) -> FoodFacts:
        """Return the few properties that scaling and conversion need."""
        return record.taken(FoodFacts, self)


_LISTS = frozenset({"aliases", "allergens"})
_TEXTS = frozenset({"name", "aisle", "each_name", "refuse_words", "remark"})


def read_rows(lines: Iterable[str], weights: Mapping[int, tuple[WeightFacts, ...]] | None = None) -> Iterable[ReferenceFood]:
    """Yield the rows of a reference table in CSV, each with its further household weights.

    Raises
    ------
    ValueError
        If a number cannot be read; the message names the row and the column.
    """
    for row in csv.DictReader(lines):
        cells = {field.name: _cell(row, field.name) for field in fields(ReferenceFood) if field.name != "weights"}
        yield ReferenceFood(**cells, weights=(weights or {}).get(cells["sr_number"], ()))


def read_weights(lines: Iterable[str]) -> dict[int, tuple[WeightFacts, ...]]:
    """Return the further household weights in CSV, by the SR number of the food.

    Examples
    --------
    >>> read_weights(["sr_number,name,unit,words,g", "11282,onion,cup,chopped,160"])
    {11282: (WeightFacts(unit='cup', g=160.0, words='chopped'),)}
    """
    found: defaultdict[int, list[WeightFacts]] = defaultdict(list)
    for row in csv.DictReader(lines):
        found[int(row["sr_number"])].append(WeightFacts(row["unit"], float(row["g"]), row["words"]))
    return {number: tuple(of_food) for number, of_food in found.items()}


def _cell(row: dict[str, str], column: str) -> Any:
    text = (row.get(column) or "").strip()
    if column in _LISTS:
        return tuple(part.strip() for part in text.split(";") if part.strip())
    if column in _TEXTS:
        return text
    if not text:
        return None
    try:
        return int(text) if column == "sr_number" else float(text)
    except ValueError as error:
        raise ValueError(f"row “{row.get('name')}”, column {column}: “{text}” is not a number") from error
