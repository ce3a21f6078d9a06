"""A shopping list: whole packs for several dishes with their sides, by shop and aisle."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from costing.domain.bought import Bought
from costing.domain.facts import LeftOut
from costing.domain.sheet import Sheet, unpriced
from costing.domain.till import TillItem, till_items

NO_AISLE = ""


@dataclass(frozen=True)
class Stop:
    """What is bought in one aisle of one shop."""

    shop: str
    aisle: str
    items: tuple[TillItem, ...]


@dataclass(frozen=True)
class ShoppingList:
    """Where what is bought, what it costs in all, exact, and what has no price."""

    stops: tuple[Stop, ...]
    cost: Fraction
    missing: tuple[LeftOut, ...]


def shopping_list(sheets: Sequence[Sheet], aisles: Mapping[str, str]) -> ShoppingList:
    """Return what to buy for all the sheets together, from an empty larder; dishes share their packs.

    Parameters
    ----------
    sheets : sequence of Sheet
        One for each dish, for its own number of servings.
    aisles : mapping
        The aisle of a food by its name; nothing for foods that have none.

    Examples
    --------
    >>> shopping_list([], {}).cost
    Fraction(0, 1)
    """
    bought: list[Bought] = [one for sheet in sheets for one in (*sheet.bought, *sheet.sides_bought)]
    items = till_items(bought)
    places = sorted({(item.quote.shop, aisles.get(item.food, NO_AISLE)) for item in items}, key=_no_aisle_last)
    stops = tuple(Stop(shop, aisle, tuple(_of(items, shop, aisle, aisles))) for shop, aisle in places)
    missing = tuple(gap for sheet in sheets for gap in _missing(sheet))
    return ShoppingList(stops, sum((item.cost for item in items), Fraction(0)), missing)


def _no_aisle_last(place: tuple[str, str]) -> tuple[str, bool, str]:
    return place[0], not place[1], place[1]


def _of(items: Iterable[TillItem], shop: str, aisle: str, aisles: Mapping[str, str]) -> list[TillItem]:
    own = [item for item in items if (item.quote.shop, aisles.get(item.food, NO_AISLE)) == (shop, aisle)]
    return sorted(own, key=lambda item: item.food)


def _missing(sheet: Sheet) -> Iterable[LeftOut]:
    yield from unpriced(sheet.facts.lines)
    for share in sheet.sides:
        yield from share.side.left_out or ((LeftOut(share.side.title, share.side.reason),) if share.cost is None else ())
