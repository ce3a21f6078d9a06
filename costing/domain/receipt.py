"""The receipt: a sheet put into words, ready for a page or a paper card."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from costing.domain import words
from costing.domain.electricity import Electricity
from costing.domain.facts import CostFacts, LeftOut
from costing.domain.packs import pack_words
from costing.domain.sheet import PricedLine, Sheet, SideShare, unpriced
from costing.domain.till import TillItem
from energy.domain.tariffs import format_price
from kitchen.domain.amounts import format_amount


@dataclass(frozen=True)
class Row:
    """One printed line; ``note`` is a few soft words beside it."""

    words: str
    cost: str
    note: str = ""
    stale: bool = False


@dataclass(frozen=True)
class Group:
    """The rows of one part of the recipe, the largest first."""

    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Source:
    """Where one food's price comes from, how much of it is bought and how much of that is used."""

    food: str
    quote: str
    bought: str
    used: str
    stale: bool


@dataclass(frozen=True)
class Receipt:
    """All the words of a cost card."""

    groups: tuple[Group, ...]
    electricity: Row | None
    allowance: Row | None
    total: Row
    per_serving: str
    sides: tuple[Row, ...]
    together: Row | None
    left_out: tuple[LeftOut, ...]
    sides_left_out: tuple[LeftOut, ...]
    to_taste: str
    tap: str
    till: str
    till_rows: tuple[Row, ...]
    sources: tuple[Source, ...]
    notes: tuple[str, ...]
    rounding: str
    months: str
    any_stale: bool
    uncooked: str
    with_sides: str


def make_receipt(facts: CostFacts, sheet: Sheet) -> Receipt:
    """Return the words of a sheet.

    Parameters
    ----------
    facts : CostFacts
        What the sheet was made from.
    sheet : Sheet
        Exact costs for the servings asked for.

    Returns
    -------
    Receipt
        Every sum with its currency, rounded once.
    """
    money = sheet.currency
    return Receipt(
        groups=tuple(_groups(sheet)),
        electricity=_electricity_row(sheet.electricity, money),
        allowance=_allowance_row(sheet),
        total=Row(words.servings_words(sheet.servings), words.sum_words(sheet.total, money, at_least=sheet.at_least)),
        per_serving=words.sum_words(sheet.per_serving, money, at_least=sheet.at_least),
        sides=tuple(_side_row(share, sheet) for share in sheet.sides),
        together=_together_row(sheet),
        left_out=sheet.left_out,
        sides_left_out=tuple(_named(share, gap) for share in sheet.sides for gap in share.left_out),
        to_taste=words.listed(sheet.to_taste),
        tap=words.listed(sheet.tap),
        till=words.sum_words(sheet.till_cost, money, at_least=bool(unpriced(facts.lines))) if sheet.till else "",
        till_rows=tuple(_till_row(item, money) for item in sheet.till),
        sources=tuple(_sources(sheet)),
        notes=tuple(_notes(facts, sheet)),
        rounding=words.cent_words(sheet),
        months=months_words(facts),
        any_stale=any(priced.line.quote.stale for priced in sheet.lines if priced.line.quote),
        uncooked="" if sheet.electricity.needed else "No step is marked as cooking: no electricity is counted.",
        with_sides=words.listed([_portions_words(share) for share in sheet.sides if share.cost is not None]),
    )


def months_words(facts: CostFacts) -> str:
    """Return the months from the oldest to the newest price that was used; nothing where none was.

    Examples
    --------
    >>> from datetime import date
    >>> from decimal import Decimal
    >>> from costing.domain.facts import CostLine, QuoteFacts
    >>> seen = [QuoteFacts("Mill Lane", date(2026, month, 4), Decimal(1), Fraction(500), "g", 1, stale=False) for month in (6, 9)]
    >>> months_words(CostFacts(4, "EUR", seen[1].day, "newest", tuple(CostLine("rice", quote=quote) for quote in seen)))
    'June to September 2026'
    """
    days = [line.quote.day for line in facts.lines if line.quote is not None]
    if not days:
        return ""
    first, last = min(days), max(days)
    if (first.year, first.month) == (last.year, last.month):
        return f"{last:%B %Y}"
    return f"{first:%B}{'' if first.year == last.year else f' {first.year}'} to {last:%B %Y}"


def _groups(sheet: Sheet) -> Iterable[Group]:
    titles = list(dict.fromkeys(priced.line.part for priced in sheet.lines))
    for title in titles:
        own = [priced for priced in sheet.lines if priced.line.part == title]
        own.sort(key=lambda priced: priced.cost, reverse=True)
        yield Group(title, tuple(_row(priced, sheet.currency) for priced in own))


def _row(priced: PricedLine, currency: str) -> Row:
    line = priced.line
    stale = line.quote is not None and line.quote.stale
    return Row(line.words, words.line_cost_words(priced.cost, currency), "optional" if line.optional else "", stale)


def _electricity_row(electricity: Electricity, currency: str) -> Row | None:
    if electricity.cost is None or electricity.wall_wh is None or electricity.price is None:
        return None
    price = f"{format_price(electricity.price.per_kwh, currency)} per kWh"
    note = f"{price}, {electricity.price.words}" + (", estimated" if electricity.estimated else "")
    return Row(f"electricity, {words.kwh_words(electricity.wall_wh)}", words.line_cost_words(electricity.cost, currency), note)


def _allowance_row(sheet: Sheet) -> Row | None:
    if not sheet.allowance_pct:
        return None
    return Row(
        f"seasoning, {sheet.allowance_pct.normalize():f} % allowance", words.line_cost_words(sheet.allowance, sheet.currency)
    )


def _side_row(share: SideShare, sheet: Sheet) -> Row:
    said = _portions_words(share)
    if share.cost is None:
        return Row(said, "not added", share.side.reason)
    each = words.sum_words(share.cost / sheet.servings, sheet.currency, at_least=bool(share.left_out))
    return Row(said, words.sum_words(share.cost, sheet.currency, at_least=bool(share.left_out)), f"{each} with each serving")


def _portions_words(share: SideShare) -> str:
    return f"{share.side.title}, {format_amount(share.portions)} {'portion' if share.portions == 1 else 'portions'}"


def _together_row(sheet: Sheet) -> Row | None:
    if not any(share.cost is not None for share in sheet.sides):
        return None
    each = words.sum_words(sheet.together / sheet.servings, sheet.currency, at_least=sheet.together_at_least)
    total = words.sum_words(sheet.together, sheet.currency, at_least=sheet.together_at_least)
    return Row("Together", total, "; ".join(filter(None, (f"{each} each serving", words.side_cent_words(sheet)))))


def _named(share: SideShare, gap: LeftOut) -> LeftOut:
    return gap if share.cost is None else LeftOut(f"{share.side.title}: {gap.words}", gap.reason)


def _till_row(item: TillItem, currency: str) -> Row:
    pack = pack_words(item.quote.pack_amount, item.quote.pack_unit)
    return Row(item.food, words.line_cost_words(item.cost, currency), f"{item.packs} x {pack}" if item.packs > 1 else pack)


def _sources(sheet: Sheet) -> Iterable[Source]:
    together: dict[tuple[str, str, str], list[PricedLine]] = {}
    for priced in sheet.lines:
        if priced.line.quote is not None:
            food = priced.line.food or priced.line.words
            key = (food, words.quote_words(priced.line.quote, sheet.currency), words.yield_words(priced.line))
            together.setdefault(key, []).append(priced)
    for (food, quote, used), own in together.items():
        bought = sum(((priced.line.bought or Fraction(0)) * priced.ratio for priced in own), Fraction(0))
        stale = any(priced.line.quote is not None and priced.line.quote.stale for priced in own)
        yield Source(food, quote, words.bought_words(bought, own[0].line.base), used, stale)


def _notes(facts: CostFacts, sheet: Sheet) -> Iterable[str]:
    sentences = [words.rule_words(facts), words.range_words(sheet.lines)]
    if sheet.sides:
        sentences.append("A side is counted by the portion, with its own electricity.")
    return [sentence for sentence in sentences if sentence]
