"""A recipe's data beside what its page shows: where the page shows much more, that is said, and the cook may choose."""

from __future__ import annotations

import re
from dataclasses import replace

from kitchen.domain.lines import parse_line
from kitchen.domain.nouns import singular
from kitchen.importers.found import ReadRecipe

_MUCH = 1.5
_MORE_LINES = 3
_MORE_CHARACTERS = 120
_WORD = re.compile(r"[^\W\d_]{3,}")


def beside(recipe: ReadRecipe, shown: ReadRecipe) -> tuple[list[str], list[ReadRecipe]]:
    """Return sentences about where a page shows much more than its data hold, and the recipe as shown; both empty where not.

    Parameters
    ----------
    recipe : ReadRecipe
        As the data have it.
    shown : ReadRecipe
        As the headings and lists of the page have it: a guess, which counts only where it is about the same food.
    """
    told = []
    if recipe.guessed:
        return [], []
    if _same_food(recipe, shown):
        told += _about_lines(recipe, shown)
    held, seen = (sum(len(step.text) for step in each.steps) for each in (recipe, shown))
    if _much_more(held, seen, _MORE_CHARACTERS) and len(shown.steps) > len(recipe.steps):
        told.append(f"The page shows {len(shown.steps)} steps, its data hold {len(recipe.steps)}.")
    if not told:
        return [], []
    as_shown = replace(
        recipe,
        parts=shown.parts or recipe.parts,
        steps=shown.steps or recipe.steps,
        source="page",
        guessed=("parts", "steps"),
        not_understood=(),
    )
    return [*told, "These are the data; what the page shows can be chosen below, among the other recipes."], [as_shown]


def _about_lines(recipe: ReadRecipe, shown: ReadRecipe) -> list[str]:
    if _much_more(len(recipe.lines), len(shown.lines), _MORE_LINES):
        return [f"The page shows {len(shown.lines)} ingredients, its data hold {len(recipe.lines)}."]
    held, seen = _amounts(recipe), _amounts(shown)
    for place, what in enumerate(("amounts", "units")):
        if _much_more(held[place], seen[place], _MORE_LINES):
            return [f"The page shows {what} for {seen[place]} ingredients, its data for {held[place]}."]
    return []


def _amounts(recipe: ReadRecipe) -> tuple[int, int]:
    """Return how many lines have an amount, and how many a unit."""
    read = [parse_line(line) for line in recipe.lines[:100]]
    return sum(line.low is not None for line in read), sum(line.low is not None and bool(line.unit) for line in read)


def _much_more(held: int, shown: int, more: int) -> bool:
    return shown >= held * _MUCH and shown >= held + more


def _same_food(recipe: ReadRecipe, shown: ReadRecipe) -> bool:
    """Say whether at least half of the lines name foods that the page names too."""
    seen = {word for line in shown.lines[:200] for word in _words(line)}
    named = [words for line in recipe.lines[:200] if (words := _words(parse_line(line).name))]
    return bool(seen) and 2 * sum(not words.isdisjoint(seen) for words in named) >= len(named)


def _words(text: str) -> set[str]:
    return {singular(word) for word in _WORD.findall(text.lower())}
