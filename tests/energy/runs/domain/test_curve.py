"""The thinned curve: every peak stays, every watt-hour stays, gaps stay gaps."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.runs.domain.curve import MOST_COLUMNS, MOST_SWITCH_ONS, Trace, intervals, switch_ons, thin_curve, trace_of
from energy.runs.domain.marking import Curve
from energy.runs.domain.samples import Sample
from energy.runs.domain.watts import watts_track
from kitchen.domain import record

watts = st.lists(st.floats(0, 3000).map(lambda power: round(power, 1)), min_size=2, max_size=900)


def area_ws(points):
    return sum((before[1] + after[1]) / 2 * (after[0] - before[0]) for before, after in pairwise(points))


def energy_of(pieces):
    return sum(area_ws(piece.area) for piece in pieces) / 3600


@given(watts, st.booleans(), st.integers(1, 40))
def test_no_peak_is_lost_and_no_watt_hour(values, held, columns):
    curve = Curve([10.0 * place for place in range(len(values))], values, held=held)
    end_s = 10.0 * (len(values) - 1)
    pieces = thin_curve(curve, 0, end_s, columns)
    inside = values[:-1] if held else values  # a held value of the last moment has no time to hold
    assert max(power for piece in pieces for _, power in piece.line) == max(inside)
    assert min(power for piece in pieces for _, power in piece.line) == min(inside)
    points = list(zip(curve.times_s, values, strict=True))
    exact_wh = watts_track(points, held=held).sums_wh[-1]
    assert energy_of(pieces) == pytest.approx(exact_wh, rel=1e-9, abs=1e-9)


@given(watts, st.booleans(), st.integers(1, 40))
def test_a_thinned_curve_has_few_points_and_never_goes_back(values, held, columns):
    curve = Curve([10.0 * place for place in range(len(values))], values, held=held)
    pieces = thin_curve(curve, 0, 10.0 * len(values), columns)
    for piece in pieces:
        most = 2 * columns
        assert len(piece.line) <= max(2 * most + 3, 2 * (2 * columns + 1))
        assert all(before[0] <= after[0] for line in (piece.line, piece.area) for before, after in pairwise(line))


def test_a_million_readings_become_a_drawing():
    values = [900.0 if place % 30 < 12 else 0.0 for place in range(200_000)]
    values[123_456] = 1875.0
    (piece,) = thin_curve(Curve(list(range(200_000)), values), 0, 199_999)
    assert len(piece.line) <= 2 * MOST_COLUMNS + 4
    assert max(power for _, power in piece.line) == 1875.0


def test_held_values_go_in_steps_and_hold_to_the_end():
    (piece,) = thin_curve(Curve([0, 60], [700, 100], held=True), 0, 90)
    assert piece.line == ((0, 700), (60, 700), (60, 100), (90, 100))


def test_thinned_held_values_still_go_in_steps():
    values = [700.0 * (place % 2) for place in range(400)]
    (piece,) = thin_curve(Curve(list(range(400)), values, held=True), 0, 400, columns=10)
    assert all(before[0] == after[0] or before[1] == after[1] for before, after in pairwise(piece.line))


def test_sampled_watts_run_straight():
    (piece,) = thin_curve(Curve([0, 10, 20], [0, 600, 0]), 0, 20)
    assert piece.line == ((0, 0), (10, 600), (20, 0))


def test_a_gap_stays_a_gap_and_its_energy_is_not_drawn():
    times = [*range(0, 100, 10), *range(1000, 1100, 10)]
    before, after = thin_curve(Curve(times, [600] * 20), 0, 1100)
    assert (before.line[-1][0], after.line[0][0]) == (90, 1000)
    assert energy_of((before, after)) == pytest.approx(600 * 180 / 3600)


def test_only_what_lies_inside_the_run_is_shown():
    (piece,) = thin_curve(Curve([0, 100, 200], [0, 1000, 0]), 50, 150)
    assert piece.line == ((50, 500), (100, 1000), (150, 500))


def test_nothing_read_draws_nothing():
    assert thin_curve(Curve([], []), 0, 60) == ()
    assert trace_of([], 0, 60) == Trace()
    assert intervals(Trace()) == []


def test_a_ticking_element_comes_on_each_time_and_ripple_does_not_count():
    times = list(range(0, 600, 10))
    ticking = [1000 if at // 60 % 2 == 0 else 0 for at in times]
    assert switch_ons(Curve(times, ticking), 0, 600) == [0, 120, 240, 360, 480]
    assert switch_ons(Curve(times, [700 + at % 30 for at in times]), 0, 600) == [0]
    assert switch_ons(Curve(times, [3] * 60), 0, 600) == []


def test_a_trace_counts_from_the_start_of_the_run():
    samples = [Sample(100 + at, power_w=650 if at >= 20 else 0) for at in range(0, 100, 10)]
    trace = trace_of(samples, 100, 190)
    assert (trace.peak_w, trace.peak_s, trace.switch_ons_s) == (650, 20, (20,))
    assert trace.pieces[0].line[0] == (0, 0)


def test_too_many_switchings_are_counted_and_not_kept():
    samples = [Sample(10 * place, power_w=800 * (place % 2)) for place in range(2 * MOST_SWITCH_ONS + 10)]
    trace = trace_of(samples, 0, 10 * len(samples))
    assert (trace.switch_ons, trace.switch_ons_s) == (MOST_SWITCH_ONS + 5, ())


def test_a_counter_alone_gives_mean_watts_and_its_resets():
    trace = trace_of([Sample(0, 0), Sample(600, 100), Sample(1200, 10), Sample(1800, 40)], 0, 1800)
    assert trace.from_counter
    assert trace.resets_s == (1200,)
    assert energy_of(trace.pieces) == pytest.approx(140)


def test_a_trace_travels_as_json():
    trace = trace_of([Sample(10 * place, power_w=800 * (place % 3)) for place in range(1000)], 0, 9990)
    assert record.read(Trace, record.write(trace)) == trace


def test_the_table_tells_the_same_energy_as_the_curve():
    trace = trace_of([Sample(10 * place, power_w=800 * (place % 3)) for place in range(1000)], 0, 9990)
    rows = intervals(trace)
    assert len(rows) == 12
    assert sum(mean * (end - start) for start, end, _, mean, _ in rows) / 3600 == pytest.approx(energy_of(trace.pieces), rel=1e-3)
    assert all(low <= mean <= high for _, _, low, mean, high in rows)
