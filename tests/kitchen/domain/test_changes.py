"""What changed, in words."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.changes import what_changed
from kitchen.domain.facts import FoodFacts, LineFacts, PartFacts, RecipeFacts, SideFacts, StepFacts

LENTILS = LineFacts("250 g red lentils, rinsed", Fraction(250), Fraction(250), "g", name="red lentils")
STOCK = LineFacts("800 mL vegetable stock", Fraction(800), Fraction(800), "mL", name="vegetable stock")
BROWN = StepFacts("Warm the oil and brown the onions.", "brown", Decimal(9))
HOLD = StepFacts("Leave it alone.", "hold", Decimal(8), Decimal(115))


def recipe(**changes):
    facts = RecipeFacts(
        "pot", "Pot", "One line.", servings=6, revision=1, parts=(PartFacts("", (LENTILS, STOCK)),), steps=(BROWN, HOLD)
    )
    return replace(facts, **changes)


def with_lines(*lines, title=""):
    return recipe(parts=(PartFacts(title, lines),))


def test_the_same_says_nothing():
    assert what_changed(recipe(), recipe(revision=2)) == ()


def test_an_amount_is_one_changed_line():
    more = replace(LENTILS, text="300 g red lentils, rinsed", low=Fraction(300), high=Fraction(300))
    said = what_changed(recipe(), with_lines(more, STOCK))
    assert said == ("“250 g red lentils, rinsed” became “300 g red lentils, rinsed”.",)


def test_lines_come_and_go():
    lemon = LineFacts("1 lemon, juice", Fraction(1), Fraction(1), name="lemon")
    assert what_changed(recipe(), with_lines(LENTILS, lemon)) == ("New: “1 lemon, juice”.", "Left out: “800 mL vegetable stock”.")


def test_a_double_line_is_counted():
    assert what_changed(recipe(), with_lines(LENTILS, LENTILS, STOCK)) == ("New: “250 g red lentils, rinsed”.",)


def test_another_order_and_new_parts_are_told():
    assert what_changed(recipe(), with_lines(STOCK, LENTILS)) == ("The ingredients stand in another order.",)
    assert what_changed(recipe(), with_lines(LENTILS, STOCK, title="Pot")) == ("New part: “Pot”.",)


def test_a_corrected_reading_is_told_and_a_food_s_weight_is_not():
    corrected = replace(STOCK, unit="L")
    assert what_changed(recipe(), with_lines(LENTILS, corrected)) == ("“800 mL vegetable stock” is read or scaled differently.",)
    linked = replace(STOCK, food=FoodFacts("stock", g_per_ml=1.0))
    assert what_changed(recipe(), with_lines(LENTILS, linked)) == ()


def test_steps_are_aligned_by_their_words():
    longer = replace(BROWN, minutes=Decimal("10.0"), stage="bake")
    stir = StepFacts("Stir in lemon.")
    said = what_changed(recipe(), recipe(steps=(longer, HOLD, stir)))
    assert said == ("Step 1: bake instead of brown.", "Step 1: 10 min instead of 9 min.", "New step 3: “Stir in lemon”.")
    assert what_changed(recipe(), recipe(steps=(HOLD,))) == ("Step 1 was left out: “Warm the oil and brown the onions”.",)


def test_a_reworded_step_is_not_a_new_one():
    reworded = replace(BROWN, text="Warm the oil, then brown the onions well.", temp_c=Decimal(160))
    said = what_changed(recipe(), recipe(steps=(reworded, HOLD)))
    assert said == ("Step 1 was reworded.", "Step 1: 160 °C instead of no °C.")


def test_words_servings_and_sides():
    bread = SideFacts("bread", "Flatbreads")
    after = recipe(title="Stew", tags=("pot",), servings=4, serving_g=350.0, sides=(bread,))
    assert what_changed(recipe(), after) == (
        "The title was “Pot”; it is “Stew” now.",
        "The tags are pot now.",
        "Serves 4 instead of 6.",
        "The weight of a serving is 350 g instead of not given.",
        "Served with Flatbreads now.",
    )
    two = replace(bread, portions=Decimal("2.00"))
    assert what_changed(recipe(sides=(bread,)), recipe(sides=(two,))) == ("2 portions of Flatbreads go with a serving.",)
    assert what_changed(recipe(sides=(bread,)), recipe()) == ("No longer served with Flatbreads.",)


@given(st.lists(st.text(min_size=1, max_size=12), max_size=6), st.lists(st.text(min_size=1, max_size=12), max_size=6))
def test_any_two_lists_of_lines_that_differ_are_told_apart(old, new):
    before = with_lines(*(LineFacts(text) for text in old))
    after = with_lines(*(LineFacts(text) for text in new))
    assert bool(what_changed(before, after)) == (old != new)


@given(st.lists(st.text(min_size=1, max_size=12), max_size=6), st.lists(st.text(min_size=1, max_size=12), max_size=6))
def test_any_two_methods_that_differ_are_told_apart(old, new):
    before, after = (recipe(steps=tuple(StepFacts(text) for text in steps)) for steps in (old, new))
    assert bool(what_changed(before, after)) == (old != new)
