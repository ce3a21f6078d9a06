"""Reads: what the costing tables say, each with what it needs in a constant number of queries."""

from costing.queries.collecting import SheetAsk, Waiting, cost_facts, prices_exist, unpriced_count, what_waits
from costing.queries.foods import FoodNames, food_names
from costing.queries.prices import (
    PriceAsk,
    default_yields,
    history_of,
    item_words,
    price_numbers,
    quotes_of,
    shop_countries,
    shops,
    what_replaced,
    yields,
)
from costing.queries.recipe import MissingPrice, RecipePrices, recipe_prices
from costing.queries.sheets import (
    end_of_day,
    offer_of,
    sheet_rules,
    today,
)
from costing.queries.watch import OddPrice, Watch, odd_prices, watch

__all__ = [
    "FoodNames",
    "MissingPrice",
    "OddPrice",
    "PriceAsk",
    "RecipePrices",
    "SheetAsk",
    "Waiting",
    "Watch",
    "cost_facts",
    "default_yields",
    "end_of_day",
    "food_names",
    "history_of",
    "item_words",
    "odd_prices",
    "offer_of",
    "price_numbers",
    "prices_exist",
    "quotes_of",
    "recipe_prices",
    "sheet_rules",
    "shop_countries",
    "shops",
    "today",
    "unpriced_count",
    "watch",
    "what_replaced",
    "what_waits",
    "yields",
]
