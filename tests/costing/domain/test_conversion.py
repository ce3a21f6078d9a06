"""From a line's amount to the unit of a quote."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.domain.conversion import based, can_convert, in_base, why_not_in_base
from kitchen.domain.facts import AmountFacts, FoodFacts, LineFacts
from kitchen.domain.remark import remark

OIL = FoodFacts("rapeseed oil", g_per_ml=0.92)
ONION = FoodFacts("onion", g_per_each=110.0)
GARLIC = FoodFacts("garlic", g_per_each=3.0, each_name="clove")


def line(low, unit, food, high=None, **kwargs):
    return LineFacts("", Fraction(low), Fraction(low if high is None else high), unit, food=food, **kwargs)


@pytest.mark.parametrize(
    ("used", "base", "expected"),
    [
        (line(1, "kg", OIL), "g", 1000),
        (line(30, "mL", OIL), "g", "27.6"),
        (line(46, "g", OIL), "mL", 50),
        (line(2, "", ONION), "g", 220),
        (line(220, "g", ONION), "each", 2),
        (line(2, "", ONION, high=3), "g", 275),
        (line(3, "clove", GARLIC), "g", 9),
        (line(1, "bunch", GARLIC), "bunch", 1),
        (line(2, "can", FoodFacts("tomatoes"), size="400 g"), "g", 800),
        (line(2, "", FoodFacts("squash"), also=(AmountFacts(Fraction(600), Fraction(600), "g"),)), "g", 600),
    ],
)
def test_amounts_reach_the_unit_of_the_quote(used, base, expected):
    assert in_base(used, base) == Fraction(expected)


@pytest.mark.parametrize(
    ("used", "base", "missing"),
    [
        (line(2, "", OIL), "mL", remark("needs_piece_weight", own="each", base="mL", missing="each")),
        (line(2, "cup", ONION), "g", remark("needs_density", own="mL", base="g", missing="mL")),
        (line(200, "g", ONION), "mL", remark("needs_density", own="g", base="mL", missing="mL")),
        (line(20, "g", ONION), "bunch", remark("needs_unit_weight", own="g", base="bunch", missing="bunch")),
        (line(1, "", GARLIC), "g", remark("needs_piece_weight", own="each", base="g", missing="each")),
        (line(1, "smidgen", ONION), "g", remark("unknown_unit", unit="smidgen")),
    ],
)
def test_what_the_weights_do_not_tell_is_said(used, base, missing):
    assert in_base(used, base) is None
    assert why_not_in_base(used, base) == missing


def test_never_through_the_weight_of_water():
    assert in_base(line(1, "L", FoodFacts("vegetable stock")), "g") is None


def test_no_amount_and_no_food_convert_to_nothing():
    assert in_base(LineFacts("salt", food=OIL), "g") is None
    assert in_base(LineFacts("2 kg", Fraction(2), Fraction(2), "kg"), "g") is None


def test_a_price_by_a_unit_without_weight_is_told_apart():
    assert can_convert(ONION, "each")
    assert not can_convert(ONION, "mL")
    assert not can_convert(ONION, "bunch")


@given(st.fractions(min_value="1/100", max_value=10000), st.sampled_from(["g", "kg", "lb", "mL", "cup", "L"]))
def test_there_and_back_is_exact(amount, unit):
    base = based(amount, unit)[1]
    other = "mL" if base == "g" else "g"
    there = in_base(line(amount, unit, OIL), other)
    assert in_base(line(there, other, OIL), base) == based(amount, unit)[0]
