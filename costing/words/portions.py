"""What portions cost that were really served, in words."""

from __future__ import annotations

from collections.abc import Sequence

from costing.domain.portions import ServedCost, ServedRun, served_cost
from costing.domain.sheet import Sheet
from costing.words.remarks import Language, sentence
from costing.words.sums import sum_words
from kitchen.domain.amounts import format_amount


def served_words(runs: Sequence[tuple[ServedRun, Sheet]], language: Language) -> list[str]:
    """Return a sentence for each cook whose portions were told."""
    told = [(run, sheet, served_cost(sheet.total, run.made, run.served, run.left, run.thrown)) for run, sheet in runs]
    return [
        sentence(language, "served_too_many", day=run.day, made=run.made) if cost.open < 0 else _words(run, sheet, cost, language)
        for run, sheet, cost in told
        if cost is not None
    ]


def _words(run: ServedRun, sheet: Sheet, cost: ServedCost, language: Language) -> str:
    currency, at_least = sheet.facts.currency, sheet.at_least
    said = sentence(
        language,
        "served_cost",
        day=run.day,
        made=run.made,
        served=format_amount(run.served),
        each=sum_words(cost.each, currency, language, at_least=at_least),
        as_made=sum_words(sheet.per_serving, currency, language, at_least=at_least),
    )
    more = [
        sentence(language, code, portions=format_amount(portions), cost=sum_words(worth, currency, language, at_least=at_least))
        for code, portions, worth in (
            ("served_left", run.left, sheet.per_serving * run.left),
            ("served_thrown", run.thrown, cost.thrown),
            ("served_open", cost.open, sheet.per_serving * cost.open),
        )
        if portions
    ]
    return " ".join([said, *more])
