"""A recipe's allergens: the union of its foods, optional lines, unknown lines, and the cook's word."""

import pytest

from kitchen.domain.allergens import allergens_of, listed, of_recipe, ordered
from kitchen.domain.facts import FoodFacts, LineFacts, PartFacts, RecipeFacts


def food(name, *keys, sr_number=1):
    return FoodFacts(name, sr_number=sr_number, allergens=keys)


FLOUR = food("plain flour", "gluten", "wheat")
BARLEY = food("pearl barley", "gluten")
BUTTER = food("unsalted butter", "milk")
MILK = food("whole milk", "milk")
CELERY = food("celery", "celery")
CUBE = food("stock cube", "celery?", "gluten?", "wheat?")


def line(held=None, name="", **more):
    return LineFacts(name or (held.name if held else "?"), name=name or (held.name if held else ""), food=held, **more)


def told(*lines, added=(), removed=()):
    return listed(lines, added, removed)


def in_words(entries):
    return [(entry.words, entry.foods) for entry in entries]


def test_foods_add_up_and_each_allergen_names_what_brings_it():
    found = told(line(FLOUR), line(BUTTER), line(MILK), line(food("onion")))
    assert found.keys == ("wheat", "gluten", "milk")
    assert in_words(found.found) == [("wheat (gluten)", ("plain flour",)), ("milk", ("unsalted butter", "whole milk"))]
    assert (found.unknown, found.labels) == ((), ())


def test_barley_is_gluten_beside_wheat_and_alone():
    assert in_words(told(line(BARLEY)).found) == [("gluten", ("pearl barley",))]
    assert in_words(told(line(BARLEY), line(FLOUR)).found) == [
        ("wheat (gluten)", ("plain flour",)),
        ("other cereals with gluten", ("pearl barley",)),
    ]


def test_the_same_food_twice_is_named_once():
    assert in_words(told(line(BUTTER), line(BUTTER)).found) == [("milk", ("unsalted butter",))]


def test_what_only_a_label_tells_stands_apart_until_a_food_is_sure():
    alone = told(line(CUBE))
    assert (alone.keys, in_words(alone.labels)) == ((), [("wheat (gluten)", ("stock cube",)), ("celery", ("stock cube",))])
    assert alone.label_keys == ("wheat", "gluten", "celery")
    with_celery = told(line(CUBE), line(CELERY))
    assert in_words(with_celery.found) == [("celery", ("celery",))]
    assert in_words(with_celery.labels) == [("wheat (gluten)", ("stock cube",))]


def test_an_optional_line_is_marked_unless_another_line_brings_it_too():
    assert [entry.optional for entry in told(line(CELERY, optional=True)).found] == [True]
    assert [entry.optional for entry in told(line(CELERY, optional=True), line(CELERY)).found] == [False]


def test_lines_without_a_food_are_named_and_never_taken_for_harmless():
    assert told(line(name="star dust"), LineFacts("as typed"), line(BUTTER)).unknown == ("star dust", "as typed")


def test_a_cook_s_own_food_is_unknown_until_the_cook_speaks():
    assert told(line(food("camp loaf", sr_number=None))).unknown == ("camp loaf",)
    assert told(line(food("well water", "none", sr_number=None))).unknown == ()
    assert told(line(food("camp loaf", "wheat", sr_number=None))).keys == ("wheat", "gluten")


def test_what_the_cook_adds_is_marked_as_the_cook_s_word():
    found = told(line(BUTTER), added=["sesame", "milk"]).found
    assert [(entry.words, entry.added, entry.optional) for entry in found] == [("milk", True, False), ("sesame", True, False)]


def test_wheat_added_brings_gluten():
    assert told(added=["wheat"]).keys == ("wheat", "gluten")
    assert in_words(told(added=["wheat"]).found) == [("wheat (gluten)", ())]


def test_what_the_cook_takes_off_is_gone_and_said():
    found = told(line(FLOUR), line(CUBE), removed=["wheat", "gluten", "celery"])
    assert (found.keys, found.found, found.labels) == ((), (), ())
    assert found.without == ("wheat (gluten)", "celery")


def test_taking_off_wheat_alone_leaves_the_gluten():
    assert in_words(told(line(FLOUR), removed=["wheat"]).found) == [("gluten", ("plain flour",))]
    assert in_words(told(line(FLOUR), removed=["gluten"]).found) == [("wheat", ("plain flour",))]


def test_it_says_what_only_one_of_the_two_laws_lists():
    found = told(line(CELERY), line(BUTTER), line(food("pine nuts", "pine_nuts")), line(food("squid", "molluscs")))
    assert (found.only_eu, found.only_us) == (("celery", "molluscs"), ("pine nuts",))
    assert told(line(FLOUR)).only_eu == ()


def test_an_entry_does_not_say_the_same_word_twice():
    found = told(line(CELERY), line(food("celery seed", "celery")))
    assert [entry.brought_by for entry in told(line(CELERY)).found + found.found] == ["", "celery, celery seed"]


@pytest.mark.parametrize(
    ("written", "read"), [("egg", ("eggs",)), ("peanut", ("peanuts",)), ("sulphite", ("sulphites",)), ("dust", ())]
)
def test_earlier_spellings_of_a_food_still_count(written, read):
    assert allergens_of(food("own", written, sr_number=None)) == read


def test_unknown_keys_are_dropped():
    assert ordered(["dust", "none", "?", "milk", "milk"]) == ("milk",)


def recipe(**more):
    return RecipeFacts("pot", "Pot", "", 4, 1, parts=(PartFacts("", (line(BUTTER),)), PartFacts("Top", (line(),))), **more)


def test_a_recipe_tells_its_allergens_from_its_frozen_lines():
    facts = recipe(allergens_told=True, allergens_added=("lupin",))
    assert of_recipe(facts).keys == ("milk", "lupin")
    assert of_recipe(facts).unknown == ("?",)


def test_an_edition_from_before_says_nothing():
    assert of_recipe(recipe()) is None
