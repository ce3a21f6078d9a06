"""Heating runs from publications, and the closed form with losses against a solver of differential equations."""

from fractions import Fraction

import pytest
from scipy.integrate import solve_ivp

from energy.domain.heat import (
    CannotGetThere,
    FoodMass,
    boiled_off_g,
    heat_up_s,
    heating_efficiency,
    holding_wh,
    needed_heat_wh,
    steam_heat_wh,
    temp_after_c,
    vessel_heat_wh,
)
from energy.domain.heat_need import Pot, Surroundings, heat_need
from energy.domain.in_the_pot import CookedLine
from energy.domain.plausibility import efficiency
from energy.domain.specific_heat import Composition
from kitchen.domain.facts import LineFacts


def test_kettle():
    """A published kettle test: 0.350 L from 17 to 100 degrees in 125 s at about 1200 W is 41.7 Wh taken, 81 % efficient."""
    measured = 1200 * 125 / 3600
    needed = needed_heat_wh([FoodMass(350, 4.19, 17)], 100)
    assert measured == pytest.approx(41.7, abs=0.05)
    assert heating_efficiency(needed, measured) == pytest.approx(0.81, abs=0.005)
    assert efficiency(needed, measured) == ""


def test_the_same_kettle_from_its_recipe():
    """The water's specific heat from its composition, its end from the saturation line: the same 81 %, the pot not counted."""
    line = LineFacts("350 g water", Fraction(350), Fraction(350), "g", "water")
    around = Surroundings(food_start_c=17, altitude_m=0)
    need = heat_need(
        [CookedLine(line, "", Composition(100))], [], k=Fraction(1), pot=Pot("kettle"), around=around, stages=["come_up"]
    )
    assert need.end_c == pytest.approx(100, abs=0.05)
    assert heating_efficiency(need.food_wh, 41.7) == pytest.approx(0.81, abs=0.005)


BOILING = {"heat_j_per_k": 4200, "power_w": 500, "start_c": 20, "ambient_c": 20}


def test_lossless_boiling_model():
    """A public notebook's lumped model: 500 W, 1 kg, 20 degrees, cp 4.2, latent heat 2257."""
    assert temp_after_c(120, **BOILING) == pytest.approx(34.29, abs=0.005)
    assert temp_after_c(600, **BOILING) == pytest.approx(91.43, abs=0.005)
    assert heat_up_s(100, **BOILING) == pytest.approx(672)
    assert 1 - boiled_off_g(500, 1800 - 672, 100) / 1000 == pytest.approx(0.75, abs=0.0005)


@pytest.mark.parametrize("loss_w_per_k", [0.3, 1.5, 4.0])
@pytest.mark.parametrize("power_w", [400, 900, 1800])
def test_the_closed_form_with_losses(loss_w_per_k, power_w):
    """Against scipy's ODE solver, to a thousandth."""
    heat, start, air = 9500.0, 12.0, 4.0

    def slope(_, temp):
        return (power_w - loss_w_per_k * (temp - air)) / heat

    span = heat_up_s(95, heat_j_per_k=heat, power_w=power_w, start_c=start, ambient_c=air, loss_w_per_k=loss_w_per_k)
    solved = solve_ivp(slope, (0, span), [start], rtol=1e-9, atol=1e-9)
    assert solved.y[0, -1] == pytest.approx(95, rel=1e-3)
    ours = temp_after_c(span / 2, heat_j_per_k=heat, power_w=power_w, start_c=start, ambient_c=air, loss_w_per_k=loss_w_per_k)
    half = solve_ivp(slope, (0, span / 2), [start], rtol=1e-9, atol=1e-9)
    assert ours == pytest.approx(half.y[0, -1], rel=1e-3)


def test_a_cooker_that_cannot_get_there_says_so():
    with pytest.raises(CannotGetThere, match="stops at 60 °C"):
        heat_up_s(95, heat_j_per_k=9000, power_w=100, start_c=10, ambient_c=10, loss_w_per_k=2)
    with pytest.raises(CannotGetThere, match="without power"):
        heat_up_s(95, heat_j_per_k=9000, power_w=0, start_c=10, ambient_c=10)
    assert heat_up_s(20, heat_j_per_k=9000, power_w=100, start_c=25, ambient_c=10) == 0


def test_rice_cooker_label():
    """A national energy label's formula (2019): 1.16 m dT + 0.6269 w; 1.28 kg, 25 to 100 degrees, 60 g driven off: 148.97 Wh."""
    label = 1.16 * 1.28 * 75 + 0.6269 * 60
    assert label == pytest.approx(148.97, abs=0.01)
    ours = needed_heat_wh([FoodMass(1280, 4.186, 25)], 100) + steam_heat_wh(60, 100)
    assert ours == pytest.approx(label, rel=0.005)


def test_slow_cooker():
    """A published test: 1.69 kWh in 498 min is a mean of 204 W; holding 80 degrees above the air, that is 2.5 W/K."""
    mean = 1690 / (498 / 60)
    assert mean == pytest.approx(204, abs=0.5)
    assert holding_wh(mean / 80, 95, 15, 498 * 60) == pytest.approx(1690)


def test_a_vessel_of_an_unknown_material_lists_the_known_ones():
    assert vessel_heat_wh(1200, "cast iron", 20, 95) == pytest.approx(1.2 * 0.46 * 75 / 3.6)
    with pytest.raises(ValueError, match="cast iron"):
        vessel_heat_wh(1200, "unobtainium", 20, 95)
