"""What a meal draws from its battery: as sure as what is known of the inverter, the label and the display."""

import math
import random
from dataclasses import replace
from types import SimpleNamespace

import pytest

from energy.estimates.domain.combine import combine_runs
from energy.estimates.domain.drawn import Between, Meals
from energy.estimates.domain.meal import meal_energy
from tests.energy.estimates.domain.cooks import HOOK_UP, STATION, facts, measured_run

INVERTER = 2 * 0.035 / math.sqrt(3) / 0.88
LABEL = 2 * 0.05 / math.sqrt(3)


def by(method):
    return (SimpleNamespace(counts=True, method=method),)


def test_inverter_and_label_make_battery_share_and_wall_less_sure():
    draw = meal_energy(facts(), 6, {}).draw
    battery_half = math.hypot(7, 236 * INVERTER) / 0.88
    assert draw.battery_wh.half_width == pytest.approx(battery_half)
    assert draw.wall_wh.half_width == pytest.approx(battery_half / 0.9)
    assert draw.share_pct.half_width == pytest.approx(math.hypot(battery_half, draw.battery_wh.value * LABEL) / 10.24)
    assert meal_energy(facts(source=HOOK_UP), 6, {}).draw.wall_wh == Between(236, 229, 243)


def test_a_readers_battery_is_no_surer():
    own = meal_energy(facts(), 6, {"battery_wh": 1024}).draw
    assert own.share_pct.half_width / own.share_pct.value == pytest.approx(0.079, abs=0.001)


def test_without_an_inverter_nothing_is_lost_and_nothing_unsure():
    straight = replace(STATION, inverter_efficiency=1.0, idle_w=0.0)
    assert meal_energy(facts(source=straight), 6, {}).draw.battery_wh == Between(236, 229, 243)


def test_what_was_read_behind_the_inverter_goes_back_without_it():
    """250 Wh were read at the battery: with the meter's own uncertainty, and that of repeats."""
    run = measured_run(105, 250, place="battery")
    read = combine_runs([replace(run, meter=replace(run.meter, place="battery"))])
    back = meal_energy(read, 6, {}).draw.battery_wh
    assert back.value == pytest.approx(250)
    meters = run.summary.uncertainty_wh
    repeats = 2.447 * 0.055 * read.energy_wh / 0.88
    assert back.half_width == pytest.approx(math.hypot(meters, repeats))
    elsewhere = meal_energy(read, 6, {"battery_wh": 1024}).draw.battery_wh
    assert elsewhere.half_width > 1.1 * back.half_width


def test_the_fall_of_the_charge_is_its_share_whatever_the_label():
    """A fall by 25 % of 1,024 Wh, uncertain by its display and by repeats alone."""
    from tests.energy.estimates.domain.test_combine import read_on_its_charge

    read = combine_runs([read_on_its_charge(25.0)])
    share = meal_energy(read, 6, {}).draw.share_pct
    assert share.value == pytest.approx(25.0)
    repeats = 2.447 * 0.055 * read.energy_wh / 0.88 / 10.24
    assert share.half_width == pytest.approx(math.hypot(2 / math.sqrt(6), repeats), rel=0.01)


def test_what_one_per_cent_gave_is_the_share_that_was_seen():
    known = replace(STATION, wh_per_pct=7.5, wh_per_pct_uncertainty=0.15)
    share = meal_energy(facts(source=known, runs=by("counter")), 6, {}).draw.share_pct
    assert share.value == pytest.approx((236 + 0.88 * 9 * 38 / 60) / 7.5)
    assert share.half_width == pytest.approx(math.hypot(7, 236 * 0.02) / 7.5)
    twice = meal_energy(facts(source=known, runs=by("counter")), 12, {}).draw.share_pct
    assert twice.low < twice.value < twice.high


def test_a_range_of_meals_follows_from_the_share():
    assert meal_energy(facts(), 6, {}).draw.meals == Meals(3, 3)
    assert meal_energy(facts(), 6, {"battery_wh": 610}).draw.meals == Meals(1, 2)


def test_true_batteries_lie_inside_the_range_nineteen_times_of_twenty():
    """Inverters of 84.5 to 91.5 %, batteries from 95 to 105 % of their label, meters of 2 %; 236 Wh as cooked for the mean."""
    chance = random.Random(11)
    inside = 0
    draw = meal_energy(facts(), 6, {}).draw
    for _ in range(2000):
        load_wh = 236 + chance.gauss(0, 3.5)
        held_wh = load_wh / chance.uniform(0.845, 0.915) + 9 * 38 / 60
        inside += draw.share_pct.low <= held_wh / (1024 * chance.uniform(0.95, 1.05)) * 100 <= draw.share_pct.high
    assert 0.94 * 2000 <= inside <= 0.99 * 2000
