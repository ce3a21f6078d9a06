"""The same shopping list by other rules: at each shop that sells some of it, and where things cost least."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from django.db.models import Count

from costing.domain.baskets import Baskets, baskets
from costing.domain.shopping import ShoppingList, shopping_list
from costing.models import SheetRules, Shop
from costing.queries.sheets import sheet_rules, today
from costing.queries.shopping import Dish, sheets_for

MOST_SHOPS = 6
"""So many shops are compared, those that sell most of the list's foods."""


def compared(chosen: Sequence[Dish], usual: ShoppingList, aisles: Mapping[str, str], *, at: datetime) -> Baskets:
    """Return what a list costs at each shop and item by item. So many queries for each shop and dish."""
    foods = {item.food for stop in usual.stops for item in stop.items}
    sold = Shop.objects.filter(quotes__taken_back_at=None, quotes__day__lte=today(at), quotes__item__food__name__in=foods)
    shops = sold.annotate(foods=Count("quotes__item__food", distinct=True)).order_by("-foods", "name")[:MOST_SHOPS]
    kitchens = sheet_rules()

    def by(rule: str, shop: Shop | None = None) -> ShoppingList:
        rules = SheetRules(pk=1, rule=rule, last=kitchens.last, shop=shop, allowance_pct=kitchens.allowance_pct)
        return shopping_list(sheets_for(list(chosen), at=at, rules=rules), aisles)

    return baskets(usual, {shop.name: by("shop", shop) for shop in shops}, [by("cheapest")])
