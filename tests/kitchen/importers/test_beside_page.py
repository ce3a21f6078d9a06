"""A page's data beside what it shows, times that are odd, and lists that stand there several times."""

import json

import pytest

from kitchen.importers import read_typed
from kitchen.importers.durations import read_times
from tests.kitchen.importers.sampling import node_of, page_with
from tests.kitchen.importers.visible_samples import HAM

SHOWN = (
    *HAM.lines,
    "1 bay leaf",
    "2 cloves garlic",
    "1 tsp salt",
    "400 ml water",
    "20 g butter",
    "1 lemon",
    "30 g parsley",
    "pepper",
)


def shown(lines, steps=HAM.steps):
    listed = ["".join(f"<li>{text}</li>" for text in texts) for texts in (lines, steps)]
    return f"<h2>Ingredients</h2><ul>{listed[0]}</ul><h2>Method</h2><ol>{listed[1]}</ol>"


def read(body, **changed):
    return read_typed(page_with(json.dumps(node_of(HAM, **changed)), body=body))


def test_data_with_few_of_the_ingredients_are_doubted_and_the_page_offered():
    page = read(shown(SHOWN), recipeIngredient=list(SHOWN[:3]))
    assert page.recipe.lines == SHOWN[:3]
    assert "The page shows 13 ingredients, its data hold 3." in page.recipe.not_understood
    (other,) = page.others
    assert (other.title, other.lines, other.source) == (HAM.title, SHOWN, "page")
    assert other.makes == page.recipe.makes
    assert any("compare with the page" in words for words in other.not_understood)
    assert not any("carries no recipe data" in words for words in other.not_understood)


def test_data_without_the_units_are_doubted():
    lines = [line.replace(" g ", " ").replace(" ml ", " ").replace(" tbsp ", " ") for line in SHOWN]
    page = read(shown(SHOWN), recipeIngredient=lines)
    assert any("The page shows units for" in words for words in page.recipe.not_understood)
    assert page.others[0].lines == SHOWN


def test_data_with_less_of_the_method_are_doubted():
    steps = [f"{text} Then look after it, taste it, and turn it over with a wide spoon." for text in HAM.steps]
    page = read(shown(HAM.lines, steps), recipeInstructions=[HAM.steps[0]])
    assert "The page shows 3 steps, its data hold 1." in page.recipe.not_understood
    assert [step.text for step in page.others[0].steps] == steps


@pytest.mark.parametrize(
    "body",
    [
        shown(HAM.lines),
        shown([*HAM.lines, "1 bay leaf"]),
        "",
        shown(["3 screws", "2 boards", "1 hammer", "4 nails", "1 saw", "2 m string", "1 brush", "6 hooks", "1 l paint"]),
    ],
    ids=["the same", "one more", "nothing", "something else"],
)
def test_data_that_hold_what_the_page_shows_are_not_doubted(body):
    page = read(body)
    assert page.recipe.lines == HAM.lines
    assert page.others == ()
    assert not any("The page shows" in words for words in page.recipe.not_understood)


def doubts_about_times(**times):
    return [words for words in read("", **times).recipe.not_understood if " min " in words]


def test_hours_that_may_be_minutes_are_doubted():
    (doubt,) = doubts_about_times(prepTime="PT10H", cookTime="PT30H", totalTime=None)
    assert "600 min preparation and 1,800 min cooking are long" in doubt
    (doubt,) = doubts_about_times(prepTime="PT10H", cookTime="PT30M", totalTime=None)
    assert "whether most of it is waiting" in doubt
    (doubt,) = doubts_about_times(prepTime="PT10M", cookTime="PT30M", totalTime="PT5M")
    assert "5 min in all, which is less" in doubt
    assert doubts_about_times(prepTime="PT10M", cookTime="PT30M", totalTime=None) == []
    assert doubts_about_times(prepTime="PT15M", cookTime="PT8H", totalTime="PT8H15M") == []


@pytest.mark.parametrize(
    ("prep", "cook", "minutes"),
    [
        ("20 min plus 10 hours resting", "20 min", (20, 20, 40)),
        ("10 min + overnight soaking", "30 min", (10, 30, 40)),
        ("15 minutes, plus 30 h chilling", "25 minutes", (15, 25, 40)),
        ("1 hour and 10 min", "30 min", (70, 30, 100)),
        ("2 h marinating", "30 min", (120, 30, 150)),
    ],
)
def test_waiting_that_is_told_behind_the_work_is_no_work(prep, cook, minutes):
    times = read_times([prep], [cook], [])
    assert (times.prep_min, times.cook_min, times.total_min) == minutes


def test_lists_for_several_numbers_of_portions_are_told():
    lists = "".join(f"<ul><li>{n * 100} g rice<li>{n} onions<li>{n * 2} tbsp oil</ul>" for n in (2, 4, 6))
    recipe = read_typed(f"<h1>Rice</h1><h2>Ingredients</h2>{lists}<h2>Method</h2><p>Boil it.").recipe
    assert recipe.lines == ("200 g rice", "2 onions", "4 tbsp oil")
    assert any("The first list was taken" in words for words in recipe.not_understood)
