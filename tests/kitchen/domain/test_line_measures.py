from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.amounts import format_amount
from kitchen.domain.line_measures import read_count, read_measure, read_unit, stands_alone
from kitchen.domain.units import UNITS


@given(
    st.fractions(min_value=Fraction(1, 64), max_value=999, max_denominator=64),
    st.sampled_from([unit for unit in UNITS.values() if unit.per_base and unit.label]),
)
def test_every_amount_and_unit_that_is_printed_is_read(amount, unit):
    measure = read_measure(f"{format_amount(amount)} {unit.plural} something")
    assert (measure.low, measure.high, measure.unit) == (amount, amount, unit.key)


def test_units_are_read_longest_first():
    unit, end = read_unit("fl oz of rum", 0)
    assert (unit.key, end) == ("floz", 5)
    assert read_unit("cupboard", 0) is None


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("two", "2"),
        ("Half", "1/2"),
        ("a dozen", "12"),
        ("one and a half", "3/2"),
        ("two thirds", "2/3"),
        ("half a dozen", "6"),
        ("3½", "7/2"),
    ],
)
def test_numbers_in_words(text, value):
    number, end = read_count(text, 0)
    assert (number, end) == (Fraction(value), len(text))


def test_measures_of_different_kinds_are_not_added():
    measure = read_measure("1 cup 200 g flour")
    assert (measure.low, measure.unit, measure.end) == (1, "cup", 5)


def test_a_range_written_the_wrong_way_round_is_turned():
    measure = read_measure("5-3 cups")
    assert (measure.low, measure.high) == (3, 5)


def test_a_number_inside_a_name_does_not_stand_alone():
    text = "5-spice"
    assert not stands_alone(text, 0, read_measure(text))
