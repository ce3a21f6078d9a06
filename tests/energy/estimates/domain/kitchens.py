"""Cooks as they come out when the heater, the losses and the steam are known, for tests that foretell others from them."""

from dataclasses import replace

from hypothesis import strategies as st

from energy.estimates.domain.doubts import Unsure, doubts
from energy.estimates.domain.foretelling import OtherCook
from energy.estimates.domain.three_ends import MeanCook
from energy.heat.climbing import LATENT_J_PER_KG, climb_s

OPEN_POT = MeanCook(11700, 900, 15, 20, 100, 100, 372, 900, 110, 1800, 0.74, 0.92, held=True)
PRESSED = MeanCook(9500, 1800, 12, 22, 115.6, 100, 410, 1476, 45, 1800, 0.80, 0.97, held=True, sealed=True)
HALF_POWER = OtherCook(11700, 900, 15, 20, 100, 100, 276.3, power_share=0.5)
IN_FROST = OtherCook(9500, 1800, 12, 0, 115.6, 100, 273.4)


def cooked(blank, power_w, reaches, loss, steam):
    """Return a cook that was measured with these, or None where it never gets there."""
    heat_s = climb_s(blank.way, reaches * power_w, loss, steam)
    if not 60 < heat_s < 20_000:
        return None
    held_w = loss * (blank.end_c - blank.ambient_c) + (0.0 if blank.sealed else steam * LATENT_J_PER_KG)
    hold_wh = min(held_w / reaches, power_w) * blank.hold_s / 3600
    return replace(blank, heat_wh=power_w * heat_s / 3600, heat_s=heat_s, hold_wh=hold_wh)


@st.composite
def cooks(draw):
    """Draw a measured cook of any kind of heater and pot."""
    sealed = draw(st.booleans())
    blank = MeanCook(
        food_j_per_k=draw(st.floats(1500, 20_000)),
        vessel_j_per_k=draw(st.floats(200, 4000)),
        start_c=draw(st.floats(2, 30)),
        ambient_c=draw(st.floats(-10, 35)),
        end_c=draw(st.floats(108, 121)) if sealed else draw(st.sampled_from([100.0, 93.0, 80.0])),
        boil_c=draw(st.sampled_from([100.0, 97.0, 93.0])),
        heat_wh=0.0,
        heat_s=0.0,
        hold_wh=0.0,
        hold_s=draw(st.sampled_from([0.0, 200.0, 900.0, 3600.0])),
        reaches_low=0.74,
        reaches_high=0.95,
        held=draw(st.booleans()),
        sealed=sealed,
    )
    blank = replace(blank, end_c=min(blank.end_c, blank.boil_c) if not sealed else blank.end_c)
    power_w, reaches = draw(st.floats(300, 2500)), draw(st.floats(0.7, 0.97))
    return cooked(blank, power_w, reaches, draw(st.floats(0, 3)), draw(st.floats(0, 0.08e-3)))


def again(cook, **changes):
    """Return the same cook as what is asked, with changes."""
    least_wh = cook.food_j_per_k * (cook.end_c - cook.start_c) / 3600
    same = OtherCook(
        cook.food_j_per_k, cook.vessel_j_per_k, cook.start_c, cook.ambient_c, cook.end_c, cook.boil_c, least_wh=least_wh
    )
    changed = replace(same, **changes)
    return replace(changed, least_wh=max(changed.food_j_per_k * (changed.end_c - changed.start_c) / 3600, 0.0))


def doubts_of(cook, other, n=3, **changes):
    """Return what a noted cook leaves open, with a meter of class 2 % and 1 Wh steps."""
    return doubts(
        cook, other, Unsure(**{"n": n, "class_pct": 2, "step_wh": 1, "start_c": 1.5 / n**0.5, "air_c": 1.5 / n**0.5, **changes})
    )
