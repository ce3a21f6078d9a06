"""Cuts and marks that a curve suggests. All logs here are invented."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.runs.domain.marking import Curve, Mark, counter_curve, envelope, name_marks, propose_cuts, propose_marks


def sampled(*parts, every_s=10, start_s=0):
    """Return a sampled curve of (seconds, watts) parts, one after the other."""
    times, watts, at = [], [], start_s
    for span_s, power_w in parts:
        for _ in range(span_s // every_s):
            times.append(at)
            watts.append(power_w(at) if callable(power_w) else power_w)
            at += every_s
    return Curve(times, watts)


def ticks(at_s):
    return 1000 if at_s // 20 % 3 == 0 else 0


def test_two_cooks_of_an_evening_are_cut_at_the_idle_between_them():
    log = sampled((600, 1), (1200, 900), (3600, 1), (900, 600), (7200, 1))
    first, second = propose_cuts(log)
    assert (first.start_s, first.end_s) == (590, 1800)
    assert (second.start_s, second.end_s) == (5390, 6300)
    # 900 W for 20 min and 600 W for 15 min, by hand; the ramps of one sample at each end add half a sample each
    assert first.energy_wh == pytest.approx(300, abs=3)
    assert second.energy_wh == pytest.approx(150, abs=2)
    assert (first.peak_w, second.peak_w) == (900, 600)


def test_a_pot_left_on_its_pressure_is_one_cook():
    assert len(propose_cuts(sampled((600, 900), (15 * 60, 0), (300, 900), (60, 0)))) == 1
    assert len(propose_cuts(sampled((600, 900), (25 * 60, 0), (300, 900), (60, 0)))) == 2


def test_a_log_without_rows_between_two_cooks_is_cut_there():
    one, other = sampled((600, 900)), sampled((600, 900), start_s=20_000)
    log = Curve([*one.times_s, *other.times_s], [*one.watts, *other.watts])
    assert [(cook.start_s, cook.end_s) for cook in propose_cuts(log)] == [(0, 590), (20_000, 20_590)]


def test_a_log_of_changes_draws_until_its_next_row():
    log = Curve([0, 100, 4000, 9000, 9600], [0, 700, 0, 500, 0], held=True)
    assert [(cook.start_s, cook.end_s, round(cook.energy_wh, 1)) for cook in propose_cuts(log)] == [
        (100, 4000, 758.3),
        (9000, 9600, 83.3),
    ]


def test_a_display_and_a_test_press_are_no_cooks():
    assert propose_cuts(sampled((7200, 4))) == []
    assert propose_cuts(sampled((3600, 0), (10, 900), (3600, 0))) == []
    assert propose_cuts(Curve([], [])) == []


def test_marks_follow_the_element():
    log = sampled((600, 650), (600, 1000), (1200, ticks), (900, 1))
    marks = propose_marks(log, 0, 3290)
    assert [mark.state for mark in marks] == ["on", "more", "ticking", "off"]
    assert [mark.at_s for mark in marks] == pytest.approx([0, 600, 1220, 2360], abs=60)
    assert name_marks(marks, ["brown", "come_up", "hold", "release"]) == [
        (mark.at_s, kind) for mark, kind in zip(marks, ["brown", "come_up", "hold", "release"], strict=True)
    ]


def test_nothing_is_suggested_where_nothing_was_drawn():
    assert propose_marks(sampled((600, 2)), 0, 600) == []
    assert propose_marks(Curve([], []), 0, 600) == []


def test_a_method_that_does_not_fit_gives_way_to_the_usual_names():
    assert name_marks([Mark(0, "on"), Mark(60, "off")], ["rest", "keep_warm"]) == [(0, "come_up"), (60, "rest")]


def test_a_counter_that_was_set_back_never_draws_less_than_nothing():
    assert list(counter_curve([0, 3600, 7200], [100, 40, 140]).watts) == [40, 100, 100]
    assert list(counter_curve([5], [3]).watts) == [0.0]


moments = st.lists(st.tuples(st.integers(1, 4000), st.floats(0, 3000)), min_size=1, max_size=200)


@given(moments, st.booleans())
def test_cuts_lie_in_order_inside_the_log_and_hold_no_more_than_all_of_it(steps, held):
    times, at = [], 0
    for span_s, _ in steps:
        at += span_s
        times.append(at)
    curve = Curve(times, [power for _, power in steps], held=held)
    cuts = propose_cuts(curve)
    edges = [edge for cut in cuts for edge in (cut.start_s, cut.end_s)]
    assert edges == sorted(edges)
    assert all(times[0] <= edge <= times[-1] for edge in edges)
    most_wh = curve.peak_w * (times[-1] - times[0]) / 3600
    assert sum(cut.energy_wh for cut in cuts) <= most_wh * (1 + 1e-9)


@given(moments, st.integers(1, 50))
def test_thinning_keeps_the_peak_and_the_floor(steps, columns):
    curve = Curve(list(range(len(steps))), [power for _, power in steps])
    thinned = envelope(curve, 0, len(steps), columns)
    assert max(power for _, power in thinned) == curve.peak_w
    assert min(power for _, power in thinned) == min(curve.watts)
    assert [at for at, _ in thinned] == sorted(at for at, _ in thinned)
    assert len(thinned) <= 4 * (columns + 1)


@given(moments)
def test_marks_lie_inside_the_cook_and_rise(steps):
    curve = Curve(list(range(0, 30 * len(steps), 30)), [power for _, power in steps])
    marks = propose_marks(curve, 0, curve.times_s[-1])
    assert [mark.at_s for mark in marks] == sorted({mark.at_s for mark in marks})
    assert len(name_marks(marks, [])) == len(marks) <= 10
