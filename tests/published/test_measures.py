"""Exact measures against published numbers and against scipy's own constants."""

from fractions import Fraction

import pytest
from scipy import constants

from kitchen.domain.facts import LineFacts
from kitchen.domain.foods import grams, line_grams
from kitchen.domain.lines import parse_line
from kitchen.domain.systems import SYSTEMS
from kitchen.domain.units import UNITS, convert
from kitchen.reference import load_reference

FOODS = {food.sr_number: food.facts() for food in load_reference()}


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


@pytest.mark.parametrize(
    ("unit", "amount_ml"), [("cup_metric", 250), ("tbsp_au", 20), ("tsp_metric", 5), ("dsp", 10), ("tbsp_metric", 15)]
)
def test_metric_kitchen_measures(unit, amount_ml):
    """Australia: cup 250, tablespoon 20, teaspoon 5 mL; UK: tablespoon 15, dessertspoon 10, teaspoon 5 mL (published kitchen
    measure tables of both countries)."""
    assert UNITS[unit].per_base == amount_ml


def test_an_australian_reader_has_australian_spoons_and_a_british_one_british_ones():
    """The same tables: four teaspoons to the tablespoon in Australia, three in Britain; fifty to the cup of 250 mL."""
    australian, british = SYSTEMS["au"].spoons, SYSTEMS["uk"].spoons
    assert convert(Fraction(1), australian.tbsp, australian.tsp) == australian.per_tbsp == 4
    assert convert(Fraction(1), australian.cup, australian.tsp) == australian.per_cup == 50
    assert convert(Fraction(1), british.tbsp, british.tsp) == british.per_tbsp == 3


_US_INCHES = 231 * constants.inch**3


@pytest.mark.parametrize(
    ("unit", "si"),
    [
        ("gallon", constants.gallon_US),
        ("gallon", _US_INCHES),
        ("quart", _US_INCHES / 4),
        ("pint", _US_INCHES / 8),
        ("cup", _US_INCHES / 16),
        ("floz", constants.fluid_ounce_US),
        ("tbsp", constants.fluid_ounce_US / 2),
        ("tsp", constants.fluid_ounce_US / 6),
        ("gallon_imp", constants.gallon_imp),
        ("pint_imp", constants.gallon_imp / 8),
        ("floz_imp", constants.fluid_ounce_imp),
        ("L", constants.liter),
        ("mL", constants.milli * constants.liter),
        ("cup_metric", constants.liter / 4),
    ],
)
def test_volumes_agree_with_an_independent_library(unit, si):
    """scipy.constants, in cubic metres; tolerance: double precision."""
    assert float(UNITS[unit].per_base) == pytest.approx(si * 1e6, rel=1e-12)


def test_every_volume_and_weight_is_checked_against_something():
    """Named in this file, but for a pinch and a dash (common practice of spoon makers), thousandths, and the gill and peck of
    NIST Handbook 44, which are a quarter pint and 537.605 cubic inches."""
    assert convert(Fraction(4), "gill", "pint") == 1
    assert float(UNITS["peck"].per_base) == pytest.approx(537.605 * constants.inch**3 * 1e6, rel=1e-12)
    assert (UNITS["cL"].per_base, UNITS["dL"].per_base, UNITS["kg"].per_base * UNITS["mg"].per_base) == (10, 100, 1)
    assert (convert(Fraction(8), "dash", "tsp"), convert(Fraction(16), "pinch", "tsp")) == (1, 1)
    sized = {key for key, unit in UNITS.items() if unit.dimension in ("mass", "volume")}
    assert sized == {
        *("g", "kg", "mg", "oz", "lb", "mL", "cL", "dL", "L", "tsp", "dsp", "tbsp", "tsp_metric", "tbsp_metric", "tbsp_au"),
        *("floz", "cup", "cup_metric", "pint", "quart", "gallon", "gill", "peck", "floz_imp", "pint_imp", "gallon_imp"),
        *("pinch", "dash"),
    }


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


@pytest.mark.parametrize(("unit", "mass_g"), [("stick", 113), ("tbsp", 14.2), ("cup", 227)])
def test_butter_by_stick_spoon_and_cup(unit, mass_g):
    """SR28, row 01001: stick 113 g, tablespoon 14.2 g, cup 227 g; tolerance: the half gram or tenth that the table rounds to."""
    assert grams(Fraction(1), unit, FOODS[1001]) == pytest.approx(mass_g, abs=0.05 if unit == "tbsp" else 0.5)


def _line(text: str, sr_number: int) -> LineFacts:
    read = parse_line(text)
    return LineFacts(text, read.low, read.high, read.unit, read.name, read.note, read.size, food=FOODS[sr_number])


def test_two_cups_of_chopped_onion():
    """SR28, row 11282: cup, chopped, 160 g edible."""
    assert line_grams(_line("2 cups chopped onion", 11282)) == pytest.approx(320, abs=0.5)
    assert line_grams(_line("2 cups onions, finely chopped", 11282)) == pytest.approx(320, abs=0.5)


@pytest.mark.parametrize(
    ("text", "sr_number", "mass_g"),
    [("1 cup apple, chopped", 9003, 125), ("1 cup sliced banana", 9040, 150), ("1 cup shredded mozzarella", 1026, 112)],
)
def test_a_cup_weighs_what_its_cut_weighs(text, sr_number, mass_g):
    """SR28 household weights: apples "cup, quartered or chopped" 125 g, bananas "cup, sliced" 150 g, mozzarella "cup, shredded"
    112 g."""
    assert line_grams(_line(text, sr_number)) == pytest.approx(mass_g, abs=0.5)
