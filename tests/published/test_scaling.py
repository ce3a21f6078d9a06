"""Worked examples of scaling and rounding from published standardised-recipe guides."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.facts import FoodFacts, LineFacts
from kitchen.domain.lines import parse_line
from kitchen.domain.measures import kitchen_measure
from kitchen.domain.rules import default_rule
from kitchen.domain.scaling import factor, scale, seasoning_factor
from kitchen.domain.show import show_line
from kitchen.domain.units import convert


def scaled(old: int, new: int, amount: str, unit: str, style: str) -> str:
    k = factor(old, new)
    exact = scale(Fraction(amount), Fraction(amount), "proportional", k).low
    return kitchen_measure(exact, unit, style).text


def test_a_weight_for_348_in_the_forces_style():
    """US armed-forces recipe service, TM 10-412, General Information: 1.25 lb for 100 becomes 4.35 lb for 348."""
    assert factor(100, 348) * Fraction("1.25") == Fraction("4.35")
    assert scaled(100, 348, "1.25", "lb", "forces") == "4 lb 5½ oz"


def test_the_same_weight_in_the_school_style():
    """Computed from the school-meals table: 2 lb 8 oz to 5 lb goes to the nearest ounce."""
    assert scaled(100, 348, "1.25", "lb", "school") == "4 lb 6 oz"


def test_a_volume_for_333_in_the_forces_style():
    """US armed-forces recipe service, TM 10-412: 6 gal of water for 100 becomes 19.98 gal for 333."""
    assert factor(100, 333) * 6 == Fraction("19.98")
    assert scaled(100, 333, "6", "gallon", "forces") == "19 gal 3 qt 1 pt 1 cup 10 tbsp 2¾ tsp"


def test_the_same_volume_in_the_school_style():
    """Computed; above two gallons to the nearest quart (common practice)."""
    assert kitchen_measure(Fraction("19.98"), "gallon", "school").text == "20 gallons"


@pytest.mark.parametrize(("amount", "unit", "new"), [("5", "lb", "11.25"), ("2", "quart", "4.5"), ("3", "pint", "6.75")])
def test_more_servings_of_a_larger_portion(amount, unit, new):
    """A culinary textbook's conversion: 48 portions of 4 oz become 72 of 6 oz, factor 2.25."""
    k = factor(48, 72, 4, 6)
    assert k == Fraction("2.25")
    exact = scale(Fraction(amount), Fraction(amount), "proportional", k).low
    assert exact == Fraction(new)
    shown = kitchen_measure(exact, unit)
    assert sum(convert(number, key, unit) for number, key in shown.parts) == exact
    assert shown.error_pct == 0


def test_a_factor_from_metric_portions():
    """Published example: 35 portions of 185 g become 50 of 230 g, factor 1.77606 (five places)."""
    assert float(factor(35, 50, 185, 230)) == pytest.approx(1.77606, abs=5e-6)


@pytest.mark.parametrize(
    ("amount", "unit", "text"),
    [("14", "tbsp", "2 tbsp 2⅜ tsp"), ("1/2", "cup", "1 tbsp 1¾ tsp"), ("3/4", "tsp", "⅛ tsp"), ("7.25", "oz", "1½ oz")],
)
def test_a_large_recipe_made_small(amount, unit, text):
    """USDA-derived conversion sheet, 25 servings to 5; 3/4 cup 2 tbsp is written as its 14 tablespoons."""
    assert scaled(25, 5, amount, unit, "small") == text


def test_the_smallest_spoon_is_said_where_it_forces_the_error():
    """0.15 tsp against the smallest spoon of the school-meals table, 1/8 tsp: -16.7 %, computed."""
    shown = kitchen_measure(Fraction("0.15"), "tsp", "small")
    assert shown.text == "⅛ tsp"
    assert (shown.exact_text, shown.coarse) == ("0.15 tsp", True)
    assert shown.error_pct == pytest.approx(-16.67, abs=0.01)


def test_bakers_percent():
    """Published formula: percentages that sum to 377.5 make 6 lb of batter from 25.43 oz of flour (two places)."""
    flour = convert(Fraction(6), "lb", "oz") / (Fraction("377.5") / 100)
    assert float(flour) == pytest.approx(25.43, abs=0.005)


@pytest.mark.parametrize(("hot", "grown"), [(False, 3), (True, Fraction(5, 2))])
def test_four_times_the_food_takes_less_seasoning(hot, grown):
    """Spice trade handbook: in full up to twice, then half of each further multiple; ground red pepper a quarter."""
    assert seasoning_factor(Fraction(4), hot=hot) == grown


@pytest.mark.parametrize(
    ("hundredths", "ounces"),
    [(0, 0), (12, 0), (13, 1), (37, 1), (38, 2), (62, 2), (63, 3), (87, 3), (88, 4), (99, 4)],
)
def test_the_forces_table_of_ounce_fractions(hundredths, ounces):
    """US armed-forces recipe service, TM 10-412: .00-.12 is 0, .13-.37 a quarter, .38-.62 a half, .63-.87 three quarters."""
    shown = kitchen_measure(20 + Fraction(Decimal(hundredths)) / 100, "oz", "forces")
    assert sum(convert(number, key, "oz") for number, key in shown.parts) == 20 + Fraction(ounces, 4)


@pytest.mark.parametrize(("ounces", "step"), [("3.3", "1/4"), ("15.3", "1/2"), ("45.4", "1"), ("101.3", "4")])
def test_the_school_table_of_weights(ounces, step):
    """US school-meals "Guide for Rounding Off Weights and Measures"."""
    shown = kitchen_measure(Fraction(ounces), "oz", "school")
    total = sum(convert(number, key, "oz") for number, key in shown.parts)
    assert total % Fraction(step) == 0
    assert abs(total - Fraction(ounces)) <= Fraction(step) / 2


# Amounts in teaspoons, between the bounds of each row of the table.
_VOLUME_ROWS = [
    ("1 tbsp", ["0.3", "1.07", "2.3", "2.94"], "1/8"),
    ("1-3 tbsp", ["3.3", "5.4", "8.6"], "1/4"),
    ("3 tbsp-1/2 cup", ["9.3", "14.6", "23.3"], "1/2"),
    ("1/2-3/4 cup", ["24.4", "27.7", "35.6"], "1"),
    ("3/4-2 cups", ["36.7", "50.5", "70.9", "94.2"], "3"),
    ("2 cups-2 qt", ["97", "140.4", "211", "380"], "12"),
    ("2-4 qt", ["390", "531", "766"], "24"),
    ("1-2 gal", ["790", "1033", "1530"], "48"),
]


@pytest.mark.parametrize(("row", "amounts", "step"), _VOLUME_ROWS)
def test_the_school_table_of_volumes(row, amounts, step):
    """US school-meals "Guide for Rounding Off Weights and Measures"; its row for 3/4 to 2 cups from memory.

    The table's step decides unless it would be off by more than 5 %, when a part of it is taken; a third of a cup, which is
    in every set of cups, is a step of its own (common practice).
    """
    for exact in map(Fraction, amounts):
        shown = kitchen_measure(exact, "tsp", "school", "us")
        total = sum(convert(number, key, "tsp") for number, key in shown.parts)
        by_table = (2 * exact + Fraction(step)) // (2 * Fraction(step)) * Fraction(step)
        on_third = total % 16 == 0 and abs(total - exact) <= abs(by_table - exact)
        finer = abs(by_table - exact) > exact / 20 >= abs(total - exact)
        assert total == by_table or on_third or finer, (row, exact, total)


@pytest.mark.parametrize(
    ("ounces", "text"),
    [("1/4", "¼ oz"), ("1/2", "½ oz"), ("3/4", "¾ oz"), ("1", "1 oz"), ("0.4", "2½ tsp"), ("1.1", "2 tbsp 1 tsp")],
)
def test_less_than_two_ounces_is_measured_unless_it_is_a_quarter(ounces, text):
    """US school-meals "Guide for Rounding Off Weights and Measures": under 2 oz a measure, unless a 1/4, 1/2 or 3/4 oz amount.

    A food of 0.9 g/mL; the spoons are computed.
    """
    food = FoodFacts("something", g_per_ml=0.9)
    assert kitchen_measure(Fraction(ounces), "oz", "school", "us", food).text == text


@pytest.mark.parametrize("teaspoons", ["5.3", "17.9", "44.4", "100.1", "411.2", "5000.6"])
def test_the_forces_round_volumes_to_a_quarter_teaspoon(teaspoons):
    """US armed-forces recipe service, TM 10-412, General Information."""
    shown = kitchen_measure(Fraction(teaspoons), "tsp", "forces", "us")
    total = sum(convert(number, key, "tsp") for number, key in shown.parts)
    assert total % Fraction(1, 4) == 0
    assert abs(total - Fraction(teaspoons)) <= Fraction(1, 8)


def test_a_large_recipe_made_small_line_by_line():
    """The same USDA-derived conversion sheet, 25 servings to 5, on the road that a page takes."""
    shown = [
        _printed(text, factor(25, 5))
        for text in ("3/4 cup plus 2 tbsp sugar", "1/2 cup oil", "3/4 tsp vanilla", "7 1/4 oz cheese")
    ]
    assert shown == ["2 tbsp 2⅜ tsp", "1 tbsp 1¾ tsp", "⅛ tsp", "1½ oz"]


def _printed(text: str, k: Fraction, **more) -> str:
    read = parse_line(text)
    line = LineFacts(text, read.low, read.high, read.unit, read.name, read.note, rule=default_rule(read))
    return show_line(line, k, **more).amount


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("1 tbsp dried oregano", "3 tbsp"),
        ("1 tbsp ground nutmeg", "3 tbsp"),
        ("1 tbsp mace", "3 tbsp"),
        ("2 tsp ground red pepper", "1 tbsp 2 tsp"),
        ("1 tbsp black pepper", "4 tbsp"),
        ("1 tbsp ground cinnamon", "4 tbsp"),
        ("1 tbsp ground cloves", "4 tbsp"),
    ],
)
def test_four_times_the_food_line_by_line(text, amount):
    """Spice trade handbook: herbs, nutmeg and mace three times; ground red pepper two and a half; the rest four."""
    assert _printed(text, Fraction(4)) == amount


def test_an_open_boil_loses_a_cup_in_ten_minutes_whatever_is_in_the_pan():
    """Published kitchen test: about 250 mL in 10 min off an open pan, under pressure less than 15 mL; amounts computed."""
    water = LineFacts("1 L water", Fraction(1), Fraction(1), "L", "water", rule="simmer", evaporated_ml=250.0)
    assert show_line(water, Fraction(2)).amount == "1.75 L"
    assert show_line(water, Fraction(1, 2)).amount == "630 mL"
    assert show_line(water, Fraction(2), batches=2).amount == "2 L"
    assert show_line(water, Fraction(2), evaporated_ml=Fraction(15)).amount == "2 L"


@given(
    st.fractions(min_value=Fraction(1, 64), max_value=1000, max_denominator=64),
    st.fractions(min_value=Fraction(1, 500), max_value=500, max_denominator=500),
    st.sampled_from(["proportional", "fixed"]),
)
def test_scaling_there_and_back_returns_the_exact_amount(amount, k, rule):
    there = scale(amount, 2 * amount, rule, k)
    back = scale(there.low, there.high, rule, 1 / k)
    assert (back.low, back.high) == (amount, 2 * amount)


@given(
    st.fractions(min_value=Fraction(1, 64), max_value=1000, max_denominator=64),
    st.fractions(min_value=Fraction(1, 2), max_value=2, max_denominator=60),
)
def test_seasoning_up_to_twice_the_food_goes_there_and_back(amount, k):
    there = scale(amount, amount, "seasoning", k)
    assert scale(there.low, there.high, "seasoning", 1 / k).low == amount


@given(st.fractions(min_value=Fraction(1, 2), max_value=40, max_denominator=12), st.integers(min_value=1, max_value=20))
def test_equal_batches_add_up_to_the_whole(k, batches):
    whole = scale(Fraction(900), Fraction(1000), "proportional", k, batches=batches)
    each = scale(Fraction(900), Fraction(1000), "proportional", k / batches)
    assert (each.low * batches, each.high * batches) == (whole.low, whole.high)
