"""The words of a cost sheet: sums with their currency, amounts to buy, packs, days and the sentences around them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction

from costing.domain.facts import CostFacts, CostLine, QuoteFacts
from costing.domain.packs import pack_words
from costing.domain.sheet import PricedLine, Sheet
from kitchen.domain.money import format_money, places_of, round_half_up
from kitchen.domain.units import label_of

_NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]


def day_words(day: date) -> str:
    """Return a day as it is written on paper.

    Examples
    --------
    >>> day_words(date(2026, 10, 4))
    '4 October 2026'
    """
    return f"{day.day} {day:%B %Y}"


def servings_words(servings: int) -> str:
    """Return a number of servings in words up to twelve.

    Examples
    --------
    >>> servings_words(1), servings_words(6), servings_words(40)
    ('One serving', 'Six servings', '40 servings')
    """
    number = _NUMBERS[servings].capitalize() if servings < len(_NUMBERS) else str(servings)
    return f"{number} {'serving' if servings == 1 else 'servings'}"


def sum_words(amount: Fraction, currency: str, *, at_least: bool = False) -> str:
    """Return a rounded sum with its currency, and "at least" where something is missing; never nothing for what is not nothing.

    Examples
    --------
    >>> sum_words(Fraction(758925, 100000), "USD"), sum_words(Fraction(1), "EUR", at_least=True)
    ('$7.59', 'at least €1.00')
    >>> sum_words(Fraction(1, 999), "EUR")
    'under €0.01'
    """
    return f"at least {format_money(amount, currency)}" if at_least else line_cost_words(amount, currency)


def line_cost_words(amount: Fraction, currency: str) -> str:
    """Return a line's cost; one that rounds to nothing but is not nothing is said to be less than the smallest coin.

    Examples
    --------
    >>> line_cost_words(Fraction(1, 1000), "EUR"), line_cost_words(Fraction(0), "EUR"), line_cost_words(Fraction(21, 50), "EUR")
    ('under €0.01', '€0.00', '€0.42')
    """
    places = places_of(currency)
    if amount and not round_half_up(amount, places):
        return f"under {format_money(Fraction(1, 10**places), currency)}"
    return format_money(amount, currency)


def kwh_words(wall_wh: float) -> str:
    """Return an energy from the wall in kilowatt-hours with two significant digits.

    Examples
    --------
    >>> kwh_words(341.2), kwh_words(1204.0), kwh_words(38.0)
    ('0.34 kWh', '1.2 kWh', '0.038 kWh')
    """
    return f"{float(f'{wall_wh / 1000:.2g}'):.10f}".rstrip("0").rstrip(".") + " kWh"


def bought_words(bought: Fraction, base: str) -> str:
    """Return a bought amount at three significant digits, in kg and L from a thousand on.

    Examples
    --------
    >>> bought_words(Fraction(2000, 3), "g"), bought_words(Fraction(1500), "mL"), bought_words(Fraction(5, 2), "each")
    ('667 g', '1.5 L', '2.5')
    """
    larger = {"g": "kg", "mL": "L"}.get(base)
    if larger and bought >= 1000:
        return f"{_short(bought / 1000)} {larger}"
    return f"{_short(bought)} {label_of(base, bought)}".strip()


def quote_words(quote: QuoteFacts, currency: str) -> str:
    """Return where a price comes from, in one phrase.

    Examples
    --------
    >>> quote_words(QuoteFacts("Mill Lane", date(2026, 10, 1), Decimal("3.49"), Fraction(500), "g", 2, stale=False), "EUR")
    '€3.49 for 2 x 500 g at Mill Lane, 1 October 2026'
    """
    pack = pack_words(quote.pack_amount, quote.pack_unit, quote.packs)
    return f"{price_seen_words(quote.price, currency)} for {pack} at {quote.shop}, {day_words(quote.day)}"


def price_seen_words(price: Decimal, currency: str) -> str:
    """Return a price as it was seen, with all its decimals.

    Examples
    --------
    >>> price_seen_words(Decimal("0.1250"), "EUR"), price_seen_words(Decimal("3.4900"), "EUR")
    ('€0.125', '€3.49')
    """
    exponent = price.normalize().as_tuple().exponent
    return format_money(price, currency, max(places_of(currency), -exponent if isinstance(exponent, int) else 0))


def unit_price_words(price: Fraction, base: str, currency: str) -> str:
    """Return a price by the kilogram, the litre, the piece or a household word.

    Examples
    --------
    >>> unit_price_words(Fraction(349, 100000), "g", "EUR"), unit_price_words(Fraction(9, 20), "each", "EUR")
    ('€3.49 per kg', '€0.45 a piece')
    """
    if base in ("g", "mL"):
        return f"{line_cost_words(price * 1000, currency)} per {'kg' if base == 'g' else 'L'}"
    return f"{line_cost_words(price, currency)} a {'piece' if base == 'each' else base}"


def yield_words(line: CostLine) -> str:
    """Return a line's yield and its source, or nothing where all of the food is used.

    Examples
    --------
    >>> yield_words(CostLine("squash", yield_pct=Decimal("84.00"), yield_source="own test")), yield_words(CostLine("rice"))
    ('84 % of it is used (own test)', '')
    """
    if line.yield_pct is None or line.yield_pct == 100:
        return ""
    source = f" ({line.yield_source})" if line.yield_source else ""
    return f"{line.yield_pct.normalize():f} % of it is used{source}"


def rule_words(facts: CostFacts) -> str:
    """Return how the prices were chosen, in one sentence.

    Examples
    --------
    >>> rule_words(CostFacts(4, "EUR", date(2026, 10, 14), "median", (), rule_detail="3"))
    'Each price is the median of the last 3 seen by 14 October 2026.'
    """
    if facts.day is None:
        return ""
    by = day_words(facts.day)
    if facts.rule == "median":
        return f"Each price is the median of the last {facts.rule_detail} seen by {by}."
    if facts.rule == "shop":
        return f"Each price is the newest at {facts.rule_detail} by {by}; where that shop has none, the newest anywhere."
    return f"Each price is the newest seen by {by}."


def cent_words(sheet: Sheet) -> str:
    """Return why the printed lines do not add up to the printed total, or nothing where they do."""
    total = round_half_up(sheet.total, places_of(sheet.currency))
    if sheet.printed_sum == total:
        return ""
    lines, shown = format_money(sheet.printed_sum, sheet.currency), format_money(total, sheet.currency)
    return f"The printed lines add up to {lines}: each is rounded by itself. The total, {shown}, is the exact sum rounded once."


def side_cent_words(sheet: Sheet) -> str:
    """Return why the printed dish and its printed sides do not add up to the two together, or nothing where they do."""
    places = places_of(sheet.currency)
    added = [share.cost for share in sheet.sides if share.cost is not None]
    printed = sum((round_half_up(part, places) for part in (sheet.total, *added)), Decimal(0))
    if not added or printed == round_half_up(sheet.together, places):
        return ""
    return "the exact sum, rounded once"


def range_words(lines: Sequence[PricedLine]) -> str:
    """Return the sentence about ranges where any line has one."""
    ranged = [priced.line.words for priced in lines if priced.line.low != priced.line.high and priced.line.high is not None]
    return f"Costed with the middle of a range: {listed(ranged)}." if ranged else ""


def listed(words: Sequence[str]) -> str:
    """Return words as a sentence lists them.

    Examples
    --------
    >>> listed(["salt", "pepper", "oil"]), listed(["salt"]), listed([])
    ('salt, pepper and oil', 'salt', '')
    """
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


def _short(amount: Fraction) -> str:
    digits = float(amount)
    return f"{digits:.0f}" if digits >= 100 else f"{float(f'{digits:.3g}'):g}"
