"""The lines of a cost sheet for its cook: as bought, at what unit price, of which shop and day, with their share of the whole."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from costing.domain.facts import CostLine, LeftOut, MadeCost
from costing.domain.priced import PricedLine
from costing.domain.sheet import Sheet, unpriced
from costing.words.remarks import Language, sentence, words_of
from costing.words.sources import yield_words
from costing.words.sums import bought_words, percent_figures, price_seen_words, servings_words, sum_words, unit_price_words
from kitchen.domain.amounts import format_amount
from kitchen.domain.money import round_half_up
from kitchen.domain.packs import pack_words


@dataclass(frozen=True)
class SheetLine:
    """One line of the sheet; ``share`` is its part of the total in whole per cent. [%] ``gap`` says why it has no cost."""

    bought: str = ""
    pack: str = ""
    unit_price: str = ""
    source: str = ""
    used: str = ""
    cost: str = ""
    share: int = 0
    gap: str = ""
    note: str = ""
    stale: bool = False
    apart: bool = False


def sheet_lines(sheet: Sheet, language: Language) -> list[SheetLine]:
    """Return the recipe's lines in their order, each as its cook checks it."""
    priced = {id(one.line): one for one in (*sheet.lines, *sheet.options)}
    return [_line(line, priced.get(id(line)), sheet, language) for line in sheet.facts.lines]


def power_gap(sheet: Sheet, language: Language) -> LeftOut | None:
    """Return why the electricity is not counted; None where it is, or none is needed."""
    power = sheet.electricity
    if not power.needed or power.cost is not None:
        return None
    return LeftOut(sentence(language, "electricity"), words_of(power.why_no_cost_of(power.wall_wh), language))


def per_100_g(sheet: Sheet, serving_g: float | None, language: Language) -> str:
    """Return what 100 g of the dish cost, where its cook said what a serving weighs; else nothing."""
    if not serving_g:
        return ""
    each, off = sheet.per_serving, sheet.electricity.off
    part = Fraction(100) / Fraction(str(serving_g))
    less, more = (sheet.per_serving_of(end) * part for end in off)
    return sum_words(each * part, sheet.facts.currency, language, at_least=sheet.at_least, off=(less, more))


def _line(line: CostLine, priced: PricedLine | None, sheet: Sheet, language: Language) -> SheetLine:
    if line.kind in ("to_taste", "tap"):
        return SheetLine(note=sentence(language, f"line_{line.kind}"), apart=True)
    if priced is not None and line.made is not None:
        return _made_line(line.made, priced, sheet, language)
    if priced is None or line.quote is None or line.pack is None:
        return SheetLine(gap=words_of(line.reason, language), apart=line.apart)
    quote, currency = line.quote, sheet.facts.currency
    pack = pack_words(quote.pack_amount, quote.pack_unit, quote.packs, sold=quote.sold)
    shop = ", ".join(filter(None, (quote.shop, quote.brand)))
    return SheetLine(
        bought=bought_words(priced.bought, line.base),
        pack=sentence(
            language,
            "pack_for_taxed" if quote.tax_pct else "pack_for",
            pack=pack,
            price=price_seen_words(quote.price, currency),
            tax_pct=percent_figures(quote.tax_pct),
        ),
        unit_price=unit_price_words(Fraction(quote.price) / quote.packs / line.pack, line.base, currency, language),
        source=sentence(language, "shop_and_day", shop=shop, day=quote.day),
        used="; ".join(filter(None, _used(line, language))) or sentence(language, "all_of_it_used"),
        cost=sum_words(priced.cost, currency, language),
        share=0 if line.apart or not sheet.total else int(round_half_up(100 * priced.cost / sheet.total, 0)),
        note=" ".join(_notes(priced, language)),
        stale=quote.stale,
        apart=line.apart,
    )


def _made_line(made: MadeCost, priced: PricedLine, sheet: Sheet, language: Language) -> SheetLine:
    """Return a line that another recipe makes: which edition, what all of it costs, and how much of it goes in."""
    currency, share = sheet.facts.currency, made.share * priced.ratio
    portions = format_amount(share * made.servings)
    gaps = [f"{words_of(gap.words, language)}: {words_of(gap.reason, language)}." for gap in unpriced([priced.line])]
    return SheetLine(
        bought=sentence(language, "made_share", portions=portions, servings=servings_words(made.servings, language).lower()),
        pack=sentence(language, "made_by", title=made.title, edition=made.edition),
        unit_price=sentence(
            language,
            "made_batch",
            cost=sum_words(priced.cost / share, currency, language, at_least=bool(gaps)),
            servings=servings_words(made.servings, language).lower(),
        ),
        source=sentence(language, "made_now" if made.now else "made_before").capitalize(),
        cost=sum_words(priced.cost, currency, language, at_least=bool(gaps)),
        share=0 if not sheet.total else int(round_half_up(100 * priced.cost / sheet.total, 0)),
        note=" ".join(gaps),
    )


def _used(line: CostLine, language: Language) -> Iterable[str]:
    yield yield_words(line.yield_pct, line.yield_source, language)
    if line.cooked_pct is not None:
        yield sentence(language, "cooked_share", share_pct=percent_figures(line.cooked_pct))


def _notes(priced: PricedLine, language: Language) -> Iterable[str]:
    line = priced.line
    if line.apart:
        yield sentence(language, "line_apart")
    if priced.taken != 1:
        yield sentence(language, "line_joint", food=line.food)
    if line.assumed:
        yield f"{words_of(line.assumed, language).capitalize()}."
    for skipped in line.skipped:
        reason = words_of(skipped.reason, language)
        yield sentence(language, "skipped", food=line.food, shop=skipped.shop, day=skipped.day, reason=reason)
