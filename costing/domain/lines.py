"""One line of the sheet: from an ingredient to what it costs, or to the reason why that is not known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from costing.domain.conversion import based, in_base, why_not_in_base
from costing.domain.facts import CostLine, QuoteFacts
from costing.domain.quotes import Offer, QuoteRule, choose, in_currency, is_stale, pack_price
from costing.domain.yields import ChosenYield, YieldTest, bought_amount, choose_yield
from kitchen.domain import record
from kitchen.domain.facts import FoodFacts, LineFacts
from kitchen.domain.remark import Remark, remark
from kitchen.domain.units import UNITS

_TAP = ("water", "ice")


@dataclass(frozen=True)
class PriceBook:
    """What a sheet of one day is priced with: a currency, a rule, and by food name the offers, yield tests and refuse."""

    day: date
    currency: str
    offers: Mapping[str, Sequence[Offer]]
    yields: Mapping[str, Sequence[YieldTest]]
    refuse_pct: dict[str, float]
    rule: QuoteRule = field(default_factory=QuoteRule)


def cost_line(line: LineFacts, book: PriceBook, part: str = "") -> CostLine:
    """Return the cost of one ingredient line, or the line with its reason.

    Parameters
    ----------
    line : LineFacts
        The line as read; of a range, the mean of both ends is costed.
    book : PriceBook
        Prices and yields of the day.
    part : str
        The title of the part that the line stands in.

    Notes
    -----
    amount -> base unit of its quote (through the food's weights) / yield x price of one base unit; all exact.
    A quote by the piece buys whole pieces: the yield is in the weight of a piece already and is not applied again.

    Examples
    --------
    >>> from fractions import Fraction
    >>> offer = Offer("Mill Lane", date(2026, 10, 1), Decimal("1.86"), Fraction(1), "lb", 1, "EUR")
    >>> book = PriceBook(date(2026, 10, 14), "EUR", {"potato": [offer]}, {}, {"potato": 25.0})
    >>> costed = cost_line(LineFacts("37.5 lb potatoes", Fraction(75, 2), Fraction(75, 2), "lb", food=FoodFacts("potato")), book)
    >>> float(costed.cost), float(costed.yield_pct)
    (93.0, 75.0)
    """
    bare = _bare(line, part)
    offers = book.offers.get(line.food.name, ()) if line.food else ()
    offer = choose(in_currency(offers, book.currency), book.rule, book.day)
    if line.to_taste and line.low is None:
        return replace(bare, kind="to_taste")
    if offer is None and is_tap_water(line):
        return replace(bare, kind="tap")
    if line.food is None:
        return replace(bare, kind="unclear", reason=remark("no_food"))
    if offer is None:
        return replace(bare, kind="no_price", reason=_why_no_offer(offers, book))
    if line.low is None:
        return replace(bare, kind="unclear", reason=remark("no_amount"))
    return _costed(bare, line, line.food, offer, book)


def _costed(bare: CostLine, line: LineFacts, food: FoodFacts, offer: Offer, book: PriceBook) -> CostLine:
    pack, base = based(offer.pack_amount, offer.pack_unit)
    edible = in_base(line, base)
    if edible is None:
        return replace(bare, kind="unclear", reason=why_not_in_base(line, base))
    chosen = _yield_for(line, food, base, book)
    bought = bought_amount(edible, chosen.percent)
    return replace(
        bare,
        cost=bought / pack * pack_price(offer),
        bought=bought,
        base=base,
        pack=pack,
        yield_pct=chosen.percent,
        yield_source=chosen.source,
        quote=_quote_facts(offer, book.day),
    )


def is_tap_water(line: LineFacts) -> bool:
    """Return whether a line is plain water or ice, which is listed apart unless somebody gave it a price.

    Examples
    --------
    >>> is_tap_water(LineFacts("1 L water", food=FoodFacts("water"))), is_tap_water(LineFacts("", name="watermelon"))
    (True, False)
    """
    name = (line.food.name if line.food else line.name).casefold()
    return name.split(",")[0].strip() in _TAP


def _why_no_offer(offers: Sequence[Offer], book: PriceBook) -> Remark:
    others = sorted({offer.currency for offer in offers if offer.day <= book.day})
    return remark("price_in_currencies", currencies=" ".join(others), currency=book.currency) if others else remark("no_price")


def _yield_for(line: LineFacts, food: FoodFacts, base: str, book: PriceBook) -> ChosenYield:
    if base not in ("g", "mL"):
        return ChosenYield(Decimal(100), "")
    return choose_yield(book.yields.get(food.name, ()), book.refuse_pct.get(food.name, 0.0), line.note)


def _quote_facts(offer: Offer, day: date) -> QuoteFacts:
    return record.taken(QuoteFacts, offer, stale=is_stale(offer.day, day))


def _bare(line: LineFacts, part: str) -> CostLine:
    return CostLine(
        words=line.name or line.text,
        food=line.food.name if line.food else "",
        rule=line.rule,
        low=line.low,
        high=line.high,
        part=part,
        optional=line.optional,
        evaporated=_evaporated(line),
    )


def _evaporated(line: LineFacts) -> Fraction | None:
    """Return what boils off in the line's own unit; None where nothing does or the unit is no volume."""
    unit = UNITS.get(line.unit)
    if not line.evaporated_ml or unit is None or unit.dimension != "volume" or not unit.per_base:
        return None
    return Fraction(line.evaporated_ml) / unit.per_base
