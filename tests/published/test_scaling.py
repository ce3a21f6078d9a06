"""Worked examples of scaling and rounding from published standardised-recipe guides."""

from decimal import Decimal
from fractions import Fraction

import pytest

from kitchen.domain.measures import kitchen_measure
from kitchen.domain.scaling import factor, scale, seasoning_factor
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
    assert shown.said == "rounded from 0.15 tsp"
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
