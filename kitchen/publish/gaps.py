"""What a recipe's linked data lack of what search engines' recipe pages ask for or recommend."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from kitchen.domain.remark import Remark, remark

ASKED_FOR = (
    *("image", "description", "keywords", "recipeCategory", "recipeCuisine", "recipeIngredient", "recipeInstructions"),
    *("prepTime", "cookTime", "totalTime", "nutrition", "estimatedCost", "supply"),
)
"""Properties of a schema.org Recipe; which of them search engines ask for is from memory."""


def gaps_in(linked: Mapping[str, Any], *, has_photo: bool, has_address: bool) -> list[Remark]:
    """Return what is missing and how it comes there, in the order of ``ASKED_FOR``; the site's own address first.

    ``linked`` are the linked data. A picture of the figures stands in for a photo, and is told as a gap all the same.
    """
    missing = [name for name in ASKED_FOR if name not in linked or (name == "image" and not has_photo)]
    return [*([] if has_address else [remark("gap_address")]), *(remark(f"gap_{name}") for name in missing)]
