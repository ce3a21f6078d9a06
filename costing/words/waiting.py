"""What of the costs waits for a cook, and what a recipe's card says in a line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from costing.domain.causes import Cause, printed
from costing.domain.quotes import STALE_AFTER
from costing.domain.sheet import ServingCost, Sheet
from costing.words.remarks import Language, sentence
from costing.words.sources import months_words, quote_words
from costing.words.sums import least_words, sum_words
from energy.words.figure_words import listed
from kitchen.domain.money import format_money

_MOST_FOODS = 4


def headline_sum(sheet: Sheet, language: Language) -> str:
    """Return the cost of one serving; where something is missing rounded down, and the words beside it say "at least"."""
    less, more = (sheet.per_serving_of(off) for off in sheet.electricity.off)
    amount, currency = sheet.per_serving, sheet.facts.currency
    if sheet.at_least:
        return least_words(amount - less, currency)
    return sum_words(amount, currency, language, off=(less, more))


def opening_words(sheet: Sheet, language: Language) -> str:
    """Return the cost in all, for so many servings; nothing while nothing has a price."""
    if not sheet.lines:
        return ""
    total = sum_words(sheet.total, sheet.facts.currency, language, at_least=sheet.at_least)
    return sentence(language, "cost_in_all", total=total, servings=sheet.servings)


def brief_words(sheet: Sheet, language: Language) -> str:
    """Return the same in the few words that there is room for on the shelf."""
    return sentence(language, "brief_at_least" if sheet.at_least else "brief")


def headline_words(sheet: Sheet, language: Language) -> str:
    """Return what stands beside the cost of one serving: what it lacks, what is estimated, and the months of its prices."""
    estimated = sheet.electricity.estimated and sheet.electricity.cost
    energy = sentence(language, "energy_estimated") if estimated else ""
    code = "headline_at_least" if sheet.at_least else "headline"
    return sentence(language, code, energy=energy, months=months_words(sheet.facts, language))


def priced_words(priced: int, lines: int, language: Language) -> str:
    """Return how many lines of a recipe have a price.

    Examples
    --------
    >>> from costing.words import ENGLISH
    >>> priced_words(7, 8, ENGLISH), priced_words(0, 0, ENGLISH)
    ('7 of 8 lines have a price', '')
    """
    return sentence(language, "lines_priced", priced=priced, lines=lines) if lines else ""


def unpriced_yet_words(lines: int, language: Language) -> str:
    """Return how many lines of a recipe lack a price; nothing where none does.

    Examples
    --------
    >>> from costing.words import ENGLISH
    >>> unpriced_yet_words(1, ENGLISH), unpriced_yet_words(3, ENGLISH), unpriced_yet_words(0, ENGLISH)
    ('1 line has no price yet', '3 lines have no price yet', '')
    """
    return sentence(language, "line_unpriced_yet" if lines == 1 else "lines_unpriced_yet", lines=lines) if lines else ""


def unpriced_words(recipe: str, lines: int, language: Language) -> str:
    """Return how many lines of a named recipe lack a price.

    Examples
    --------
    >>> from costing.words import ENGLISH
    >>> unpriced_words("Lentil stew", 1, ENGLISH), unpriced_words("Lentil stew", 2, ENGLISH)
    ('Lentil stew: 1 line has no price.', 'Lentil stew: 2 lines have no price.')
    """
    return sentence(language, "line_unpriced" if lines == 1 else "lines_unpriced", recipe=recipe, lines=lines)


def changed_words(
    recipe: str, edition: int, each: tuple[ServingCost | None, ServingCost], why: Sequence[Cause], language: Language
) -> str:
    """Return what the ingredients of a serving cost in an edition, what they cost now, and which price moved most."""
    then, now = each
    before = sentence(language, "no_cost") if then is None else _serving_cost(then, language)
    said = {"recipe": recipe, "edition": edition, "then": before, "now": _serving_cost(now, language)}
    moved = cause_words(why, now.currency, language)[:2]
    if not moved:
        return sentence(language, "prices_changed", **said)
    return sentence(language, "prices_changed_by", **said, moved=listed(moved, language))


@dataclass(frozen=True)
class MovedWords:
    """What a serving cost then and costs now, by how much that differs, and its causes."""

    then: str
    now: str
    moved: str
    causes: tuple[str, ...]


def moved_words(then: ServingCost, now: ServingCost, why: Sequence[Cause], language: Language) -> MovedWords:
    """Return why a serving costs another sum, in whole coins that add up to the difference of the two printed sums.

    Examples
    --------
    >>> from costing.words import ENGLISH
    >>> costs = [ServingCost(Fraction(each), "EUR", at_least=False) for each in ("1.004", "1.006")]
    >>> moved_words(*costs, [Cause("yield", "onion", Fraction("0.002"))], ENGLISH).causes
    ('onion, its yield: €0.01 more',)
    """
    currency, difference = now.currency, Fraction(now.printed[0]) - Fraction(then.printed[0])
    told = tuple(_cause(cause, each, currency, language) for cause, each in printed(why, currency, difference))
    moved = _more_or_less(difference, currency, language) if why else sentence(language, "no_difference")
    return MovedWords(_serving_cost(then, language), _serving_cost(now, language), moved, told)


def cause_words(why: Sequence[Cause], currency: str, language: Language) -> list[str]:
    """Return why a serving costs another sum, cause by cause, in whole coins that add up.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from costing.words import ENGLISH
    >>> cause_words([Cause("yield", "onion", Fraction(3, 100))], "EUR", ENGLISH)
    ['onion, its yield: €0.03 more']
    """
    return [_cause(cause, each, currency, language) for cause, each in printed(why, currency)]


def _cause(cause: Cause, each: Fraction, currency: str, language: Language) -> str:
    known = "" if cause.kind not in ("line", "coverage", "electricity") else "_new" if cause.each > 0 else "_gone"
    moved = _more_or_less(each, currency, language)
    return sentence(language, f"cause_{cause.kind}{known}", what=cause.what, moved=moved, **_quotes(cause, currency, language))


def _quotes(cause: Cause, currency: str, language: Language) -> dict[str, str]:
    told = {"before": cause.before, "after": cause.after}
    return {name: "" if quote is None else quote_words(quote, currency, language) for name, quote in told.items()}


def _more_or_less(each: Fraction, currency: str, language: Language) -> str:
    code = "more" if each > 0 else "less" if each else "under_a_coin"
    return sentence(language, code, amount=format_money(abs(each), currency))


def stale_words(foods: Sequence[str], language: Language) -> str:
    """Return the foods whose prices are too old: the first few, and how many more.

    Examples
    --------
    >>> from costing.words import ENGLISH
    >>> stale_words(["cumin", "oil", "onion", "rice", "salt"], ENGLISH)
    'Prices older than 180 days: cumin, oil, onion and 2 more.'
    """
    named = list(foods) if len(foods) <= _MOST_FOODS else [*foods[:3], sentence(language, "more_foods", more=len(foods) - 3)]
    return sentence(language, "prices_stale", days=STALE_AFTER.days, foods=listed(named, language))


def _serving_cost(cost: ServingCost, language: Language) -> str:
    return sum_words(cost.amount, cost.currency, language, at_least=cost.at_least)
