"""How a serving's cost moves with a price, in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from costing.domain.moving import STEP, Pull
from costing.domain.sheet import Sheet
from costing.words.remarks import Language, sentence
from costing.words.sums import sum_words
from kitchen.domain.money import round_half_up


@dataclass(frozen=True)
class PullRow:
    """One price: what it is of, by how much a serving moves with a tenth of it, and how much of the cost that is"""

    food: str
    each: str
    share: str


def pull_rows(sheet: Sheet, found: Sequence[Pull], language: Language) -> list[PullRow]:
    """Return the prices with what a tenth of each makes of a serving, the strongest first."""
    tenth = sheet.per_serving * STEP or 1
    electricity = sentence(language, "electricity")
    rows = []
    for pull in found:
        share_pct = round_half_up(100 * pull.each / tenth, 0)
        share = sentence(language, "percent" if share_pct else "under_one_percent", share_pct=share_pct)
        rows.append(PullRow(pull.food or electricity, sum_words(pull.each, sheet.facts.currency, language), share))
    return rows
