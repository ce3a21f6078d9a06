"""The door of the importers: a saved file's bytes, or pasted text, become the recipe that they hold."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from kitchen.importers.beside_page import beside
from kitchen.importers.decoding import MOST_BYTES, read_bytes
from kitchen.importers.found import ReadPage, ReadRecipe, ReadStep, ReadTimes, UnreadableRecipe
from kitchen.importers.linked_data import TOO_DEEP, recipes_in, recipes_in_page
from kitchen.importers.loose_json import TooDeep, read_json
from kitchen.importers.marked_up import marked_recipes
from kitchen.importers.markup import Document, scan
from kitchen.importers.page_text import canonical, guess_recipe, meta, page_title
from kitchen.importers.pasted import read_text
from kitchen.importers.recipe_node import read_node
from kitchen.importers.yields import makes_wholes

MOST_OTHERS = 10
_LOOKS_MARKED_UP = re.compile(
    r"<(?:!doctype|html|head|body|meta|script|div|section|article|p|ul|ol|li|h[1-6]|table|span)\b", re.IGNORECASE
)
_NOTHING = (
    "No recipe was found in this page: it carries no recipe data, and has no headings such as “Ingredients”"
    " and “Method” with a list "
    "below them. Open the page, copy the recipe's text, and paste it below."
)
_NO_DATA = "This JSON holds no recipe: nothing in it is of the type Recipe, or has ingredients and instructions."
_GUESSED = {
    "title": "The title",
    "parts": "The ingredients",
    "steps": "The steps",
    "makes": "What it makes",
    "times": "The times",
}


def read_file(data: bytes) -> ReadPage:
    """Return what a saved file holds: a page as HTML, recipe data as JSON, or plain text.

    Raises
    ------
    UnreadableRecipe
        With a sentence for a person, if it is no text, is larger than 10 MB, or holds no recipe.

    Examples
    --------
    >>> read_file(b'{"@type": "Recipe", "name": "Soup", "recipeIngredient": ["1 leek"]}').recipe.lines
    ('1 leek',)
    """
    return read_typed(read_bytes(data))


def read_typed(text: str) -> ReadPage:
    """Return what a text holds, whichever of the three it is; raises UnreadableRecipe as ``read_file`` does."""
    if len(text) > MOST_BYTES:
        raise UnreadableRecipe(f"This text has {len(text):,} characters; 10 million fit. Paste the recipe alone.")
    start = text.lstrip("\ufeff \t\r\n")
    if not start:
        raise UnreadableRecipe("There is nothing in it. Choose a saved page, or paste the recipe's text.")
    if start[0] in "{[" and '"' in start[:2000]:
        return _of_data(start)
    if _LOOKS_MARKED_UP.search(start[:200_000]):
        return _of_page(scan(text))
    return ReadPage(_with_doubts(read_text(text)))


def _of_data(text: str) -> ReadPage:
    try:
        nodes = recipes_in(read_json(text))
    except TooDeep:
        raise UnreadableRecipe(f"This JSON cannot be read. {TOO_DEEP}") from None
    recipes = [recipe for recipe in (read_node(node, "json-ld") for node in nodes) if recipe.fullness[1]]
    if not recipes:
        raise UnreadableRecipe(_NO_DATA)
    chosen, *others = _fullest_first(recipes, "")
    return ReadPage(_with_doubts(chosen), tuple(map(_with_doubts, others[:MOST_OTHERS])))


def _of_page(page: Document) -> ReadPage:
    nodes, doubts = recipes_in_page(page)
    found = [read_node(node, "json-ld") for node in nodes]
    found += [read_node(node, source) for source, node in marked_recipes(page)]
    recipes = _fullest_first([recipe for recipe in found if recipe.fullness[1] or recipe.title], page_title(page))
    if page.cut:
        doubts = [*doubts, "The page has more than 200,000 elements; what comes after them was not read."]
    guess = guess_recipe(page)
    if recipes and recipes[0].fullness[1]:
        chosen, others = _merged(recipes)
        chosen = _completed(chosen, guess, page)
        differs, as_shown = beside(chosen, guess)
        doubts, others = [*doubts, *differs], [*as_shown, *others]
    else:
        chosen, others = guess, []
        if recipes:
            chosen = recipes[0].with_gaps_from(chosen, guess=True)
    if not chosen.fullness[1]:
        raise UnreadableRecipe(" ".join([*doubts, _NOTHING]))
    told = _with_doubts(replace(chosen, not_understood=(*chosen.not_understood, *doubts)))
    return ReadPage(told, tuple(_with_doubts(other) for other in others[:MOST_OTHERS]))


def _fullest_first(recipes: list[ReadRecipe], title: str) -> list[ReadRecipe]:
    """Return recipes with the one that the page is about first: a whole one, of the page's title, the fullest."""

    def worth(recipe: ReadRecipe) -> tuple[Any, ...]:
        whole, length, figures = recipe.fullness
        return whole, _alike(recipe.title, title), length, figures

    return sorted(recipes, key=worth, reverse=True)


def _alike(name: str, title: str) -> bool:
    name, title = (" ".join(re.findall(r"\w+", words.lower())) for words in (name, title))
    return bool(name and title) and (name in title or title in name)


def _merged(recipes: list[ReadRecipe]) -> tuple[ReadRecipe, list[ReadRecipe]]:
    """Return the first recipe with what other readings of the same one add, and the readings of other recipes."""
    chosen = recipes[0]
    others: list[ReadRecipe] = []
    for other in recipes[1:]:
        if not other.title or not chosen.title or _same(chosen, other):
            chosen = chosen.with_gaps_from(other)
        elif other.lines and other.steps and not any(_same(other, each) for each in others):
            others.append(other)
    return chosen, others


def _same(one: ReadRecipe, other: ReadRecipe) -> bool:
    return _alike(one.title, other.title) or bool(one.lines and one.lines == other.lines)


def _completed(recipe: ReadRecipe, guess: ReadRecipe, page: Document) -> ReadRecipe:
    """Return a recipe with what its data does not say taken from the page around it."""
    whole = recipe.lines and recipe.steps and recipe.title and recipe.makes.number and recipe.times
    if not whole:
        recipe = recipe.with_gaps_from(replace(guess, summary="", home_url=""), guess=True)
    if len(recipe.steps) == 1 and len(guess.steps) > 1 and _letters(recipe.steps) == _letters(guess.steps):
        recipe = replace(recipe, steps=guess.steps)  # the same words, parted as the page shows them
    address = recipe.home_url or canonical(page) or meta(page, "og:url")
    return replace(
        recipe, home_url=address if address.lower().startswith(("http://", "https://")) and len(address) <= 200 else ""
    )


def _letters(steps: tuple[ReadStep, ...]) -> str:
    return "".join(letter for step in steps for letter in step.text if letter.isalnum())


def _with_doubts(recipe: ReadRecipe) -> ReadRecipe:
    """Return a recipe with the sentences about what was guessed, and about what is missing."""
    said = [
        f"{_GUESSED[name]} came from the page's headings and text, not from its data: compare with the page."
        for name in recipe.guessed
    ]
    if recipe.source == "page" and not recipe.guessed:
        said = ["The page carries no recipe data: all of this is a guess from its headings and lists. Compare with the page."]
    missing = (
        (recipe.title, "There is no title. Type one."),
        (recipe.lines, "No ingredients were found."),
        (recipe.steps, "No steps were found."),
    )
    said += [words for there, words in missing if not there]
    told = (*said, *_doubts_about_yield(recipe), *_doubts_about_times(recipe.times), *recipe.not_understood)
    return replace(recipe, not_understood=told)


_LONG_MIN = 5 * 60


def _doubts_about_times(times: ReadTimes) -> list[str]:
    """Return what is odd about the times: long ones that were only added up here, a total shorter than its parts."""
    prep_min, cook_min, total_min = (minutes or 0 for minutes in (times.prep_min, times.cook_min, times.total_min))
    if times.summed and max(prep_min, cook_min) >= _LONG_MIN:
        return [
            f"The page gives no total; {prep_min:,} min preparation and {cook_min:,} min cooking are long. See whether minutes "
            "were meant, and whether most of it is waiting."
        ]
    if not times.summed and total_min < max(prep_min, cook_min):
        return [f"The page says {total_min:,} min in all, which is less than its {max(prep_min, cook_min):,} min alone."]
    return []


def _doubts_about_yield(recipe: ReadRecipe) -> list[str]:
    makes = recipe.makes
    if makes.number is None:
        shown = f"“{makes.words}” gives no number of servings." if makes.words else "How many servings it makes is not said."
        return [f"{shown} Type how many people these amounts feed."]
    if makes_wholes(makes):
        servings = f"{makes.number} serving{'' if makes.number == 1 else 's'}"
        return [f"It makes “{makes.words}”, which stands below as {servings}. Type how many people it feeds."]
    return []
