"""The words of prices and yields, for the bench's tables."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from django import template

from costing.domain.closing import Closing
from costing.domain.quotes import is_stale, unit_price
from costing.domain.slips import SlipLine
from costing.domain.yields import yield_of_refuse
from costing.models import Quote
from costing.queries import item_words, offer_of
from costing.words import ENGLISH
from costing.words.slips import closed_words, slip_words
from costing.words.sums import percent_figures, price_seen_words, unit_price_words
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
def slip_reading(line: SlipLine, currency: str) -> str:
    """Return how a line of a slip was read, where that is more than its name and price."""
    return slip_words(line, currency, ENGLISH)


@register.simple_tag
def closing_words(closing: Closing, currency: str) -> str:
    """Return whether a slip's lines come to its total."""
    return closed_words(closing, currency, ENGLISH)
