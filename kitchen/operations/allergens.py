"""The cook's own word about a recipe's allergens."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from kitchen.domain.allergens import ordered
from kitchen.models import Recipe


def say_allergens(*, recipe: Recipe, added: Iterable[str], removed: Iterable[str], at: datetime) -> None:
    """Keep what the cook adds to the allergens of the foods and takes off them; readers see it with the next edition."""
    recipe.allergens = {"added": list(ordered(added)), "removed": list(ordered(removed))}
    recipe.updated_at = at
    recipe.save(update_fields=["allergens", "updated_at"])
