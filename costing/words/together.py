"""What several recipes cost together, and what the sum lacks, in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from costing.domain.electricity import Off
from costing.domain.sheet import Sheet
from costing.words.remarks import Language, sentence, words_of
from costing.words.sums import sum_words
from energy.words.figure_words import listed

_MOST_NAMED = 5

Titled = Sequence[tuple[str, Sheet | None]]
"""Recipes by their titles, each with its sheet; None where its edition has no costs."""


def added(sheets: Titled, currency: str) -> list[Sheet]:
    """Return the sheets that add up: those with a price, in one currency."""
    return [sheet for _, sheet in sheets if sheet is not None and sheet.lines and sheet.facts.currency == currency]


def total_of(sheets: Sequence[Sheet]) -> tuple[Fraction, Off]:
    """Return the exact sum, and by what it may be less, and more: what makes one dear makes the others dear."""
    off = [sheet.electricity.off for sheet in sheets]
    total = sum((sheet.total for sheet in sheets), Fraction(0))
    return total, (sum((one[0] for one in off), Fraction(0)), sum((one[1] for one in off), Fraction(0)))


def cost_together_words(sheets: Titled, currency: str, language: Language, *, at_least: bool) -> str:
    """Return what all of it costs, "at least" where something is missing."""
    total, off = total_of(added(sheets, currency))
    return sum_words(total, currency, language, at_least=at_least, off=off)


def lacking_words(sheets: Titled, currency: str, language: Language) -> list[str]:
    """Return what the sum lacks and of which recipe, a sentence each; empty where it is whole."""
    return list(dict.fromkeys(words for title, sheet in sheets for words in _lacks(title, sheet, currency, language)))


def _lacks(title: str, sheet: Sheet | None, currency: str, language: Language) -> Iterable[str]:
    if sheet is None or not sheet.lines:
        yield sentence(language, "together_uncosted", title=title)
    elif sheet.facts.currency != currency:
        yield sentence(language, "together_in_currency", title=title, own=sheet.facts.currency, currency=currency)
    else:
        missing = [words_of(gap.words, language) for gap in sheet.left_out]
        more = len(missing) - _MOST_NAMED
        named = missing if more <= 0 else [*missing[:_MOST_NAMED], sentence(language, "more_foods", more=more)]
        if named:
            yield sentence(language, "together_lacks", title=title, what=listed(named, language))
        if sheet.electricity.at_least:
            yield sentence(language, "together_energy_open", title=title)
