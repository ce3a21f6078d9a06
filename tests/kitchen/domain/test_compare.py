"""Two revisions beside each other, which never disagree with the list of changes."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.changes import what_changed
from kitchen.domain.compare import compare, word_pieces
from kitchen.domain.facts import FoodFacts, LineFacts, PartFacts, RecipeFacts, StepFacts
from kitchen.domain.reading import read_line
from kitchen.domain.remark import remark

STEP = StepFacts("Let it simmer.", "hold", Decimal("20.0"), Decimal(95))


def line(text):
    read = read_line(text, [])
    return LineFacts(
        text, read.low, read.high, read.unit, read.name, read.note, read.size, (), read.rule, read.optional, read.to_taste
    )


def recipe(*texts, steps=(), parts=None, servings=4):
    held = parts if parts is not None else (PartFacts("", tuple(map(line, texts))),)
    return RecipeFacts("pot", "Pot", "", servings, 1, parts=held, steps=tuple(steps))


def said(before, after):
    return [row.said for row in compare(before, after).lines if row.said]


def codes(before, after):
    return [[one.code for one in told] for told in said(before, after)]


def test_an_amount_that_changed_is_told_with_its_ingredient():
    stock = remark("row_amount", before="2 cups", after="3½ cups", name="stock")
    assert said(recipe("2 cups stock"), recipe("3 1/2 cups stock")) == [(stock,)]
    assert said(recipe("2-3 onions"), recipe("an onion")) == [(remark("row_amount", before="2–3", after="1", name="onion"),)]
    beans = remark("row_amount", before="1 can of 400 g", after="1 can of 200 g", name="beans")
    assert said(recipe("1 (400 g) tin beans"), recipe("1 (200 g) tin beans")) == [(beans,)]
    salt = remark("row_amount_new", after="1 tsp", name="salt")
    assert said(recipe("salt, to taste"), recipe("1 tsp salt")) == [(salt, remark("row_to_taste_gone"))]


def test_new_left_out_reworded_and_prepared_otherwise():
    assert codes(recipe("2 eggs"), recipe("2 eggs", "1 lemon")) == [["row_new"]]
    assert codes(recipe("2 eggs", "1 lemon"), recipe("2 eggs")) == [["row_left_out"]]
    sliced = remark("row_words", before="chopped", after="sliced")
    assert said(recipe("2 onions, chopped"), recipe("2 onions, sliced")) == [(sliced,)]
    assert said(recipe("2 onions"), recipe("2 onions, sliced")) == [(remark("row_words_new", after="sliced"),)]
    assert codes(recipe("something bright"), recipe("something  bright")) == [["row_reworded"]]


def test_a_reading_that_was_corrected_is_told_and_a_food_is_not():
    before = recipe("2 onions")
    first = before.parts[0].lines[0]
    linked = replace(before, parts=(PartFacts("", (replace(first, food=FoodFacts("onion")),)),))
    assert compare(before, linked).same
    scaled = replace(before, parts=(PartFacts("", (replace(first, rule="fixed"),)),))
    assert codes(before, scaled) == [["row_scaled_differently"]]


def test_lines_that_moved_say_so():
    assert codes(recipe("2 eggs", "1 lemon", "salt"), recipe("1 lemon", "salt", "2 eggs")) == [["row_moved"]]
    two = [PartFacts("", tuple(map(line, ("2 eggs", "1 lemon")))), PartFacts("To finish", (line("salt"),))]
    other = [PartFacts("", (line("2 eggs"),)), PartFacts("To finish", tuple(map(line, ("1 lemon", "salt"))))]
    assert said(recipe(parts=tuple(two)), recipe(parts=tuple(other))) == [(remark("row_moved_to_part", part="To finish"),)]
    assert what_changed(recipe(parts=tuple(two)), recipe(parts=tuple(other))) == (
        remark("line_moved_to_part", line="1 lemon", part="To finish"),
    )
    assert codes(recipe(parts=tuple(other)), recipe(parts=tuple(two))) == [["row_moved_to_head"]]
    assert what_changed(recipe(parts=tuple(other)), recipe(parts=tuple(two))) == (remark("line_moved_to_head", line="1 lemon"),)
    renamed = [two[0], replace(two[1], title="At the end")]
    assert said(recipe(parts=tuple(two)), recipe(parts=tuple(renamed))) == []


def test_steps_tell_their_stage_minutes_and_temperature():
    before = recipe(steps=[STEP, StepFacts("Serve.")])
    longer = replace(STEP, minutes=Decimal(25))
    told = compare(before, recipe(steps=[longer, StepFacts("Serve.")])).steps[0]
    assert (told.said, told.marks_before) == ((remark("row_minutes", before=20, after=25, stage="hold"),), "hold, 20 min, 95 °C")
    other = StepFacts("Let it simmer gently.", "reduce", None, Decimal(95))
    first, second = compare(before, recipe(steps=[other])).steps
    changed = remark("row_stage", before="hold", after="reduce"), remark("row_minutes_gone", before=20, stage="")
    assert (first.said, second.said) == ((remark("row_reworded"), *changed), (remark("row_left_out"),))
    swapped = compare(before, recipe(steps=[StepFacts("Serve."), STEP]))
    moved = [(row.number_before, row.number_after, row.said) for row in swapped.steps]
    assert moved == [(2, 1, (remark("row_moved"),)), (1, 2, ())]


def test_servings_are_told_at_the_head():
    assert compare(recipe(), recipe(servings=6)).head == (remark("head_servings", before=4, after=6),)


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
