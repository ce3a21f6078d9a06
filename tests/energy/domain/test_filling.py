"""What is asked for against the pot."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.domain.facts import ApplianceFacts
from energy.domain.filling import FILLED_TO_A_MARK, food_in_pot_g, overfull_words
from energy.domain.in_the_pot import CookedLine
from energy.domain.kinds import APPLIANCE_KINDS
from energy.domain.specific_heat import Composition
from kitchen.domain.facts import LineFacts

WATER = Composition(99.9, ash=0.1)
POT = ApplianceFacts("Pot", "pressure_cooker", 700, capacity_l=4.0)


def line(grams: int, name: str = "squash", part: str = "") -> CookedLine:
    return CookedLine(LineFacts(f"{grams} g {name}", Fraction(grams), Fraction(grams), "g", name), part, WATER)


def test_what_is_added_at_the_end_is_not_in_the_pot():
    assert food_in_pot_g([line(600), line(20, "dill", "To finish")], "pressure_cooker") == 600


def test_no_known_mass_is_not_an_empty_pot():
    assert food_in_pot_g([CookedLine(LineFacts("some squash", name="squash"))], "pressure_cooker") is None
    assert overfull_words(None, Fraction(40), POT) == ""


@pytest.mark.parametrize(("kind", "said"), [(kind, kind in FILLED_TO_A_MARK) for kind, _ in APPLIANCE_KINDS])
def test_only_what_is_filled_to_a_mark_is_said_to_be_overfull(kind, said):
    appliance = ApplianceFacts("It", kind, 700, capacity_l=4.0)
    assert bool(overfull_words(2000, Fraction(10), appliance)) is said


def test_a_pot_of_unknown_size_says_nothing():
    assert overfull_words(2000, Fraction(10), ApplianceFacts("It", "pressure_cooker", 700)) == ""


@given(food_g=st.floats(1, 1e5), k=st.fractions(Fraction(1, 10), 50))
def test_it_is_said_exactly_above_the_limit_and_its_two_percent_of_grace(food_g, k):
    limit_l = 4.0 * 67 / 100 * 1.02
    assert bool(overfull_words(food_g, k, POT)) is (food_g * float(k) / 1000 > limit_l)
