"""Exact measures against published numbers and against scipy's own constants."""

from fractions import Fraction

import pytest
from scipy import constants

from kitchen.domain.units import UNITS, convert


@pytest.mark.parametrize(
    ("unit", "amount_ml"),
    [
        ("gallon", "3785.411784"),
        ("quart", "946.352946"),
        ("pint", "473.176473"),
        ("cup", "236.5882365"),
        ("floz", "29.5735295625"),
        ("tbsp", "14.78676478125"),
        ("tsp", "4.92892159375"),
    ],
)
def test_us_customary_volumes(unit, amount_ml):
    """NIST Handbook 44, Appendix C: the US gallon is 231 cubic inches; all others are its exact parts."""
    assert UNITS[unit].per_base == Fraction(amount_ml)


def test_the_us_gallon_is_231_cubic_inches():
    """NIST Handbook 44, Appendix C; the inch of 25.4 mm."""
    assert convert(Fraction(1), "gallon", "mL") == 231 * Fraction("2.54") ** 3


@pytest.mark.parametrize(("unit", "mass_g"), [("lb", "453.59237"), ("oz", "28.349523125")])
def test_avoirdupois_weights(unit, mass_g):
    """NIST Handbook 44, Appendix C."""
    assert UNITS[unit].per_base == Fraction(mass_g)


@pytest.mark.parametrize(
    ("unit", "amount_ml"), [("gallon_imp", "4546.09"), ("pint_imp", "568.26125"), ("floz_imp", "28.4130625")]
)
def test_imperial_volumes(unit, amount_ml):
    """Computed from the exact imperial gallon of 4.546 09 litres."""
    assert UNITS[unit].per_base == Fraction(amount_ml)


@pytest.mark.parametrize(("unit", "amount_ml"), [("cup_metric", 250), ("tbsp_au", 20), ("dsp", 10)])
def test_metric_kitchen_measures(unit, amount_ml):
    """Australian metric cup 250 mL and tablespoon 20 mL; UK dessertspoon 10 mL (published kitchen measure tables)."""
    assert UNITS[unit].per_base == amount_ml


@pytest.mark.parametrize(
    ("unit", "si"),
    [
        ("gallon", constants.gallon_US),
        ("gallon_imp", constants.gallon_imp),
        ("floz", constants.fluid_ounce_US),
        ("floz_imp", constants.fluid_ounce_imp),
    ],
)
def test_volumes_agree_with_an_independent_library(unit, si):
    """scipy.constants, in cubic metres; tolerance: double precision."""
    assert float(UNITS[unit].per_base) == pytest.approx(si * 1e6, rel=1e-12)


@pytest.mark.parametrize(("unit", "si"), [("lb", constants.pound), ("oz", constants.oz), ("g", constants.gram)])
def test_weights_agree_with_an_independent_library(unit, si):
    """scipy.constants, in kilograms; tolerance: double precision."""
    assert float(UNITS[unit].per_base) == pytest.approx(si * 1e3, rel=1e-12)


def test_a_stick_of_butter():
    """Common practice in the US: a stick is half a cup, 8 tablespoons, a quarter pound."""
    assert convert(Fraction(1, 2), "cup", "tbsp") == 8
    assert round(convert(Fraction(1, 4), "lb", "g")) == 113


@pytest.mark.parametrize(("unit", "label"), [("cup", 240), ("tbsp", 15), ("tsp", 5), ("floz", 30), ("oz", 28)])
def test_nutrition_labels_round_the_exact_measures(unit, label):
    """21 CFR 101.9(b)(5)(viii) rounds measures for labels; the exact ones lie within its rounding, 1.5 %."""
    assert float(UNITS[unit].per_base) == pytest.approx(label, rel=0.015)
