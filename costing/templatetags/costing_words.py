"""The words of prices and yields, for the bench's tables."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from django import template

from costing.domain.closing import Closing
from costing.domain.facts import CostLine, QuoteFacts
from costing.domain.quotes import is_stale, unit_price
from costing.domain.slips import SlipLine
from costing.domain.yields import yield_of_refuse
from costing.models import Quote
from costing.queries import item_words, offer_of
from costing.words import ENGLISH, sentence, words_of
from costing.words.slips import closed_words, slip_words
from costing.words.sources import quote_words, yield_words
from costing.words.sums import percent_figures, price_seen_words, sum_words, unit_price_words
from kitchen.domain.remark import Said
from kitchen.models import Food

register = template.Library()


@register.simple_tag
def quote_price(quote: Quote) -> str:
    """Return a quote's price with its currency."""
    return price_seen_words(quote.price, quote.currency)


@register.simple_tag
def quote_pack(quote: Quote) -> str:
    """Return what a quote buys."""
    words, brand = item_words(quote.item), quote.item.brand
    pieces = " pieces" if not quote.item.pack_unit and words[-1:].isdigit() else ""
    return f"{words}{pieces}, {brand}" if brand else words + pieces


@register.simple_tag
def quote_unit_price(quote: Quote) -> str:
    """Return a quote's price by the kilogram, litre or piece, so that packs of all sizes compare."""
    return unit_price_words(*unit_price(offer_of(quote)), quote.currency, ENGLISH)


@register.simple_tag
def is_old(quote: Quote, day: date) -> bool:
    """Return whether a quote is too old to trust on a day."""
    return is_stale(quote.day, day)


@register.simple_tag
def percent(value: Decimal) -> str:
    """Return a percentage without trailing zeros."""
    return f"{percent_figures(value)} %"


@register.simple_tag
def default_yield(food: Food) -> str:
    """Return the yield that the food table gives."""
    return f"{yield_of_refuse(food.refuse_pct)} %"


@register.simple_tag
def seen_at(quote: QuoteFacts, currency: str) -> str:
    """Return where a price comes from."""
    return quote_words(quote, currency, ENGLISH)


@register.simple_tag
def used_part(line: CostLine) -> str:
    """Return a line's yield and its source, and what it weighs cooked."""
    cooked = "" if line.cooked_pct is None else sentence(ENGLISH, "cooked_share", share_pct=percent_figures(line.cooked_pct))
    used = yield_words(line.yield_pct, line.yield_source, ENGLISH)
    return "; ".join(filter(None, (used, cooked))) or sentence(ENGLISH, "all_used")


@register.simple_tag
def line_cost(line: CostLine, currency: str) -> str:
    """Return what a line costs."""
    return "" if line.cost is None else sum_words(line.cost, currency, ENGLISH)


@register.simple_tag
def reason_words(reason: Said) -> str:
    """Return why something has no cost."""
    return words_of(reason, ENGLISH)


@register.simple_tag
def slip_reading(line: SlipLine, currency: str) -> str:
    """Return how a line of a slip was read, where that is more than its name and price."""
    return slip_words(line, currency, ENGLISH)


@register.simple_tag
def closing_words(closing: Closing, currency: str) -> str:
    """Return whether a slip's lines come to its total."""
    return closed_words(closing, currency, ENGLISH)
