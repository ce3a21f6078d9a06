"""One line of the sheet: from an ingredient to what it costs, or to the reason why that is not known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from costing.domain.conversion import based, in_base
from costing.domain.electricity import UNCOOKED, Electricity
from costing.domain.facts import CostLine, MadeCost, QuoteFacts, Skipped
from costing.domain.fitting import Fit, fit
from costing.domain.priced import priced_line, sharing
from costing.domain.quotes import Given, Offer, QuoteRule, choose, in_currency, is_stale, pack_price
from costing.domain.yields import YieldTest
from kitchen.domain import record
from kitchen.domain.facts import FoodFacts, LineFacts, MadeFacts
from kitchen.domain.fruit_parts import part_meant
from kitchen.domain.remark import Remark, Said, remark
from kitchen.domain.units import UNITS

_TAP = ("water", "ice")


@dataclass(frozen=True)
class PriceBook:
    """What a sheet of one day is priced with: a currency, a rule, and by food name the offers, yield tests and refuse.

    ``given`` holds, by the name of a food that is part of a bought thing (lemon juice, egg yolk), what gives it; ``walls`` what
    all of an edition takes from the wall, by its recipe's address and its number.
    """

    day: date
    currency: str
    offers: Mapping[str, Sequence[Offer]]
    yields: Mapping[str, Sequence[YieldTest]]
    refuse_pct: Mapping[str, float]
    rule: QuoteRule = field(default_factory=QuoteRule)
    given: Mapping[str, Sequence[Given]] = field(default_factory=dict)
    walls: Mapping[tuple[str, int], Electricity] = field(default_factory=dict)


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
    return _cost(_bare(line, part), line, book)


def _cost(bare: CostLine, line: LineFacts, book: PriceBook) -> CostLine:
    if line.made is not None:
        return _made(bare, line.made, book)
    if line.to_taste and line.low is None:
        return replace(bare, kind="to_taste", apart=False)
    offers = _offers(line, book)
    holding = [offer for offer in in_currency(offers, book.currency) if offer.holds_on(book.day)]
    given = [one for one in _given(line, book) if one.offer.currency == book.currency and one.offer.holds_on(book.day)]
    if not holding and not given and is_tap_water(line):
        return replace(bare, kind="tap", apart=False)
    if line.food is None:
        return replace(bare, kind="unclear", reason=remark("no_food"))
    if not holding and not given:
        return replace(bare, kind="no_price", reason=_why_no_offer(offers, book))
    if line.low is None:
        return replace(bare, kind="unclear", reason=remark("no_amount"))
    direct = _costed(bare, line, line.food, holding, book)
    if direct.kind == "priced" or not given:
        return direct if holding else replace(direct, kind="no_price", reason=_why_no_offer(offers, book))
    return _part_of_item(bare, line, given, book) or direct


def _made(bare: CostLine, made: MadeFacts, book: PriceBook) -> CostLine:
    """Return a line that another recipe makes: its share of what that edition's lines cost by the same book."""
    if made.share is None:
        return replace(bare, kind="unclear", reason=remark("made_share_unknown", made=made.title))
    lines = tuple(cost_line(line, book) for line in made.lines)
    power = book.walls.get((made.slug, made.edition), UNCOOKED)
    wall_wh = None if power.wall_wh is None or made.now else power.wall_wh * float(made.share)
    less, more = (off_wh * float(made.share) for off_wh in power.off_wh)
    held = record.taken(
        MadeCost,
        made,
        lines=lines,
        wall_wh=wall_wh,
        cooks=power.needed,
        wall_at_least=power.at_least,
        wall_off_wh=(less, more),
    )
    counted = sharing([priced_line(line, Fraction(1)) for line in lines if line.counted])
    if not counted:
        return replace(bare, kind="no_price", reason=remark("side_unpriced"), made=held)
    return replace(bare, cost=made.share * sum((one.cost for one in counted), Fraction(0)), made=held)


def _costed(bare: CostLine, line: LineFacts, food: FoodFacts, offers: Sequence[Offer], book: PriceBook) -> CostLine:
    """Return the line by the offer that the rule chooses among those that can be used."""
    newest_first = sorted(offers, key=lambda offer: offer.day, reverse=True)
    tests, refuse_pct = book.yields.get(food.name, ()), book.refuse_pct.get(food.name, 0.0)
    fits = [(offer, fit(line, offer, tests, refuse_pct)) for offer in newest_first]
    usable = {id(offer): (offer, found) for offer, found in fits if isinstance(found, Fit)}
    offer = choose([(offer, found.bought / found.pack * pack_price(offer)) for offer, found in usable.values()], book.rule)
    if offer is None:
        reason = next((found for _, found in fits if isinstance(found, Remark)), remark("no_price"))
        return replace(bare, kind="unclear", reason=reason)
    found = usable[id(offer)][1]
    newer = fits[: next(place for place, (one, _) in enumerate(fits) if one is offer)]
    return replace(
        bare,
        cost=found.bought / found.pack * pack_price(offer),
        bought=found.bought,
        base=found.base,
        pack=found.pack,
        yield_pct=found.trim.percent,
        yield_source=found.trim.source,
        quote=_quote_facts(offer, book.day),
        joint=_joint(line),
        cooked_pct=found.cooked_pct,
        assumed=found.assumed,
        skipped=tuple(_skipped(one, why) for one, why in newer if isinstance(why, Remark)),
    )


def _part_of_item(bare: CostLine, line: LineFacts, given: Sequence[Given], book: PriceBook) -> CostLine | None:
    """Return the line by the newest bought thing that gives its food beside others: two yolks by two eggs."""
    for one in sorted(given, key=lambda one: one.offer.day, reverse=True):
        pack, base = based(one.offer.pack_amount, one.offer.pack_unit)
        amount, unit = based(one.amount, one.unit)
        used = in_base(line, unit)
        if used is not None:
            return replace(
                bare,
                food=one.item_food,
                cost=used / amount * pack_price(one.offer),
                bought=used / amount * pack,
                base=base,
                pack=pack,
                yield_pct=Decimal(100),
                quote=_quote_facts(one.offer, book.day),
                joint=bare.food,
                share=one.share,
            )
    return None


def _joint(line: LineFacts) -> str:
    """Return the part of a whole fruit that the line means: the lemon's juice and its zest come from one lemon."""
    part = part_meant(line)
    return f"{line.food.name} {part}" if line.food is not None and part in ("juice", "zest", "pulp") else ""


def _skipped(offer: Offer, why: Said) -> Skipped:
    return record.taken(Skipped, offer, reason=why)


def _offers(line: LineFacts, book: PriceBook) -> Sequence[Offer]:
    return book.offers.get(line.food.name, ()) if line.food else ()


def _given(line: LineFacts, book: PriceBook) -> Sequence[Given]:
    return book.given.get(line.food.name, ()) if line.food else ()


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
    holding = [offer for offer in offers if offer.holds_on(book.day)]
    others = sorted({offer.currency for offer in holding if offer.currency != book.currency})
    if others:
        return remark("price_in_currencies", currencies=" ".join(others), currency=book.currency)
    over = [offer.last_day for offer in offers if offer.last_day is not None and offer.last_day < book.day]
    return remark("price_over", last_day=max(over).isoformat()) if over else remark("no_price")


def _quote_facts(offer: Offer, day: date) -> QuoteFacts:
    return record.taken(QuoteFacts, offer, stale=is_stale(offer.day, day))


def _bare(line: LineFacts, part: str) -> CostLine:
    return CostLine(
        words=line.name or line.text,
        food=line.food.name if line.food else "",
        rule=line.rule,
        low=line.low,
        high=line.high,
        line_unit=line.unit,
        part=part,
        optional=line.optional,
        apart=line.optional,
        evaporated=_evaporated(line),
    )


def _evaporated(line: LineFacts) -> Fraction | None:
    """Return what boils off in the line's own unit; None where nothing does or the unit is no volume."""
    unit = UNITS.get(line.unit)
    if not line.evaporated_ml or unit is None or unit.dimension != "volume" or not unit.per_base:
        return None
    return Fraction(line.evaporated_ml) / unit.per_base
