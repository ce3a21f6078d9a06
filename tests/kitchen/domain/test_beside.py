"""What stands beside an amount."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.beside import about_pieces, words_beside
from kitchen.domain.facts import FoodFacts, LineFacts, WeightFacts
from kitchen.domain.foods import line_grams
from kitchen.reference import load_reference

ONION = FoodFacts("onion", "vegetables", g_per_ml=0.6763, g_per_each=110.0, each_name="medium")
CELERY = FoodFacts("celery", "vegetables", g_per_each=40.0, each_name="stalk")
LEEK = FoodFacts("leek", "vegetables", g_per_each=89.0, each_name="leek")
GARLIC = FoodFacts("garlic", "vegetables", g_per_each=3.0, each_name="clove")
CABBAGE = FoodFacts("white cabbage", "vegetables", g_per_each=908.0, each_name="medium head")
LEMON = FoodFacts("lemon", "fruit", g_per_each=58.0, each_name="fruit")
LEMON_JUICE = FoodFacts("lemon juice", "fruit", g_per_ml=1.0, g_per_each=48.0, each_name="lemon's yield")
MILK = FoodFacts("whole milk", "dairy and eggs", g_per_ml=1.03)
SPINACH = FoodFacts("fresh spinach", "vegetables", g_per_each=340.0, each_name="bunch")
CHICKEN = FoodFacts("chicken breast", "meat", g_per_each=272.0, each_name="breast")
STOCK_CUBE = FoodFacts("stock cube", "stocks and soups", g_per_each=4.8, each_name="cube")


def line(amount, unit, food, name="", note="", size=""):
    number = Fraction(amount)
    return LineFacts("", number, number, unit, name or food.name, note, size, food=food)


def beside(amount, unit, food, shown=None, system="written", **words):
    number = Fraction(amount)
    return words_beside(line(amount, unit, food, **words), number, (shown or (number, unit),), system)


@pytest.mark.parametrize(
    ("mass_g", "food", "words"),
    [
        (450, ONION, "about 4 medium"),
        (275, ONION, "about 2½ medium"),
        (55, ONION, "about ½ medium"),
        (50, ONION, ""),
        (4400, ONION, "about 40 medium"),
        (4500, ONION, ""),
        (200, CELERY, "about 5 stalks"),
        (40, CELERY, "about 1 stalk"),
        (300, LEEK, "about 3½"),
        (10, GARLIC, "about 3 cloves"),
        (1800, CABBAGE, "about 2 medium heads"),
        (900, CABBAGE, "about 1 medium head"),
        (120, LEMON, "about 2"),
        (340, SPINACH, ""),
        (500, CHICKEN, ""),
        (10, STOCK_CUBE, ""),
    ],
)
def test_a_weight_is_counted_where_a_cook_counts(mass_g, food, words):
    assert beside(mass_g, "g", food) == words


@pytest.mark.parametrize("name", ["small onions", "baby onions", "large onion"])
def test_a_size_that_the_weights_do_not_know_is_not_counted(name):
    assert beside(450, "g", ONION, name=name) == ""


def test_a_size_that_the_weights_know_is_counted_by_it():
    onion = FoodFacts("onion", "vegetables", g_per_each=110.0, each_name="medium", weights=(WeightFacts("", 150.0, "large"),))
    assert beside(450, "g", onion, name="large onions") == "about 3"
    assert beside(450, "g", onion, name="onions") == "about 4 medium"


def test_peel_and_juice_by_weight_are_not_counted_in_fruit():
    assert beside(120, "g", LEMON, note="zest") == ""


@pytest.mark.parametrize(
    ("amount", "unit", "food", "words"),
    [
        (2, "", ONION, "220 g"),
        (1, "lb", ONION, "454 g, about 4 medium"),
        (1, "cup", ONION, "160 g"),
        (3, "clove", GARLIC, "9 g"),
        (96, "mL", LEMON_JUICE, "96 g, about 2 lemons"),
        (5, "mL", LEMON_JUICE, "5 g"),
        (2, "slice", ONION, ""),
    ],
)
def test_the_weight_stands_beside_everything_else(amount, unit, food, words):
    assert beside(amount, unit, food) == words


@pytest.mark.parametrize(
    ("shown", "words"),
    [
        ((Fraction(570), "mL"), "1 pint, 585 g"),
        ((Fraction(285), "mL"), "½ pint, 585 g"),
        ((Fraction(1135, 1000), "L"), "2 pints, 585 g"),
        ((Fraction(600), "mL"), "585 g"),
        ((Fraction(60), "mL"), "585 g"),
    ],
)
def test_a_british_reader_finds_pints_of_what_is_poured(shown, words):
    assert beside(568, "mL", MILK, shown=shown, system="uk") == words
    assert "pint" not in beside(568, "mL", MILK, shown=shown, system="metric")


@given(st.sampled_from([food for food in load_reference() if food.g_per_each]), st.fractions(min_value=1, max_value=5000))
def test_a_count_beside_a_weight_is_never_far_off(food, mass_g):
    facts = food.facts()
    found = about_pieces(line(mass_g, "g", facts), float(mass_g))
    if found:
        number = found.split()[1]
        value = Fraction(number.rstrip("½") or 0) + (Fraction(1, 2) if "½" in number else 0)
        assert Fraction(1, 2) <= value <= 40
        assert abs(float(value) * food.g_per_each - float(mass_g)) <= food.g_per_each / 2 + 0.01
        assert food.aisle not in ("spices", "grains and pasta", "meat", "fish")


def test_the_weight_is_that_of_the_scaled_line():
    onions = line(2, "", ONION)
    assert words_beside(onions, Fraction(6), ((Fraction(6), ""),)) == "660 g"
    assert line_grams(onions) == 220
