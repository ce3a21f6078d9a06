from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.facts import AmountFacts, FoodFacts, LineFacts, WeightFacts
from kitchen.domain.foods import grams, is_liquid, line_grams, size_grams, why_not
from kitchen.domain.remark import remark
from kitchen.domain.units import UNITS
from kitchen.reference import load_reference

GARLIC = FoodFacts("garlic", g_per_each=3.0, each_name="clove")
EGG = FoodFacts("egg", g_per_each=50.0, each_name="large")
CABBAGE = FoodFacts("white cabbage", g_per_each=908.0, each_name="medium head")
BUTTER = FoodFacts("unsalted butter", g_per_ml=0.9595, g_per_each=113.0, each_name="stick")
CELERY = FoodFacts("celery", g_per_each=40.0, each_name="stalk")


@pytest.mark.parametrize(
    ("amount", "unit", "food", "mass_g"),
    [
        (3, "clove", GARLIC, 9.0),
        (4, "", EGG, 200.0),
        (1, "", CABBAGE, 908.0),
        (1, "head", CABBAGE, 908.0),
        (2, "stick", CELERY, 80.0),
        (1, "stick", BUTTER, 113.0),
        (1, "kg", None, 1000.0),
        (1, "oz", EGG, 28.349523125),
    ],
)
def test_the_foods_own_weights_are_used(amount, unit, food, mass_g):
    assert grams(Fraction(amount), unit, food) == pytest.approx(mass_g, abs=1e-9)
    assert why_not(Fraction(amount), unit, food) is None


@pytest.mark.parametrize(
    ("unit", "food", "said"),
    [
        ("head", GARLIC, remark("piece_not_weighed", unit="head", food="garlic")),
        ("", GARLIC, remark("one_not_weighed", food="garlic")),
        ("", BUTTER, remark("one_not_weighed", food="unsalted butter")),
        ("cup", EGG, remark("volume_not_weighed", unit="cup", food="egg")),
        ("cup", None, remark("line_not_linked")),
        ("parsec", EGG, remark("unit_not_ours", unit="parsec")),
    ],
)
def test_an_unknown_weight_is_never_made_up(unit, food, said):
    assert grams(Fraction(1), unit, food) is None
    assert why_not(Fraction(1), unit, food) == said


@given(st.sampled_from(load_reference()), st.sampled_from(sorted(UNITS)), st.fractions(min_value=0, max_value=100))
def test_a_mass_or_a_reason_for_every_food_and_unit(food, unit, amount):
    mass_g = grams(amount, unit, food.facts())
    assert (mass_g is None) == bool(why_not(amount, unit, food.facts()))
    assert mass_g is None or mass_g >= 0


def line(text: str, low: int | str, unit: str = "", **more) -> LineFacts:
    return LineFacts(text, low=Fraction(low), high=Fraction(more.pop("high", low)), unit=unit, **more)


def test_a_line_takes_the_surest_weight():
    onion = FoodFacts("onion", g_per_each=110.0, each_name="medium")
    stated = (AmountFacts(Fraction(300), Fraction(300), "g"),)
    assert line_grams(line("2 onions (300 g)", 2, food=onion, also=stated)) == 300
    assert line_grams(line("2 onions", 2, food=onion)) == 220
    assert line_grams(line("2-3 onions", 2, high=3, food=onion)) == 275
    assert line_grams(line("2 onions", 2, food=onion), Fraction(3)) == 660
    assert line_grams(line("2 chicken breasts (150 g each)", 2, size="150 g")) == 300
    assert line_grams(line("500 g onions", 500, "g", also=stated)) == 500
    assert line_grams(LineFacts("salt", name="salt")) is None
    assert line_grams(line("3 florps", 3, "florp")) is None


@pytest.mark.parametrize(
    ("size", "mass_g"), [("400g", 400), ("14-oz", 396.9), ("1.5 kg", 1500), ("5 cm", None), ("large", None), ("", None)]
)
def test_the_size_of_a_pack(size, mass_g):
    assert size_grams(size, None) == (None if mass_g is None else pytest.approx(mass_g, rel=1e-3))


@pytest.mark.parametrize("name", ["rapeseed oil", "whole milk", "vegetable stock", "lemon juice", "soy sauce", "double cream"])
def test_what_is_poured(name):
    assert is_liquid(FoodFacts(name))


@pytest.mark.parametrize(
    "name", ["cream cheese", "whole milk powder", "plain flour", "honey", "soured cream", "butter", "cream of tartar"]
)
def test_what_is_weighed(name):
    assert not is_liquid(FoodFacts(name))


CHOPPED = WeightFacts("cup", 160.0, "chopped")
SLICED = WeightFacts("cup", 115.0, "sliced")
PLAIN_CUP = WeightFacts("cup", 150.0)
SPOON = WeightFacts("tbsp", 10.0)


@pytest.mark.parametrize(
    ("weights", "g_per_ml", "unit", "words", "mass_g"),
    [
        ((CHOPPED, SLICED, PLAIN_CUP), 0.676, "cup", "onions, finely chopped", 160.0),
        ((CHOPPED, SLICED, PLAIN_CUP), 0.676, "cup", "sliced onion", 115.0),
        ((CHOPPED, SLICED, PLAIN_CUP), 0.676, "cup", "onion", 150.0),
        ((CHOPPED, SLICED, SPOON), 0.676, "cup", "onion", 0.676 * 236.5882365),
        ((CHOPPED, SLICED, SPOON), None, "cup", "onion", 160.0),
        ((CHOPPED, SLICED), None, "cup", "onion", None),
        ((CHOPPED,), 0.9, "tbsp", "chopped onion", 10.0),
        ((CHOPPED,), 0.9, "cup_metric", "chopped onion", 160.0 * 250 / 236.5882365),
    ],
)
def test_the_household_weight_that_the_line_means_comes_first(weights, g_per_ml, unit, words, mass_g):
    food = FoodFacts("onion", g_per_ml=g_per_ml, weights=weights)
    assert grams(Fraction(1), unit, food, words) == (None if mass_g is None else pytest.approx(mass_g))


def test_the_size_that_the_line_names_comes_before_the_medium_one():
    onion = FoodFacts("onion", g_per_each=110.0, each_name="medium", weights=(WeightFacts("", 150.0, "large"),))
    assert line_grams(line("2 large onions", 2, name="onions", size="large", food=onion)) == 300
    assert line_grams(line("2 onions", 2, name="onions", food=onion)) == 220
    assert line_grams(line("2 slices onion", 2, "slice", name="onion", food=onion)) is None


def test_a_household_weight_of_another_piece_counts_for_that_piece():
    bread = FoodFacts("loaf bread", weights=(WeightFacts("slice", 29.0), WeightFacts("slice", 43.0, "very large")))
    assert grams(Fraction(2), "slice", bread) == 58
    assert grams(Fraction(2), "slice", bread, "very large slices") == 86
    assert grams(Fraction(2), "rasher", bread) == 58
    assert grams(Fraction(2), "", bread) is None
