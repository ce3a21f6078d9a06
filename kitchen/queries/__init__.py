"""Reads: what the kitchen's tables say, each with the prefetches it needs."""

from kitchen.queries.collecting import collect_facts, food_facts, photo_facts, recipe_facts
from kitchen.queries.published import (
    SORTS,
    ShelfAsk,
    ShelfPlate,
    editions_of,
    recipe_at,
    shelf,
    shelf_plates,
    slug_now,
)
from kitchen.queries.site import the_site

__all__ = [
    "SORTS",
    "ShelfAsk",
    "ShelfPlate",
    "collect_facts",
    "editions_of",
    "food_facts",
    "photo_facts",
    "recipe_at",
    "recipe_facts",
    "shelf",
    "shelf_plates",
    "slug_now",
    "the_site",
]
