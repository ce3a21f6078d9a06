from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.facts import FoodFacts
from kitchen.domain.measure_words import exact_words, weight_words
from kitchen.domain.measures import kitchen_measure
from kitchen.domain.rounding import MOST_ERROR
from kitchen.domain.steps import STYLES
from kitchen.domain.systems import SYSTEMS
from kitchen.domain.units import UNITS, convert

FLOUR = FoodFacts("plain flour", g_per_ml=0.5284)
OIL = FoodFacts("rapeseed oil", g_per_ml=0.9214)
SALT = FoodFacts("salt", g_per_ml=1.2342)
LEMON = FoodFacts("lemon", g_per_each=58.0, each_name="fruit")
EGG = FoodFacts("egg", g_per_each=50.0, each_name="large")
amounts = st.fractions(min_value=Fraction(1, 100), max_value=5000, max_denominator=400)
sizes = st.sampled_from([key for key, unit in UNITS.items() if unit.per_base])


@given(amounts, sizes, st.sampled_from(sorted(STYLES)), st.sampled_from(sorted(SYSTEMS)), st.sampled_from([None, FLOUR, OIL]))
def test_more_than_five_per_cent_is_always_said(amount, unit, style, system, food):
    shown = kitchen_measure(amount, unit, style, system, food)
    assert shown.text
    assert not shown.text.startswith("0 ")
    assert all(number > 0 for number, _ in shown.parts)
    assert shown.coarse == (abs(shown.error_pct) > 5.0) or abs(abs(shown.error_pct) - 5) < 0.01


@given(st.fractions(min_value=3, max_value=20000, max_denominator=100), st.sampled_from(sorted(STYLES)))
def test_spoons_and_cups_stay_within_five_per_cent_from_a_tablespoon_up(teaspoons, style):
    shown = kitchen_measure(teaspoons, "tsp", style, "us")
    total = sum(convert(number, key, "tsp") for number, key in shown.parts)
    assert abs(total - teaspoons) <= MOST_ERROR * teaspoons
    assert not shown.coarse


@given(amounts, st.sampled_from(["g", "mL", "kg", "L"]))
def test_metric_amounts_from_one_up_stay_within_five_per_cent(amount, unit):
    amount = max(amount, Fraction(1))
    assert not kitchen_measure(amount, unit).coarse


@pytest.mark.parametrize(
    ("amount", "unit", "text"),
    [
        ("30", "mL", "30 mL"),
        ("1.5", "tsp", "1½ tsp"),
        ("3", "tsp", "1 tbsp"),
        ("4.5", "tsp", "1½ tbsp"),
        ("1/3", "tbsp", "1 tsp"),
        ("1500", "g", "1.5 kg"),
        ("0.25", "kg", "250 g"),
        ("237", "g", "235 g"),
        ("2.5", "g", "2.5 g"),
        ("0.5", "L", "500 mL"),
        ("3.5", "dL", "3.5 dL"),
        ("1/3", "dL", "33 mL"),
        ("2/3", "cup", "⅔ cup"),
        ("4/3", "cup", "1⅓ cups"),
        ("1/8", "cup", "2 tbsp"),
        ("7/8", "cup", "¾ cup 2 tbsp"),
        ("20", "oz", "1 lb 4 oz"),
        ("1", "lb", "1 lb"),
        ("10", "pinch", "⅝ tsp"),
        ("2/3", "can", "⅔ can"),
        ("5/2", "clove", "2½ cloves"),
        ("4/3", "clove", "1½ cloves"),
        ("1/10", "", "⅛"),
        ("6.75", "pint", "6¾ pints"),
        ("3", "pint_imp", "3 imperial pints"),
    ],
)
def test_the_cooks_own_unit_is_kept_in_its_best_step(amount, unit, text):
    style = "small" if unit in ("tsp", "tbsp") else "school"
    assert kitchen_measure(Fraction(amount), unit, style).text == text


@pytest.mark.parametrize(
    ("amount", "unit", "food", "text"),
    [
        (1, "cup", FLOUR, "125 g"),
        (1, "cup", OIL, "235 mL"),
        (1, "cup", None, "235 mL"),
        (2, "tsp", SALT, "2 tsp"),
        (1, "lb", None, "455 g"),
        (2, "clove", None, "2 cloves"),
    ],
)
def test_metric(amount, unit, food, text):
    assert kitchen_measure(Fraction(amount), unit, "school", "metric", food).text == text


@pytest.mark.parametrize(
    ("amount", "unit", "food", "text"),
    [
        (500, "g", None, "1 lb 1½ oz"),
        (250, "mL", None, "1 cup 1 tbsp"),
        (1, "L", None, "1 qt ¼ cup"),
        (10, "g", SALT, "1⅝ tsp"),
        (10, "g", None, "⅜ oz"),
        (14, "g", SALT, "½ oz"),
        (30, "mL", OIL, "2 tbsp"),
    ],
)
def test_us_customary(amount, unit, food, text):
    assert kitchen_measure(Fraction(amount), unit, "school", "us", food).text == text


def test_whole_things_go_to_the_nearest_half_and_say_the_rest():
    shown = kitchen_measure(Fraction(4, 3), "")
    assert (shown.text, shown.exact_text, shown.coarse) == ("1½", "1⅓", True)
    assert shown.error_pct == 12.5


@pytest.mark.parametrize(
    ("amount", "food", "text"),
    [
        ("1/4", LEMON, "¼"),
        ("11/6", LEMON, "1¾"),
        ("3/8", LEMON, "⅓"),
        ("1/8", LEMON, "⅛"),
        ("7/2", LEMON, "3½"),
        ("1/4", EGG, "½"),
        ("11/6", EGG, "2"),
        ("11/6", None, "2"),
    ],
)
def test_a_large_thing_is_cut_into_quarters_and_an_egg_is_not(amount, food, text):
    assert kitchen_measure(Fraction(amount), "", food=food).text == text


@pytest.mark.parametrize(("amount", "text"), [("35/2", "18"), ("21/4", "5"), ("11/2", "5½"), ("9/2", "4½")])
def test_a_whole_number_within_five_per_cent_is_better_than_a_half(amount, text):
    assert kitchen_measure(Fraction(amount), "").text == text


def test_nobody_measures_a_splash_exactly():
    for unit in ("splash", "glug", "handful"):
        assert not kitchen_measure(Fraction(7, 8), unit).coarse
    clove = kitchen_measure(Fraction(7, 8), "clove")
    assert (clove.exact_text, clove.coarse) == ("⅞ clove", True)


@given(st.fractions(min_value=Fraction(1, 4), max_value=200, max_denominator=60), st.sampled_from([LEMON, EGG, None]))
def test_a_count_off_by_more_than_five_per_cent_is_always_said(amount, food):
    shown = kitchen_measure(amount, "", food=food)
    assert shown.coarse == (abs(shown.parts[0][0] - amount) > amount / 20)


@pytest.mark.parametrize(
    ("amount", "style", "system", "sentence"),
    [
        (0, "school", "us", "above zero"),
        (-1, "school", "us", "above zero"),
        (1, "navy", "us", "way of measuring"),
        (1, "school", "x", "way of"),
    ],
)
def test_nonsense_is_refused_in_words(amount, style, system, sentence):
    with pytest.raises(ValueError, match=sentence):
        kitchen_measure(Fraction(amount), "cup", style, system)


def test_exact_amounts_are_told_in_the_larger_unit():
    assert exact_words(Fraction(306), "tsp") == "6⅜ cups"
    assert exact_words(Fraction("69.6"), "oz") == "4.35 lb"
    assert exact_words(Fraction(2400), "g") == "2.4 kg"


def test_weights_beside_a_measure():
    assert [weight_words(mass) for mass in (0.04, 3.0, 12.4, 999.9, 12345.0)] == ["0.1 g", "3 g", "12 g", "1 kg", "12.3 kg"]
