"""Finding the food that somebody typed."""

from __future__ import annotations

import difflib
from dataclasses import dataclass, field

from kitchen.models import Food


@dataclass(frozen=True)
class FoodNames:
    """Every food by its name and its other names, all in small letters."""

    ids: dict[str, int] = field(default_factory=dict)
    names: tuple[str, ...] = ()

    def find(self, typed: str) -> int | None:
        """Return the food that has this name or other name, or None."""
        return self.ids.get(" ".join(typed.casefold().split()))

    def like(self, typed: str) -> list[str]:
        """Return up to four names that look like what was typed."""
        words = " ".join(typed.casefold().split())
        holding = [name for name in self.names if words and words in name.casefold()]
        close = difflib.get_close_matches(words, [name.casefold() for name in self.names], n=4, cutoff=0.6)
        by_small = {name.casefold(): name for name in self.names}
        return list(dict.fromkeys([*sorted(holding, key=len), *(by_small[name] for name in close)]))[:4]


def food_names() -> FoodNames:
    """Return the names of all foods. One query."""
    rows = list(Food.objects.order_by("name").values_list("pk", "name", "aliases"))
    ids = {alias.casefold(): pk for pk, _, aliases in rows for alias in aliases}
    ids |= {name.casefold(): pk for pk, name, _ in rows}
    return FoodNames(ids, tuple(name for _, name, _ in rows))
