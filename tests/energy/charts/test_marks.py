"""Minutes below an axis, small marks on the ladder, and what is said of time and energy together."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy import charts
from energy.charts.frames import Frame, minute_ticks
from energy.charts.lettering import span_of
from energy.words import ENGLISH
from energy.words.titles import what_costs_what
from tests.energy.estimates.domain.cooks import facts, stage

COOK = [stage("brown", 98, 9), stage("come_up", 124, 11), stage("hold", 14, 8), stage("rest", 0, 10)]


def test_which_stage_costs_what_is_said():
    told = what_costs_what(COOK, ENGLISH).replace("\u00a0", " ")
    assert told == "Brown and come up take 94 % of the energy and 53 % of the time."
    assert what_costs_what([], ENGLISH) == ""
    assert what_costs_what([stage("rest", 0, 10)], ENGLISH) == ""


@given(st.floats(1, 400_000), st.sampled_from(["wide", "narrow", "frame", "share"]))
def test_minutes_below_an_axis_never_meet(end_s, size):
    frame = Frame.around(end_s, 300, size)
    ticks = minute_ticks(frame)
    spans = [span_of(tick.label, frame.font_size) for tick in ticks]
    assert 1 <= len(ticks) <= 7
    assert all(before[1] < after[0] for before, after in pairwise(spans))
    assert all(left >= 0 and right <= frame.width for left, right in spans)


def test_dots_lie_on_the_climb_and_do_not_run_together():
    held = facts()
    ladder = charts.ladder(held.ladder, held.stages, ons_s=[0, 1, 600, 1700], resets_s=[600], language=ENGLISH)
    assert len(ladder.ons) == 3
    assert ladder.resets[0] == ladder.ons[1]
    line = [tuple(map(float, pair.split(","))) for pair in ladder.line.split()]
    (x0, y0), (x1, y1) = next(pair for pair in pairwise(line) if pair[0][0] <= ladder.ons[1].x <= pair[1][0])
    on_line = y0 + (y1 - y0) * (ladder.ons[1].x - x0) / (x1 - x0)
    assert ladder.ons[1].y == pytest.approx(on_line, abs=0.3)


def test_marks_outside_the_run_are_not_drawn():
    assert charts.ladder([(0, 0), (600, 90)], ons_s=[-60, 5000], language=ENGLISH).ons == ()
    assert charts.ladder([], ons_s=[0], language=ENGLISH).ons == ()
