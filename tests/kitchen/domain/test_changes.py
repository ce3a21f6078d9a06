"""What changed between two revisions."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from kitchen.cards import Headline
from kitchen.domain.changes import estimated_otherwise, figures_moved, what_changed
from kitchen.domain.facts import FoodFacts, LineFacts, PartFacts, PhotoFacts, RecipeFacts, SideFacts, StepFacts
from kitchen.domain.remark import remark

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
    assert said == (remark("line_became", before=LENTILS.text, after=more.text),)


def test_lines_come_and_go():
    lemon = LineFacts("1 lemon, juice", Fraction(1), Fraction(1), name="lemon")
    said = what_changed(recipe(), with_lines(LENTILS, lemon))
    assert said == (remark("line_new", line="1 lemon, juice"), remark("line_left_out", line=STOCK.text))


def test_a_double_line_is_counted():
    assert what_changed(recipe(), with_lines(LENTILS, LENTILS, STOCK)) == (remark("line_new", line=LENTILS.text),)


def test_another_order_and_new_parts_are_told():
    assert what_changed(recipe(), with_lines(STOCK, LENTILS)) == (remark("lines_in_other_order"),)
    assert what_changed(recipe(), with_lines(LENTILS, STOCK, title="Pot")) == (remark("part_new", part="Pot"),)
    titled = with_lines(LENTILS, STOCK, title="Pot")
    assert what_changed(titled, recipe()) == (remark("part_gone", part="Pot"),)


def test_a_corrected_reading_is_told_and_a_food_s_weight_is_not():
    corrected = replace(STOCK, unit="L")
    assert what_changed(recipe(), with_lines(LENTILS, corrected)) == (remark("line_read_differently", line=STOCK.text),)
    linked = replace(STOCK, food=FoodFacts("stock", g_per_ml=1.0))
    assert what_changed(recipe(), with_lines(LENTILS, linked)) == ()


def test_steps_are_aligned_by_their_words():
    longer = replace(BROWN, minutes=Decimal("10.0"), stage="bake")
    stir = StepFacts("Stir in lemon.")
    said = what_changed(recipe(), recipe(steps=(longer, HOLD, stir)))
    assert said == (
        remark("step_stage", number=1, before="brown", after="bake"),
        remark("step_minutes", number=1, before=9, after=10),
        remark("step_new", number=3, step="Stir in lemon."),
    )
    assert what_changed(recipe(), recipe(steps=(HOLD,))) == (remark("step_left_out", number=1, step=BROWN.text),)
    assert what_changed(recipe(), recipe(steps=(HOLD, BROWN)))[0] == remark("step_was", number=1, before=2)


def test_a_reworded_step_is_not_a_new_one():
    reworded = replace(BROWN, text="Warm the oil, then brown the onions well.", temp_c=Decimal(160))
    said = what_changed(recipe(), recipe(steps=(reworded, HOLD)))
    assert said == (remark("step_reworded", number=1), remark("step_temp_new", number=1, after=160))
    unmarked = what_changed(recipe(steps=(HOLD,)), recipe(steps=(StepFacts(HOLD.text),)))
    assert [one.code for one in unmarked] == ["step_stage_gone", "step_minutes_gone", "step_temp_gone"]


def test_words_servings_and_sides():
    bread = SideFacts("bread", "Flatbreads")
    after = recipe(title="Stew", tags=("pot",), servings=4, serving_g=350.0, sides=(bread,))
    assert what_changed(recipe(), after) == (
        remark("title_instead", before="Pot", after="Stew"),
        remark("tags_now", tags="pot"),
        remark("serves_instead", before=6, after=4),
        remark("serving_weighs_instead_new", after=350),
        remark("side_new", title="Flatbreads"),
    )
    two = replace(bread, portions=Decimal("2.00"))
    assert what_changed(recipe(sides=(bread,)), recipe(sides=(two,))) == (
        remark("side_portions", portions=2, title="Flatbreads"),
    )
    assert what_changed(recipe(sides=(bread,)), recipe()) == (remark("side_gone", title="Flatbreads"),)
    photo = PhotoFacts("w", "s", "alt", 9, 9)
    assert [one.code for one in what_changed(recipe(tags=("a",), photo=photo), recipe(summary="Other."))] == [
        "summary_rewritten",
        "tags_gone",
        "head_photo_gone",
    ]


def test_allergens_that_came_and_went_are_told_where_both_were_worked_out():
    old = recipe(allergens=("milk", "wheat"), allergens_told=True)
    new = recipe(allergens=("celery", "eggs", "wheat"), allergens_told=True)
    assert what_changed(old, new) == (remark("allergens_on", names="celery, egg"), remark("allergen_off", names="milk"))
    assert what_changed(old, recipe()) == ()


@given(st.lists(st.text(min_size=1, max_size=12), max_size=6), st.lists(st.text(min_size=1, max_size=12), max_size=6))
def test_any_two_lists_of_lines_that_differ_are_told_apart(old, new):
    before = with_lines(*(LineFacts(text) for text in old))
    after = with_lines(*(LineFacts(text) for text in new))
    assert bool(what_changed(before, after)) == (old != new)


@given(st.lists(st.text(min_size=1, max_size=12), max_size=6), st.lists(st.text(min_size=1, max_size=12), max_size=6))
def test_any_two_methods_that_differ_are_told_apart(old, new):
    before, after = (recipe(steps=tuple(StepFacts(text) for text in steps)) for steps in (old, new))
    assert bool(what_changed(before, after)) == (old != new)


def test_estimates_of_an_edition_that_are_made_otherwise_now_are_told_as_they_were_published():
    now = Headline("wh", "40", "Wh", "each serving", standing="estimated")
    minutes = Headline("minutes", "9", "min", "as written", standing="typed")
    assert estimated_otherwise([replace(now, value="35"), minutes], [now, replace(minutes, value="8")]) == ("35 Wh each serving",)
    assert estimated_otherwise([now], [now]) == ()


def test_figures_that_moved_are_told_with_what_they_were():
    before = [Headline("wh", "40", "Wh", "each serving"), Headline("cost", "€1.00", "", "each serving")]
    after = [Headline("wh", "50", "Wh", "each serving"), Headline("peak", "700", "W", "at its peak")]
    assert [one.code for one in figures_moved(before, after)] == ["figure_instead", "figure_new", "figure_gone"]
    assert figures_moved(before, before) == ()
