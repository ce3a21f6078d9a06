"""Portions: groups, sizes, and what there is."""

from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from kitchen.domain.facts import FoodFacts, LineFacts, PartFacts
from kitchen.domain.lines import parse_line
from kitchen.domain.portions import (
    CannotScale,
    Eaters,
    checked_portion,
    for_group,
    from_what_there_is,
    lines_to_choose,
    multiple_of,
    serving_grams,
    size_said,
)
from kitchen.domain.remark import remark
from kitchen.domain.scaling import scale

PORTIONS = st.fractions(Fraction(1, 10), 10, max_denominator=100)
FLOUR = FoodFacts("plain flour", g_per_ml=0.528)
ONION = FoodFacts("onion", g_per_each=110.0, each_name="onion")


def line(text: str, food: FoodFacts | None = None, rule: str = "proportional") -> LineFacts:
    read = parse_line(text)
    return LineFacts(text, read.low, read.high, read.unit, read.name, read.note, read.size, rule=rule, food=food)


@given(counts=st.tuples(st.integers(0, 150), st.integers(0, 150), st.integers(0, 150)).filter(any))
def test_a_group_that_eats_alike_is_a_number_of_servings(counts):
    group = [Eaters(number, "adult") for number in counts]
    found = for_group(group)
    assert (found.servings, found.portion) == (sum(counts), 1)


@given(adults=st.integers(0, 150), children=st.integers(0, 150), child=PORTIONS)
def test_a_group_eats_the_sum_of_its_factors_exactly(adults, children, child):
    assume(adults + children)
    found = for_group([Eaters(adults, "adult"), Eaters(children, "child", child)])
    assert found.servings * found.portion == adults + children * child


@pytest.mark.parametrize("heads", [0, 501])
def test_a_group_of_nobody_or_of_a_crowd_is_refused(heads):
    with pytest.raises(CannotScale) as refusal:
        for_group([Eaters(heads, "adult")])
    assert refusal.value.said == remark("group_out_of_reach", most=500, heads=heads)


@pytest.mark.parametrize("portion", [Fraction(9, 100), Fraction(101, 10)])
def test_a_portion_out_of_reason_is_refused(portion):
    with pytest.raises(CannotScale, match="portion_out_of_reach"):
        checked_portion(portion)


@given(k=st.fractions(Fraction(1, 50), 50, max_denominator=10_000), base=st.integers(5, 10))
def test_what_there_is_is_used_up_exactly(k, base):
    found = from_what_there_is(k, base)
    assert found.servings * found.portion == k * base
    assert found.servings == 1 or 1 <= found.portion < 1 + Fraction(1, found.servings)


@pytest.mark.parametrize(("k", "code"), [(Fraction(1, 100), "too_little_for_one"), (Fraction(100), "too_many_servings")])
def test_too_little_and_too_much_are_refused(k, code):
    with pytest.raises(CannotScale, match=code):
        from_what_there_is(k, 6)


TEXTS = [
    "300 g rice",
    "1 1/2 cups milk",
    "2 x 400 g tins tomatoes",
    "3 onions",
    "2-3 carrots",
    "1 lb potatoes",
    "4 cloves garlic",
]


@pytest.mark.parametrize("text", TEXTS)
def test_having_all_of_a_line_is_the_recipe_as_written(text):
    held = line(text, ONION if "onion" in text else None)
    have = text.replace("2-3", "2 1/2")
    assert multiple_of(held, have) == 1


@pytest.mark.parametrize(
    ("text", "food", "have", "k"),
    [
        ("400 g lentils", None, "700 g", Fraction(7, 4)),
        ("400 g lentils", None, "1 kg", Fraction(5, 2)),
        ("400 g lentils", None, "600", Fraction(3, 2)),
        ("1 cup milk", None, "1/2 cup", Fraction(1, 2)),
        ("2 x 400 g tins tomatoes", None, "3 tins", Fraction(3, 2)),
        ("2 x 400 g tins tomatoes", None, "1200 g", Fraction(3, 2)),
        ("3 onions", ONION, "5 onions", Fraction(5, 3)),
        ("3 onions", ONION, "660 g", Fraction(2)),
        ("264 g flour", FLOUR, "500 ml", Fraction(1)),
    ],
)
def test_what_there_is_is_compared_in_its_own_measure(text, food, have, k):
    assert multiple_of(line(text, food), have) == pytest.approx(k, rel=1e-4)


@pytest.mark.parametrize(
    ("text", "have", "why"),
    [
        ("400 g lentils", "some", "no_amount_held"),
        ("400 g lentils", "2 cups", "held_not_weighed"),
        ("3 onions", "600 g", "written_not_weighed"),
        ("400 g lentils", "3 carrots", "neither_unit_nor_food"),
        ("salt to taste", "3 g", "line_without_amount"),
        ("400 g lentils", "0 g", "no_amount_held"),
    ],
)
def test_what_cannot_be_compared_says_why(text, have, why):
    with pytest.raises(CannotScale, match=why):
        multiple_of(line(text), have)


def test_only_lines_that_grow_in_step_can_be_chosen():
    lines = (line("300 g rice"), line("1 tsp salt", rule="seasoning"), line("parsley"), line("1 L stock", rule="simmer"))
    parts = [PartFacts("", lines[:2]), PartFacts("To finish", (*lines[2:], line("2 lemons")))]
    assert [(number, held.name) for number, held in lines_to_choose(parts)] == [(1, "rice"), (5, "lemons")]
    with pytest.raises(CannotScale, match="line_not_in_step"):
        multiple_of(lines[1], "2 tsp")


@given(have=st.text(max_size=60))
def test_any_words_are_answered_in_words(have):
    k = None
    with suppress(CannotScale):
        k = multiple_of(line("400 g lentils"), have)
    assert k is None or k > 0


def test_a_serving_is_weighed_only_where_every_line_is():
    parts = [PartFacts("", (line("300 g rice"), line("1 tsp salt", rule="seasoning")))]
    assert serving_grams(parts, 4) == 75
    assert serving_grams([PartFacts("", (line("300 g rice"), line("1 bunch kale")))], 4) is None
    assert serving_grams([], 4) is None


@given(portion=PORTIONS)
def test_a_size_is_said_exactly_where_it_shows(portion):
    assert bool(size_said(portion)) is (abs(portion - 1) * 100 > Fraction(1, 2) or round(100 * (portion - 1)) != 0)


AMOUNTS = st.fractions(Fraction(1, 100), 1000, max_denominator=1000)


@given(amount=AMOUNTS, k=st.fractions(Fraction(1, 100), 100, max_denominator=1000))
def test_there_and_back_again_is_the_exact_amount(amount, k):
    there = scale(amount, amount, "proportional", k)
    assert scale(there.low, there.high, "proportional", 1 / k).low == amount


@given(amount=AMOUNTS, k=st.fractions(Fraction(1, 100), 100, max_denominator=1000), batches=st.integers(1, 50))
def test_equal_batches_add_up_exactly(amount, k, batches):
    for rule in ("proportional", "batch", "seasoning", "simmer"):
        whole = scale(amount, amount, rule, k, batches=batches, evaporated=amount / 3).low
        assert sum([whole / batches] * batches) == whole
    assert scale(amount, amount, "batch", k, batches=batches).low / batches == amount


@given(
    amount=AMOUNTS,
    ks=st.tuples(*[st.fractions(Fraction(1, 100), 100, max_denominator=1000)] * 2),
    hot=st.booleans(),
)
def test_more_food_never_takes_less_seasoning_nor_more_than_in_proportion(amount, ks, hot):
    less, more = (scale(amount, amount, "seasoning", k, hot=hot).low for k in sorted(ks))
    assert less <= more <= max(ks) * amount
