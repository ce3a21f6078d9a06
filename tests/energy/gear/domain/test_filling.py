"""What is asked for against the pot."""

from fractions import Fraction

import pytest

from energy.facts import ApplianceFacts
from energy.gear.domain.filling import food_in_pot_g, vessel_of
from energy.heat.in_the_pot import CookedLine
from energy.heat.specific_heat import Composition
from energy.kinds import APPLIANCE_KINDS
from kitchen.domain.facts import LineFacts

WATER = Composition(99.9, ash=0.1)


def line(grams: int, name: str = "squash", part: str = "") -> CookedLine:
    return CookedLine(LineFacts(f"{grams} g {name}", Fraction(grams), Fraction(grams), "g", name), part, WATER)


def test_what_is_added_at_the_end_is_not_in_the_pot():
    assert food_in_pot_g([line(600), line(20, "dill", "To finish")], "pressure_cooker") == 600


def test_no_known_mass_is_not_an_empty_pot():
    assert food_in_pot_g([CookedLine(LineFacts("some squash", name="squash"))], "pressure_cooker") is None


def test_only_what_is_filled_to_a_mark_is_a_vessel():
    found = {kind for kind, _ in APPLIANCE_KINDS if vessel_of(ApplianceFacts("It", kind, 700, capacity_l=4.0)) is not None}
    assert found == {"pressure_cooker", "rice_cooker", "slow_cooker", "kettle", "induction_plate"}


def test_an_appliance_of_unknown_size_is_no_vessel():
    assert vessel_of(ApplianceFacts("It", "pressure_cooker", 700)) is None


@pytest.mark.parametrize(
    ("kind", "foam_limit", "closed", "liquid_only"),
    [
        ("pressure_cooker", 0.5, True, False),
        ("induction_plate", 0.5, False, False),
        ("rice_cooker", 0.67, True, False),
        ("slow_cooker", 0.67, True, False),
        ("kettle", 0.67, True, True),
    ],
)
def test_each_kind_has_its_own_room_to_swell(kind, foam_limit, closed, liquid_only):
    vessel = vessel_of(ApplianceFacts("It", kind, 700, capacity_l=4.0))
    assert (vessel.foam_limit, vessel.closed, vessel.liquid_only) == (foam_limit, closed, liquid_only)


def test_what_swells_never_gets_more_room_than_the_rest():
    vessel = vessel_of(ApplianceFacts("It", "pressure_cooker", 700, capacity_l=4.0, fill_limit_pct=40, foam_fill_limit_pct=50))
    assert (vessel.fill_limit, vessel.foam_limit) == (0.4, 0.4)
