"""Heating runs from publications, and the closed form with losses against a solver of differential equations."""

import math
from fractions import Fraction

import pytest
from scipy.integrate import solve_ivp

from energy.heat.climbing import Way, climb_s
from energy.heat.heating import (
    FoodMass,
    heating_efficiency,
    needed_heat_wh,
    steam_heat_wh,
    vessel_heat_wh,
)
from energy.heat.in_the_pot import CookedLine
from energy.heat.need import Pot, Surroundings, heat_need
from energy.heat.specific_heat import Composition
from energy.runs.domain.plausibility import efficiency
from kitchen.domain.facts import LineFacts


def test_kettle():
    """A published kettle test: 0.350 L from 17 to 100 degrees in 125 s at about 1200 W is 41.7 Wh taken, 81 % efficient."""
    measured = 1200 * 125 / 3600
    needed = needed_heat_wh([FoodMass(350, 4.19, 17)], 100)
    assert measured == pytest.approx(41.7, abs=0.05)
    assert heating_efficiency(needed, measured) == pytest.approx(0.81, abs=0.005)
    assert efficiency(needed, measured) is None


def test_the_same_kettle_from_its_recipe():
    """The water's specific heat from its composition, its end from the saturation line: the same 81 %, the pot not counted."""
    line = LineFacts("350 g water", Fraction(350), Fraction(350), "g", "water")
    around = Surroundings(food_start_c=17, altitude_m=0)
    need = heat_need(
        [CookedLine(line, "", Composition(100))], [], k=Fraction(1), pot=Pot("kettle"), around=around, stages=["come_up"]
    )
    assert need.end_c == pytest.approx(100, abs=0.05)
    assert heating_efficiency(need.food_wh, 41.7) == pytest.approx(0.81, abs=0.005)


def test_lossless_boiling_model():
    """A public notebook's lumped model: 500 W, 1 kg, 20 degrees, cp 4.2: 34.29 after 120 s, 91.43 after 600 s, boil at 672 s."""
    for end_c, taken_s in ((34.29, 120), (91.43, 600), (100.0, 672)):
        assert climb_s(Way(4200, 20, 20, end_c, 120), 500, 0) == pytest.approx(taken_s, abs=0.1)


@pytest.mark.parametrize("loss_w_per_k", [0.3, 1.5, 4.0])
@pytest.mark.parametrize("power_w", [400, 900, 1800])
def test_the_closed_form_with_losses(loss_w_per_k, power_w):
    """Against scipy's ODE solver, to a thousandth."""
    heat, start, air = 9500.0, 12.0, 4.0

    def slope(_, temp):
        return (power_w - loss_w_per_k * (temp - air)) / heat

    span = climb_s(Way(heat, start, air, 95, 120), power_w, loss_w_per_k)
    solved = solve_ivp(slope, (0, span), [start], rtol=1e-9, atol=1e-9)
    assert solved.y[0, -1] == pytest.approx(95, rel=1e-3)


def test_rice_cooker_label():
    """A national energy label's formula (2019): 1.16 m dT + 0.6269 w; 1.28 kg, 25 to 100 degrees, 60 g driven off: 148.97 Wh."""
    label = 1.16 * 1.28 * 75 + 0.6269 * 60
    assert label == pytest.approx(148.97, abs=0.01)
    ours = needed_heat_wh([FoodMass(1280, 4.186, 25)], 100) + steam_heat_wh(60, 100)
    assert ours == pytest.approx(label, rel=0.005)


def test_slow_cooker():
    """A published test: 1.69 kWh in 498 min is a mean of 204 W; where all of it is lost to the air, nothing gets hotter."""
    mean_w = 1690 / (498 / 60)
    assert mean_w == pytest.approx(204, abs=0.5)
    assert climb_s(Way(9000, 15, 15, 95.1, 120), mean_w, mean_w / 80) == math.inf


def test_a_vessel_of_an_unknown_material_lists_the_known_ones():
    assert vessel_heat_wh(1200, "cast iron", 20, 95) == pytest.approx(1.2 * 0.46 * 75 / 3.6)
    with pytest.raises(ValueError, match="cast iron"):
        vessel_heat_wh(1200, "unobtainium", 20, 95)
