"""Two revisions beside each other, in words that never disagree with the sentences."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.changes import what_changed
from kitchen.domain.compare import compare, word_pieces
from kitchen.domain.facts import FoodFacts, LineFacts, PartFacts, RecipeFacts, StepFacts
from kitchen.domain.reading import read_line

STEP = StepFacts("Let it simmer.", "hold", Decimal("20.0"), Decimal(95))


def line(text):
    read = read_line(text, [])
    return LineFacts(
        text, read.low, read.high, read.unit, read.name, read.note, read.size, (), read.rule, read.optional, read.to_taste
    )


def recipe(*texts, steps=(), parts=None, servings=4):
    held = parts if parts is not None else (PartFacts("", tuple(map(line, texts))),)
    return RecipeFacts("pot", "Pot", "", servings, 1, parts=held, steps=tuple(steps))


def words(before, after):
    return [row.words for row in compare(before, after).lines if row.words]


def test_an_amount_that_changed_is_told_with_its_ingredient():
    assert words(recipe("2 cups stock"), recipe("3 1/2 cups stock")) == [("stock 2 cups → 3½ cups",)]
    assert words(recipe("2-3 onions"), recipe("an onion")) == [("onion 2–3 → 1",)]
    assert words(recipe("1 (400 g) tin beans"), recipe("1 (200 g) tin beans")) == [("beans 1 can of 400 g → 1 can of 200 g",)]
    assert words(recipe("salt, to taste"), recipe("1 tsp salt")) == [("salt no amount → 1 tsp", "no longer to taste")]


def test_new_left_out_reworded_and_prepared_otherwise():
    assert words(recipe("2 eggs"), recipe("2 eggs", "1 lemon")) == [("new",)]
    assert words(recipe("2 eggs", "1 lemon"), recipe("2 eggs")) == [("left out",)]
    assert words(recipe("2 onions, chopped"), recipe("2 onions, sliced")) == [("chopped → sliced",)]
    assert words(recipe("2 onions"), recipe("2 onions, sliced")) == [("now sliced",)]
    assert words(recipe("something bright"), recipe("something  bright")) == [("reworded",)]


def test_a_reading_that_was_corrected_is_told_and_a_food_is_not():
    before = recipe("2 onions")
    first = before.parts[0].lines[0]
    linked = replace(before, parts=(PartFacts("", (replace(first, food=FoodFacts("onion")),)),))
    assert compare(before, linked).same
    scaled = replace(before, parts=(PartFacts("", (replace(first, rule="fixed"),)),))
    assert words(before, scaled) == [("scaled differently",)]


def test_lines_that_moved_say_so():
    assert words(recipe("2 eggs", "1 lemon", "salt"), recipe("1 lemon", "salt", "2 eggs")) == [("moved",)]
    two = [PartFacts("", tuple(map(line, ("2 eggs", "1 lemon")))), PartFacts("To finish", (line("salt"),))]
    other = [PartFacts("", (line("2 eggs"),)), PartFacts("To finish", tuple(map(line, ("1 lemon", "salt"))))]
    assert words(recipe(parts=tuple(two)), recipe(parts=tuple(other))) == [("moved to “To finish”",)]
    assert what_changed(recipe(parts=tuple(two)), recipe(parts=tuple(other))) == ("“1 lemon” moved to “To finish”.",)
    assert words(recipe(parts=tuple(other)), recipe(parts=tuple(two))) == [("moved to the part without a heading",)]
    renamed = [two[0], replace(two[1], title="At the end")]
    assert words(recipe(parts=tuple(two)), recipe(parts=tuple(renamed))) == []


def test_steps_tell_their_stage_minutes_and_temperature():
    before = recipe(steps=[STEP, StepFacts("Serve.")])
    longer = replace(STEP, minutes=Decimal(25))
    assert compare(before, recipe(steps=[longer, StepFacts("Serve.")])).steps[0].words == ("hold 20 min → 25 min",)
    other = StepFacts("Let it simmer gently.", "reduce", None, Decimal(95))
    assert compare(before, recipe(steps=[other])).steps[0].words == ("reworded", "hold → reduce", "no longer 20 min")
    assert [row.words for row in compare(before, recipe(steps=[other])).steps][1] == ("left out",)
    swapped = compare(before, recipe(steps=[StepFacts("Serve."), STEP]))
    assert [(row.number_before, row.number_after, row.words) for row in swapped.steps] == [(2, 1, ("moved",)), (1, 2, ())]


def test_servings_are_told_at_the_head():
    assert compare(recipe(), recipe(servings=6)).head == ("servings 4 → 6",)


def test_pieces_of_a_reworded_step_put_together_are_the_step():
    old, new = word_pieces("Warm the oil, add onions.", "Warm the pan and add the onions.")
    assert "".join(words for words, _ in old) == "Warm the oil, add onions."
    assert "".join(words for words, _ in new) == "Warm the pan and add the onions."
    assert [words for words, differs in old if differs] == ["oil, "]


LINES = st.lists(
    st.sampled_from(["2 eggs", "3 eggs", "salt", "1 lemon", "juice of 1 lemon", "200 g rice", "1 cup rice"]), max_size=6
)
STEPS = st.lists(st.sampled_from([STEP, replace(STEP, minutes=None), StepFacts("Serve."), StepFacts("Serve it.")]), max_size=5)


@given(LINES, LINES, STEPS, STEPS)
def test_the_sentences_and_the_two_columns_agree(old, new, steps_before, steps_after):
    before, after = recipe(*old, steps=steps_before), recipe(*new, steps=steps_after)
    assert compare(before, after).same == (what_changed(before, after) == ())
    assert compare(before, after).same == (old == new and steps_before == steps_after)
