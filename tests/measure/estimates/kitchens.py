"""Kitchens that are simulated on other assumptions than the estimates': two bodies, smooth steam, drawn noise.

The heater warms the vessel, the vessel the food through a contact; both lose heat to the air; steam begins gently and grows up to
the boil; part of the power is the electronics' own; a held pot swings about its temperature; open pots simmer with more than they
need; sealed ones vent until they close. Every run differs from the next. All arrays have one entry a case.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

Array = Any

STEP_S = 5.0
LONGEST_S = 10 * 3600.0
LATENT_J = 2.26e6
BANDS = {  # share of the power that reaches the vessel, kW, J/K of the vessel, W/K of the contact, is it sealed
    "pressure": ((0.81, 0.965), (0.6, 1.2), (900, 2200), (40, 80), True),
    "rice": ((0.79, 0.945), (0.4, 0.9), (500, 1400), (30, 60), False),
    "induction": ((0.75, 0.915), (0.8, 2.0), (600, 1500), (50, 80), False),
    "plate": ((0.69, 0.865), (0.8, 1.8), (900, 2500), (30, 70), False),
    "immersed": ((0.87, 0.975), (0.8, 2.2), (600, 1000), (60, 90), False),
}
KINDS = tuple(BANDS)


@dataclass(frozen=True)
class Pots:
    """What stays from run to run: the heater's kind, share and own draw [W], vessel, contact, losses [W/K], steam [kg/s]."""

    kind: Array
    share: Array
    power_w: Array
    own_w: Array
    vessel: Array
    contact: Array
    loss: Array
    steam: Array
    sealed: Array
    gauge_kpa: Array
    food_g: Array
    food_heat: Array  # J/(g K)
    water: Array
    hold_s: Array
    simmer: Array
    spread: Array
    height_m: Array

    def of(self, where: Array) -> Pots:
        """Return some of them, one or several times."""
        return Pots(**{name: value[where] for name, value in vars(self).items()})


@dataclass(frozen=True)
class Day:
    """One cook: times the usual food, its start, the air, the height, the power's share, and whether the food is frozen."""

    times: Array
    start_c: Array
    air_c: Array
    height_m: Array
    power_share: Array
    frozen: Array


@dataclass(frozen=True)
class Cooked:
    """What a cook took: up to its end and held there. [s, Wh, s, Wh]"""

    heat_s: Array
    heat_wh: Array
    hold_s: Array
    hold_wh: Array

    @property
    def energy_wh(self) -> Array:
        return self.heat_wh + self.hold_wh


def draw_pots(rng: np.random.Generator, n: int) -> Pots:
    """Return kitchens as they may be."""
    kind = rng.integers(0, len(KINDS), n)
    rows = [BANDS[name] for name in KINDS]
    low, high = (np.array([[row[i][j] for row in rows] for i in range(4)], float)[:, kind] for j in (0, 1))
    share, kilowatts, vessel, contact = rng.uniform(low, high)
    sealed = np.array([row[4] for row in rows])[kind]
    food_g = rng.uniform(700, 1500, n) * np.sqrt(kilowatts / 0.8)
    brief = rng.random(n) < 0.15
    return Pots(
        kind=kind,
        share=share,
        power_w=1000 * kilowatts,
        own_w=rng.uniform(0, 12, n),
        vessel=vessel,
        contact=contact,
        loss=rng.uniform(0.6, 2.5, n),
        steam=rng.uniform(0, 0.08e-3, n),
        sealed=sealed,
        gauge_kpa=np.where(sealed, rng.normal(70, 8, n), 0.0),
        food_g=food_g,
        food_heat=rng.uniform(3.3, 4.15, n),
        water=rng.uniform(0.65, 0.95, n),
        hold_s=np.where(brief | (kind == KINDS.index("immersed")), rng.uniform(0, 200, n), rng.uniform(400, 3600, n)),
        simmer=rng.uniform(1.0, 1.15, n),
        spread=np.minimum(0.05 * np.exp(rng.normal(0, np.log(1.8) / 1.5, n)), 0.12),
        height_m=rng.uniform(0, 600, n),
    )


def boils_c(height_m: Array, gauge_kpa: Array) -> Array:
    """Return the boiling point by the barometric formula and Antoine's equation (constants from memory)."""
    kpa = 101.325 * np.exp(-height_m / 8200.0) + gauge_kpa
    return 1730.63 / (8.07131 - np.log10(kpa * 7.50062)) - 233.426


def cook(rng: Any, pots: Pots, day: Day) -> Cooked:
    """Return what one cook takes in each kitchen; infinite where it never gets to its temperature."""
    n = len(pots.loss)
    windy = np.exp(rng.normal(0, 0.08, n))
    pots = replace(
        pots,
        loss=pots.loss * windy * day.times**0.1,
        steam=pots.steam * np.exp(rng.normal(0, 0.15, n)),
        share=pots.share * rng.normal(1, 0.008, n),
    )
    day = replace(day, power_share=day.power_share * rng.normal(1, 0.008, n), times=day.times * rng.normal(1, 0.01, n))
    end_c = boils_c(day.height_m, pots.gauge_kpa)
    steams_c = boils_c(day.height_m, 0 * end_c)
    power_w = pots.power_w * day.power_share
    heat_s = climbed_s(pots, day, power_w, end_c, steams_c)
    marked_s = np.maximum(heat_s + rng.normal(0, 10, n), 1.0)
    hold_s = pots.hold_s * rng.normal(1, 0.02, n)
    held_c = end_c + rng.normal(0, 0.5, n)
    swing_j = rng.uniform(-1, 1, n) * 1.2 * (pots.food_g * day.times * pots.food_heat + pots.vessel)
    steam = np.where(pots.sealed, 0.05 * pots.steam, pots.steam)
    held_w = (pots.loss * (held_c - day.air_c) + steam * LATENT_J) * np.where(pots.sealed, 1.0, pots.simmer)
    hold_j = np.clip(held_w * hold_s + swing_j * np.minimum(1, hold_s / 600), 0, None)
    hold_wh = np.minimum(hold_j / pots.share + pots.own_w * hold_s, power_w * hold_s) / 3600
    differs = np.exp(rng.normal(0, pots.spread) * 0.9)
    return Cooked(marked_s * differs, power_w * marked_s * differs / 3600, hold_s, hold_wh * differs)


def climbed_s(pots: Pots, day: Day, power_w: Array, end_c: Array, steams_c: Array) -> Array:
    """Integrate both bodies by Heun's rule in fixed steps; those that are there drop out."""
    n = len(power_w)
    there_s, left = np.full(n, np.inf), np.arange(n)
    grams = pots.food_g * day.times
    ice_g = np.where(day.frozen, grams * pots.water, 0.0)
    fixed = np.stack(
        [
            (power_w - pots.own_w) * pots.share,
            grams * pots.food_heat,
            pots.vessel,
            pots.contact,
            pots.loss,
            pots.steam,
            day.air_c,
            end_c,
            steams_c,
            ice_g,
        ]
    )
    # the food's heat above water at 0 C; below freezing ice counts
    thawed = fixed[1] * day.start_c
    solid = (fixed[1] - 2.1 * ice_g) * day.start_c - 333.6 * ice_g
    heat_j, vessel_c = np.where(ice_g > 0, solid, thawed), day.air_c + 0.0
    at_s = 0.0
    while at_s < LONGEST_S and len(left):
        first = rates(fixed, heat_j, vessel_c)
        second = rates(fixed, heat_j + STEP_S * first[0], vessel_c + STEP_S * first[1])
        new_j, new_c = heat_j + STEP_S * (first[0] + second[0]) / 2, vessel_c + STEP_S * (first[1] + second[1]) / 2
        goal = fixed[1] * fixed[7]
        done = new_j >= goal
        if done.any():
            part = np.clip((goal - heat_j) / np.maximum(new_j - heat_j, 1e-9), 0, 1)
            there_s[left[done]] = (at_s + STEP_S * part)[done]
        # a climb slows, so one that would not be there in time at this rate never is
        late = (goal - new_j) / np.maximum(new_j - heat_j, 1e-9) * STEP_S > LONGEST_S - at_s
        keep = ~(done | (late & (at_s > 1800)))
        left, fixed, heat_j, vessel_c = left[keep], fixed[:, keep], new_j[keep], new_c[keep]
        at_s += STEP_S
    return there_s


def rates(fixed: Array, heat_j: Array, vessel_c: Array) -> tuple[Array, Array]:
    """Return the change of the food's heat and of the vessel's temperature by the second. [W, K/s]"""
    net_w, food, vessel, contact, loss, steam, air_c, _, steams_c, ice_g = fixed
    melting_j = 333.6 * ice_g
    food_c = np.where(
        heat_j >= 0, heat_j / food, np.where(heat_j >= -melting_j, 0.0, (heat_j + melting_j) / np.maximum(food - 2.1 * ice_g, 1))
    )
    near = np.clip((food_c - (steams_c - 22)) / 22, 0, 1)
    rises = steam * near**2.2 * (food_c <= steams_c + 0.5)
    into_food_w = contact * (vessel_c - food_c)
    food_w = into_food_w - 0.8 * loss * (food_c - air_c) - rises * LATENT_J
    return food_w, (net_w - into_food_w - 0.2 * loss * (vessel_c - air_c)) / vessel
