"""Estimates for another amount, held against the closed form with losses and against scipy's solver.

The vessels are invented, of the size and weight that camp kitchens have; the losses span what pots under a lid lose (common
practice: 0.5 to 3 W/K). The independent reference is scipy.integrate.solve_ivp on dT/dt = (P - UA (T - T_air)) / C.
"""

from dataclasses import replace

import pytest
from scipy.integrate import solve_ivp

from energy.estimates.domain.circumstances import Circumstances, conditions
from energy.estimates.domain.doubts import doubts
from energy.estimates.domain.estimating import estimate
from energy.estimates.domain.from_facts import cooks_of, other_cook, repeats_of, unsure
from energy.estimates.domain.heat_range import heat_range
from energy.estimates.domain.turning_down import turned_down
from energy.facts import StageEnergy
from energy.heat.balance_facts import HeatModel
from tests.energy.estimates.domain.cooks import facts

VESSELS = {  # J/K of the vessel, W/K lost, W
    "thin pan": (300.0, 1.0, 900.0),
    "steel pot": (750.0, 1.6, 1000.0),
    "pressure cooker": (1300.0, 1.3, 700.0),
    "stoneware": (3600.0, 1.8, 600.0),
    "kettle": (500.0, 0.6, 1200.0),
}


def solved(vessel, loss, power_w, food_j_per_k, start_c=20.0, ambient_c=20.0, end_c=99.97):
    """Return energy and time to the boil by the differential equation. [Wh, s]"""
    heat = vessel + food_j_per_k

    def boils(_, temp_c):
        return temp_c[0] - end_c

    boils.terminal = True
    run = solve_ivp(
        lambda _, temp_c: (power_w - loss * (temp_c - ambient_c)) / heat, (0, 1e5), [start_c], events=boils, rtol=1e-9, atol=1e-9
    )
    return power_w * run.t_events[0][0] / 3600, run.t_events[0][0]


def measured(vessel, loss, power_w, food_j_per_k):
    """Return facts as if this climb had been measured."""
    energy_wh, span_s = solved(vessel, loss, power_w, food_j_per_k)
    model = HeatModel(
        until=1,
        food_j_per_k=food_j_per_k,
        vessel_j_per_k=vessel,
        food_start_c=20,
        vessel_start_c=20,
        ambient_c=20,
        end_c=99.97,
        start_noted=True,
    )
    stage = StageEnergy("come_up", "", energy_wh, span_s, power_w, power_w, 0.0, False)
    changed = {"stages": (stage,), "energy_wh": energy_wh, "total_s": span_s, "ladder": ((0, 0), (span_s, energy_wh))}
    return facts(uncertainty_wh=0.0, heat=model, **changed)


@pytest.mark.parametrize("times", [0.5, 0.75, 1.5, 2, 3])
@pytest.mark.parametrize("kind", VESSELS)
def test_another_amount_is_near_the_solver_at_the_same_power_and_its_range_holds_it(kind, times):
    vessel, loss, power_w = VESSELS[kind]
    cook = measured(vessel, loss, power_w, 1800 * 3.9)
    truth_wh, truth_s = solved(vessel, loss, power_w, times * 1800 * 3.9)
    made, _ = estimate(cook, round(6 * times)) if times * 6 == round(times * 6) else estimate(cook, 6, portion=times)
    assert made.energy_wh == pytest.approx(truth_wh, rel=0.04)
    assert made.total_s == pytest.approx(truth_s, rel=0.04)
    assert made.low_wh <= truth_wh <= made.high_wh


@pytest.mark.parametrize("kind", VESSELS)
def test_plain_proportion_would_be_off_by_much_more(kind):
    vessel, loss, power_w = VESSELS[kind]
    cook = measured(vessel, loss, power_w, 1800 * 3.9)
    truth_wh, _ = solved(vessel, loss, power_w, 3 * 1800 * 3.9)
    proportion, _ = estimate(replace(cook, heat=None), 18)
    assert abs(proportion.energy_wh - truth_wh) > 5 * abs(estimate(cook, 18)[0].energy_wh - truth_wh)


@pytest.mark.parametrize(("start_c", "ambient_c"), [(5, 20), (10, 0), (0, -10), (30, 30)])
@pytest.mark.parametrize("kind", VESSELS)
def test_a_colder_day_lies_in_the_stated_range(kind, start_c, ambient_c):
    vessel, loss, power_w = VESSELS[kind]
    cook = measured(vessel, loss, power_w, 1800 * 3.9)
    heat = 1800 * 3.9 + vessel
    blended_c = (1800 * 3.9 * start_c + vessel * ambient_c) / heat
    truth_wh, _ = solved(vessel, loss, power_w, 1800 * 3.9, start_c=blended_c, ambient_c=ambient_c)
    made, _ = estimate(cook, 6, other=Circumstances(food_start_c=start_c, ambient_c=ambient_c))
    assert made.low_wh <= truth_wh <= made.high_wh


def turned_up(cook, share):
    """The same food at more than the measured power, which nobody is told of, by the same three ends."""
    cooks, asked = (
        cooks_of(cook, cook.heat),
        other_cook(cook.heat, 1.0, conditions(cook.heat, Circumstances()), power_share=share),
    )
    return heat_range(cooks, asked, doubts(cooks[0], asked, unsure(cook, cook.heat, Circumstances())), repeats_of(cook))


@pytest.mark.parametrize("share", [0.5, 0.7, 1.5])
@pytest.mark.parametrize("kind", VESSELS)
def test_another_power_lies_in_the_stated_range(kind, share):
    vessel, loss, measured_w = VESSELS[kind]
    cook = measured(vessel, loss, measured_w, 1800 * 3.9)
    truth_wh, truth_s = solved(vessel, loss, share * measured_w, 1800 * 3.9)
    made = turned_down(cook, 1.0, share * measured_w, Circumstances())[0] if share < 1 else turned_up(cook, share)
    assert made.energy.low <= truth_wh
    assert made.energy.high is None or truth_wh <= made.energy.high
    assert made.climb.high is None or made.climb.low <= truth_s <= made.climb.high


def test_pressure_minutes_are_the_manuals():
    """Pressure cooker manuals' altitude table (3000 ft 1.05 ... 8000 ft 1.30); a cookery text: 40 min become 42 at 3000 ft."""
    from energy.estimates.domain.circumstances import pressure_minutes

    table = {3000: 1.05, 4000: 1.10, 5000: 1.15, 6000: 1.20, 7000: 1.25, 8000: 1.30}
    for feet, factor in table.items():
        assert pressure_minutes(feet * 0.3048) == pytest.approx(factor, abs=0.001)
    assert 40 * pressure_minutes(3000 * 0.3048) == pytest.approx(42, abs=0.05)


def test_the_cold_kettle_of_a_label():
    """20 to 100 C takes 93.05 Wh/kg to the boil at one atmosphere (IAPWS-IF97, by the iapws library); ours by composition."""
    water = HeatModel(until=1, food_j_per_k=1000 * 4.193, food_start_c=20, end_c=99.97, start_noted=True)
    assert water.food_wh == pytest.approx(93.05, rel=0.005)
