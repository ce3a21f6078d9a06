"""A thinned log has the same energy before every moment, the same peaks, and both sides of every edge."""

from __future__ import annotations

import math
from array import array
from bisect import bisect_right

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from energy.meters.files.reading import MeterLog
from energy.meters.files.series.settling import Track, energy_of_watts
from energy.meters.files.thinning import thinned
from energy.runs.domain.rhythm import Came
from tests.energy.meters.files.cook import watts_at


def log_of(watts, held, step_s=1.0):
    nothing = array("d", [math.nan]) * len(watts)
    times = array("d", (n * step_s for n in range(len(watts))))
    return MeterLog(
        times, nothing, array("d", watts), nothing, came=Came(held), total_wh=0.0, method="watts", notes=(), rows=len(watts)
    )


def energy_wh(log, until_s=math.inf):
    after = bisect_right(log.times_s, until_s)
    return energy_of_watts(Track(log.times_s[:after], log.power_w[:after]), held=log.came.held)


@pytest.mark.parametrize("held", [True, False])
@pytest.mark.parametrize("wobble", [0, 4])
def test_a_long_cook_is_thinned_without_losing_anything(held, wobble):
    watts = [watts_at(second % 4500) + wobble * math.sin(second) + wobble for second in range(60_000)]
    log = log_of(watts, held)
    short = thinned(log, 5000)
    assert len(short.times_s) <= 5000
    assert "thinned" in short.notes[-1]
    assert energy_wh(short) == pytest.approx(energy_wh(log), rel=0.001)
    assert (max(short.power_w), min(short.power_w)) == (max(watts), min(watts))
    for second in short.times_s[:: len(short.times_s) // 40]:
        assert energy_wh(short, second) == pytest.approx(energy_wh(log, second), abs=0.001 * energy_wh(log))
    edges = [n for n in range(1, len(watts)) if abs(watts[n] - watts[n - 1]) > 600]
    kept = set(short.times_s)
    assert all(float(edge) in kept for edge in edges)


def test_a_short_log_stays_as_it_is():
    log = log_of([1.0, 2.0, 3.0], held=False)
    assert thinned(log) is log


@given(st.lists(st.integers(0, 2000), min_size=30, max_size=200), st.booleans())
@settings(max_examples=60, deadline=None)
def test_whatever_is_thinned_keeps_energy_and_peaks(watts, held):
    log = log_of([float(value) for value in watts], held)
    short = thinned(log, 20)
    assert energy_wh(short) == pytest.approx(energy_wh(log), rel=0.001, abs=1e-9)
    assert (max(short.power_w), min(short.power_w)) == (max(watts), min(watts))
    assert set(short.times_s) <= set(log.times_s)


def test_a_counter_that_begins_again_keeps_both_sides():
    climb = [float(n % 1000) for n in range(4000)]
    nothing = array("d", [math.nan]) * 4000
    told = {"total_wh": 0.0, "method": "counter", "notes": (), "rows": 4000}
    log = MeterLog(array("d", range(4000)), array("d", climb), nothing, nothing, **told)
    short = thinned(log, 100)
    assert list(short.energy_wh) == [0.0, 999.0, 0.0, 999.0, 0.0, 999.0, 0.0, 999.0]
