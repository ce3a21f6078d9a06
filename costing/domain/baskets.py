"""Baskets: what a shopping list costs at each shop alone, and item by item where each thing costs least."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from costing.domain.shopping import ShoppingList
from costing.domain.till import TillItem


@dataclass(frozen=True)
class Basket:
    """What is bought at one shop, exact, and the foods of the list that have no price there; without a shop, item by item."""

    shop: str
    cost: Fraction
    items: tuple[TillItem, ...]
    lacks: tuple[str, ...] = ()


@dataclass(frozen=True)
class Baskets:
    """The shops, those that have most of the list first, of equals the cheaper; and everything where it costs least.

    ``saves`` is what buying item by item saves over the cheapest shop that has everything; None where no shop does.
    """

    shops: tuple[Basket, ...]
    apart: Basket
    saves: Fraction | None


def baskets(usual: ShoppingList, lists: Mapping[str, ShoppingList], others: Sequence[ShoppingList] = ()) -> Baskets:
    """Return what a list costs shop by shop and item by item, in whole packs from an empty larder.

    Parameters
    ----------
    usual : ShoppingList
        The list by the kitchen's rule: it says what is bought at all.
    lists : mapping of str to ShoppingList
        The same by each shop's newest prices, where that shop has any.
    others : sequence of ShoppingList
        The same by other rules, for the search of the least.

    Notes
    -----
    A food's things are bought together: at a shop that has only some of them it counts as lacking.
    """
    foods = list(dict.fromkeys(item.food for item in _items(usual)))
    shops = [_at(shop, foods, _by_food(one)) for shop, one in lists.items()]
    every = [_by_food(one) for one in (usual, *lists.values(), *others)]
    cheapest = [min((held[food] for held in every if food in held), key=_cost) for food in foods]
    apart = Basket("", sum(map(_cost, cheapest), Fraction(0)), tuple(item for items in cheapest for item in items))
    ranked = sorted(
        (basket for basket in shops if basket.items), key=lambda basket: (len(basket.lacks), basket.cost, basket.shop)
    )
    whole = next((basket for basket in ranked if not basket.lacks), None)
    return Baskets(tuple(ranked), apart, None if whole is None else whole.cost - apart.cost)


def _items(bought: ShoppingList) -> list[TillItem]:
    return [item for stop in bought.stops for item in stop.items]


def _by_food(bought: ShoppingList) -> dict[str, list[TillItem]]:
    held: dict[str, list[TillItem]] = {}
    for item in _items(bought):
        held.setdefault(item.food, []).append(item)
    return held


def _at(shop: str, foods: Sequence[str], held: Mapping[str, Sequence[TillItem]]) -> Basket:
    there = [food for food in foods if food in held and all(item.quote.shop == shop for item in held[food])]
    items = tuple(item for food in there for item in held[food])
    return Basket(shop, _cost(items), items, tuple(food for food in foods if food not in there))


def _cost(items: Sequence[TillItem]) -> Fraction:
    return sum((item.cost for item in items), Fraction(0))
