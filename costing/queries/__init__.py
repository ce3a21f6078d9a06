"""Reads: what the costing tables say, each with what it needs in a constant number of queries."""

from costing.queries.collecting import Waiting, WhatWaits, cost_facts, unpriced_count, what_waits
from costing.queries.foods import FoodNames, food_names
from costing.queries.prices import (
    PriceAsk,
    default_yields,
    history_of,
    prices,
    shop_names,
    shops,
    yields,
)
from costing.queries.recipe import MissingPrice, RecipeLine, RecipePrices, recipe_prices
from costing.queries.sheets import (
    Published,
    SideFound,
    costed_lines,
    offer_of,
    price_book,
    published_by,
    quote_rule,
    sheet_rules,
    sides_of,
    today,
)

__all__ = [
    "FoodNames",
    "MissingPrice",
    "PriceAsk",
    "Published",
    "RecipeLine",
    "RecipePrices",
    "SideFound",
    "Waiting",
    "WhatWaits",
    "cost_facts",
    "costed_lines",
    "default_yields",
    "food_names",
    "history_of",
    "offer_of",
    "price_book",
    "prices",
    "published_by",
    "quote_rule",
    "recipe_prices",
    "sheet_rules",
    "shop_names",
    "shops",
    "sides_of",
    "today",
    "unpriced_count",
    "what_waits",
    "yields",
]
