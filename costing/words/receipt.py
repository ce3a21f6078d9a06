"""The receipt: a sheet put into words, ready for a page or a paper card."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from costing.domain.bought import Bought
from costing.domain.conversion import based
from costing.domain.electricity import NOTHING_OFF, Off
from costing.domain.facts import CostLine, LeftOut
from costing.domain.fuels import Burnt
from costing.domain.priced import PricedLine
from costing.domain.sheet import Sheet, SideShare
from costing.domain.till import TillItem
from costing.words.remarks import Language, sentence, words_of
from costing.words.sources import months_words, places_words, quote_words, rule_words, yield_words
from costing.words.sums import bought_words, kwh_words, percent_figures, servings_words, sum_words
from energy.tariffs.domain.prices import format_price
from energy.words.figure_words import listed, money_between
from kitchen.domain.amounts import format_amount
from kitchen.domain.packs import pack_words


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
    till_note: str
    coverage: str
    options: tuple[Row, ...]
    with_options: Row | None
    sources: tuple[Source, ...]
    notes: tuple[str, ...]
    rounding: str
    months: str
    prices: str
    uncooked: str
    with_sides: str


def make_receipt(sheet: Sheet, language: Language) -> Receipt:
    """Return the words of a sheet.

    Parameters
    ----------
    sheet : Sheet
        Exact costs for the servings asked for.
    language : Language
        What to say it in.

    Returns
    -------
    Receipt
        Every sum with its currency, rounded once.
    """
    return _Clerk(sheet, language).receipt()


def fuel_row(one: Burnt, currency: str, language: Language) -> Row:
    """Return what one way burns and costs, with the price that counts."""
    grams = sentence(language, "grams_between", least=f"{one.low_g:.0f}", most=f"{one.high_g:.0f}")
    note = "; ".join((grams, quote_words(one.price.quote, currency, language)))
    return Row(one.label, sum_words(one.cost, currency, language, off=one.off), note, one.price.quote.stale)


def paper_words(receipt: Receipt, language: Language) -> str:
    """Return the one sentence about money that a paper card has room for."""
    total, together = receipt.total, receipt.together
    coverage = sentence(language, "on_paper_coverage", coverage=receipt.coverage) if receipt.coverage else ""
    said = {"servings": total.words, "total": total.cost, "coverage": coverage, "months": receipt.months}
    if together is None:
        return sentence(language, "on_paper", **said)
    return sentence(language, "on_paper_together", sides=receipt.with_sides, together=together.cost, **said)


@dataclass(frozen=True)
class _Clerk:
    """Writes the receipt of one sheet in one language."""

    sheet: Sheet
    language: Language

    def receipt(self) -> Receipt:
        sheet, language, off = self.sheet, self.language, self.sheet.electricity.off
        return Receipt(
            groups=tuple(self._groups()),
            electricity=self._electricity_row(),
            allowance=self._allowance_row(),
            total=Row(servings_words(sheet.servings, language), self._sum(sheet.total, at_least=sheet.at_least, off=off)),
            per_serving=self._shared(sheet.total, off, at_least=sheet.at_least),
            sides=tuple(self._side_row(share) for share in sheet.sides),
            together=self._together_row(),
            left_out=tuple(self._gap(gap) for gap in sheet.left_out),
            sides_left_out=tuple(self._side_gap(share, gap) for share in sheet.sides for gap in share.left_out),
            to_taste=listed(sheet.to_taste, language),
            tap=listed(sheet.tap, language),
            till=self._sum(sheet.till_cost, at_least=sheet.till_at_least) if sheet.till else "",
            till_rows=tuple(self._till_row(item) for item in sheet.till),
            till_note=self._say("till_of_meal" if sheet.sides_bought else "till_of_dish"),
            coverage=self._coverage(),
            options=tuple(self._option_row(line) for line in sheet.facts.lines if line.apart and line.kind != "to_taste"),
            with_options=self._with_options_row(),
            sources=tuple(self._source(bought) for bought in sheet.bought),
            notes=tuple(filter(None, self._notes())),
            rounding=self._rounding(),
            months=months_words(sheet.facts, language),
            prices=self._prices(),
            uncooked="" if sheet.electricity.needed else self._say("uncooked"),
            with_sides=listed([self._portions(share) for share in sheet.sides if share.cost is not None], language),
        )

    def _say(self, code: str, **values: object) -> str:
        return sentence(self.language, code, **values)

    def _sum(self, amount: Fraction, *, at_least: bool = False, off: Off = NOTHING_OFF) -> str:
        return sum_words(amount, self.sheet.facts.currency, self.language, at_least=at_least, off=off)

    def _shared(self, amount: Fraction, off: Off, *, at_least: bool) -> str:
        """Return one serving's share of a sum."""
        n = self.sheet.servings
        return self._sum(amount / n, at_least=at_least, off=(off[0] / n, off[1] / n))

    def _groups(self) -> Iterable[Group]:
        for title in dict.fromkeys(priced.line.part for priced in self.sheet.lines):
            own = [priced for priced in self.sheet.lines if priced.line.part == title]
            own.sort(key=lambda priced: priced.cost, reverse=True)
            yield Group(title, tuple(self._row(priced) for priced in own))

    def _row(self, priced: PricedLine) -> Row:
        line = priced.line
        stale = line.quote is not None and line.quote.stale
        made = "" if line.made is None else self._say("made_now" if line.made.now else "made_before")
        note = ", ".join(filter(None, (made, self._say("optional") if line.optional else "")))
        return Row(line.words, self._sum(priced.cost), note, stale)

    def _prices(self) -> str:
        """From when and where the prices are; nothing where there are none."""
        facts = self.sheet.facts
        months, shops = months_words(facts, self.language), places_words(facts, self.language)
        return "" if not months else self._say("prices_of_at" if shops else "prices_of", months=months, shops=shops)

    def _coverage(self) -> str:
        """How many of the lines the total holds; nothing where it holds all."""
        counted, lines = self.sheet.coverage
        return "" if counted == lines else self._say("coverage", counted=counted, lines=lines)

    def _option_row(self, line: CostLine) -> Row:
        words = self._say("with_option", line=line.words)
        priced = next((one for one in self.sheet.options if one.line is line), None)
        if priced is None:
            return Row(words, self._say("option_unpriced"), words_of(line.reason, self.language))
        return Row(words, self._sum(priced.cost))

    def _with_options_row(self) -> Row | None:
        sheet = self.sheet
        if not sheet.options:
            return None
        missing = sheet.at_least or len(sheet.options) < sum(line.apart for line in sheet.facts.lines)
        off = sheet.electricity.off
        whole, each = (
            self._sum(sheet.with_options, at_least=missing, off=off),
            self._shared(sheet.with_options, off, at_least=missing),
        )
        return Row(self._say("with_all_options"), whole, self._say("each_serving", each=each))

    def _electricity_row(self) -> Row | None:
        used = self.sheet.electricity
        if used.cost is None or used.wall_wh is None or used.price is None:
            return None
        code = "at_kwh_price_estimated" if used.estimated else "at_kwh_price"
        price = format_price(used.price.per_kwh, self.sheet.facts.currency)
        note = self._say(code, price=price, source=words_of(used.price.source, self.language))
        less_wh, more_wh = used.off_wh
        energy = kwh_words(used.wall_wh - less_wh, used.wall_wh + more_wh, self.language, at_least=used.at_least)
        if used.made_wh:
            note += self._say("made_before_wh", energy=kwh_words(used.made_wh, used.made_wh, self.language))
        return Row(self._say("electricity_of", energy=energy), self._sum(used.cost, at_least=used.at_least, off=used.off), note)

    def _allowance_row(self) -> Row | None:
        share_pct = self.sheet.facts.allowance_pct
        if not share_pct:
            return None
        return Row(self._say("seasoning", share_pct=percent_figures(share_pct)), self._sum(self.sheet.allowance))

    def _side_row(self, share: SideShare) -> Row:
        if share.cost is None:
            return Row(self._portions(share), self._say("not_added"), words_of(share.side.reason, self.language))
        each = self._shared(share.cost, share.off, at_least=share.at_least)
        cost = self._sum(share.cost, at_least=share.at_least, off=share.off)
        written = share.side.servings
        code = "with_each_serving" if share.portions == written else "with_each_serving_in_proportion"
        return Row(self._portions(share), cost, self._say(code, each=each, servings=written))

    def _portions(self, share: SideShare) -> str:
        code = "one_portion" if share.portions == 1 else "portions"
        return self._say(code, side=share.side.title, portions=format_amount(share.portions))

    def _together_row(self) -> Row | None:
        sheet = self.sheet
        if not any(share.cost is not None for share in sheet.sides):
            return None
        off, at_least = sheet.together_off, sheet.together_at_least
        each = self._shared(sheet.together, off, at_least=at_least)
        note = self._say("each_serving" if sheet.sides_add_up else "each_serving_rounded", each=each)
        return Row(self._say("together"), self._sum(sheet.together, at_least=at_least, off=off), note)

    def _gap(self, gap: LeftOut) -> LeftOut:
        return LeftOut(words_of(gap.words, self.language), words_of(gap.reason, self.language))

    def _side_gap(self, share: SideShare, gap: LeftOut) -> LeftOut:
        told = self._gap(gap)
        if share.cost is None:
            return told
        return LeftOut(self._say("gap_of_side", side=share.side.title, what=told.words), told.reason)

    def _till_row(self, item: TillItem) -> Row:
        quote = item.quote
        if quote.sold == "loose":
            return Row(
                item.food,
                self._sum(item.cost),
                bought_words(item.packs * based(quote.pack_amount, quote.pack_unit)[0], item.base),
            )
        packs = pack_words(quote.pack_amount, quote.pack_unit, int(item.packs))
        left = self._say("left_over", amount=bought_words(item.left, item.base)) if item.left else ""
        return Row(item.food, self._sum(item.cost), "; ".join(filter(None, (packs, left))))

    def _source(self, bought: Bought) -> Source:
        return Source(
            food=bought.food,
            quote=quote_words(bought.quote, self.sheet.facts.currency, self.language),
            bought=bought_words(bought.amount, bought.base),
            used=yield_words(bought.yield_pct, bought.yield_source, self.language),
            stale=bought.quote.stale,
        )

    def _notes(self) -> Iterable[str]:
        yield rule_words(self.sheet.facts, self.language)
        lines = [priced.line for priced in self.sheet.lines]
        ranged = [line.words for line in lines if line.high is not None and line.low != line.high]
        if ranged:
            yield self._say("middle_of_range", lines=listed(ranged, self.language))
        for line in self.sheet.facts.lines:
            if line.assumed:
                yield f"{line.words}: {words_of(line.assumed, self.language)}."
            for skipped in line.skipped:
                reason = words_of(skipped.reason, self.language)
                yield self._say("skipped", food=line.food, shop=skipped.shop, day=skipped.day, reason=reason)
        if self.sheet.sides:
            yield self._say("sides_by_portion")

    def _rounding(self) -> str:
        """Why the printed lines do not add up to the printed total; nothing where they do."""
        if self.sheet.lines_add_up:
            return ""
        currency, (least, most) = self.sheet.facts.currency, self.sheet.printed_sums
        lines = money_between(Fraction(least), Fraction(most), currency, self.language)
        total = self._sum(self.sheet.total, off=self.sheet.electricity.off)
        return self._say("lines_rounded", lines=lines, total=total)
