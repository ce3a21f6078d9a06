"""Saying where a recipe stands outside this site."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from kitchen.models import Recipe

ELSEWHERE = ("blog_url", "film_url", "film_on", "film_chapters")


def say_elsewhere(*, recipe: Recipe, values: Mapping[str, Any], at: datetime) -> None:
    """Set the recipe's home and its film. Readers see it at once: it is no part of an edition."""
    told = {name: values[name] for name in ELSEWHERE}
    Recipe.objects.filter(pk=recipe.pk).update(**told, updated_at=at)
