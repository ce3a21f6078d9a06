"""A shopping list in words."""

from __future__ import annotations

from dataclasses import dataclass

from costing.domain.conversion import based
from costing.domain.shopping import ShoppingList
from costing.domain.till import TillItem
from costing.words.remarks import Language, words_of
from costing.words.sums import bought_words, sum_words
from kitchen.domain.packs import LOOSE, pack_words


@dataclass(frozen=True)
class ListedRow:
    """One thing to buy; ``left`` is what is left over of it."""

    food: str
    packs: str
    cost: str
    left: str = ""


@dataclass(frozen=True)
class ListedStop:
    """What is bought in one aisle of one shop."""

    shop: str
    aisle: str
    rows: tuple[ListedRow, ...]


def listed_rows(bought: ShoppingList, currency: str, language: Language) -> list[ListedStop]:
    """Return the list stop by stop, each thing as a cook asks for it."""
    told = ((stop, tuple(_row(item, currency, language) for item in stop.items)) for stop in bought.stops)
    return [ListedStop(stop.shop, stop.aisle, rows) for stop, rows in told]


def missing_words(bought: ShoppingList, language: Language) -> list[tuple[str, str]]:
    """Return what has no price, each with its reason."""
    return [(words_of(gap.words, language), words_of(gap.reason, language)) for gap in bought.missing]


def _row(item: TillItem, currency: str, language: Language) -> ListedRow:
    quote, cost = item.quote, sum_words(item.cost, currency, language)
    food = f"{item.food}, {quote.brand}" if quote.brand else item.food
    if quote.sold == LOOSE:
        return ListedRow(food, bought_words(item.packs * based(quote.pack_amount, quote.pack_unit)[0], item.base), cost)
    packs = pack_words(quote.pack_amount, quote.pack_unit, int(item.packs))
    return ListedRow(food, packs, cost, bought_words(item.left, item.base) if item.left else "")
