"""What the program prints is what it reads: amounts, ranges and sums with their units."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.amounts import format_amount, format_range
from kitchen.domain.lines import parse_line
from kitchen.domain.units import UNITS, convert, label_of

amounts = st.fractions(min_value=Fraction(1, 64), max_value=9999, max_denominator=64)
# A cake is a measure of yeast and the like only: "1 cake flour" is a kind of flour.
units = st.sampled_from([key for key, unit in UNITS.items() if unit.label and key != "cake"])
foods = st.sampled_from(["red lentils", "plain flour", "olive oil", "chicken stock"])


@given(amounts, units, foods)
def test_an_amount_with_its_unit_comes_back(amount, unit, food):
    line = parse_line(f"{format_amount(amount)} {label_of(unit, amount)} {food}")
    assert (line.low, line.high, line.unit, line.name) == (amount, amount, unit, food)


@given(amounts, amounts, units, foods)
def test_a_range_with_its_unit_comes_back(one, other, unit, food):
    low, high = sorted((one, other))
    line = parse_line(f"{format_range(low, high)} {label_of(unit, high)} {food}")
    assert (line.low, line.high, line.unit, line.name) == (low, high, unit, food)


@given(amounts, amounts, foods)
def test_a_number_of_things_comes_back(one, other, food):
    low, high = sorted((one, other))
    line = parse_line(f"{format_range(low, high)} {food}")
    assert (line.low, line.high, line.unit, line.name) == (low, high, "", food)


@given(st.integers(1, 99), st.integers(1, 15), foods)
def test_a_sum_comes_back_with_its_parts(pounds, ounces, food):
    line = parse_line(f"{pounds} lb {ounces} oz {food}")
    assert (line.low, line.unit, line.name) == (pounds + Fraction(ounces, 16), "lb", food)
    assert [(part.low, part.unit) for part in line.parts] == [(pounds, "lb"), (ounces, "oz")]
    assert sum(convert(part.low, part.unit, "lb") for part in line.parts) == line.low


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("2 cups plus 2 tbsp water", [("2", "cup"), ("2", "tbsp")]),
        ("1 cup minus 1 tbsp flour", [("1", "cup"), ("-1", "tbsp")]),
        ("1 cup flour", []),
    ],
)
def test_the_parts_of_a_sum_stay_known(text, parts):
    assert [(str(part.low), part.unit) for part in parse_line(text).parts] == parts
