"""The strip by minutes, strips on a common scale, and small marks on the ladder."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy import charts
from energy.charts.frames import Frame, minute_ticks
from energy.charts.lettering import span_of
from energy.words import ENGLISH
from energy.words.titles import what_costs_what
from tests.energy.charts.test_strips import stages
from tests.energy.estimates.domain.cooks import facts, stage

COOK = [stage("brown", 98, 9), stage("come_up", 124, 11), stage("hold", 14, 8), stage("rest", 0, 10)]


def test_a_stage_that_drew_nothing_is_bare_and_as_wide_as_its_minutes():
    strip = charts.strip(COOK, by="minutes", language=ENGLISH)
    assert [part.heat for part in strip.segments][-1] == "off"
    assert strip.segments[3].width / strip.segments[2].width == pytest.approx(10 / 8, rel=0.01)
    assert [part.value.text.replace("\u00a0", " ") for part in strip.segments] == ["9 min", "11 min", "8 min", "10 min"]


def test_both_strips_state_their_result():
    assert charts.strip(COOK, language=ENGLISH).title == "Brown and come up take 222 of 236 watt-hours."
    still = [stage("hold", 14, 60), stage("rest", 0, 5)]
    assert charts.strip(still, by="minutes", language=ENGLISH).title == "Hold takes 60 of 65 minutes."


def test_which_stage_costs_what_is_said():
    told = what_costs_what(COOK, ENGLISH).replace("\u00a0", " ")
    assert told == "Brown and come up take 94 % of the energy and 53 % of the time."
    assert what_costs_what([], ENGLISH) == ""
    assert what_costs_what([stage("rest", 0, 10)], ENGLISH) == ""


@given(stages, st.booleans())
def test_labels_by_minutes_neither_meet_nor_leave_the_drawing(given_stages, narrow):
    strip = charts.strip(given_stages, by="minutes", narrow=narrow, language=ENGLISH)
    for row in ("name", "value"):
        spans = sorted(span_of(getattr(one, row), strip.font_size) for one in strip.segments if getattr(one, row))
        assert all(before[1] <= after[0] + 0.01 for before, after in pairwise(spans))
        assert all(left >= -0.1 and right <= strip.width + 0.1 for left, right in spans)


@given(stages, st.floats(1, 20), st.sampled_from(["energy", "minutes"]))
def test_strips_on_a_common_scale_are_as_long_as_their_share(given_stages, times, by):
    size = sum(
        one.energy_wh if by == "energy" else one.span_s for one in given_stages if by == "minutes" or one.energy_wh >= 0.05
    )
    strip = charts.strip(given_stages, by=by, whole=times * size, language=ENGLISH)
    if strip is not None:
        end = strip.segments[-1].x + strip.segments[-1].width
        least = 2 * 1.0 + 4 * len(strip.segments)  # a bar of one and a gap of three for each
        assert end <= max((strip.width - 2) / times + 1.5, least)


def test_many_tiny_stages_with_long_names_leave_no_label_on_another():
    many = [replace(stage("hold", 1, 1), label="sear the seitan") for _ in range(12)] + [stage("bake", 900, 90)]
    strip = charts.strip(many, narrow=True, language=ENGLISH)
    spans = sorted(span_of(one.name, strip.font_size) for one in strip.segments if one.name)
    assert all(before[1] <= after[0] for before, after in pairwise(spans))
    assert len(spans) + len(strip.omitted) == 13


@given(st.floats(8, 600))
def test_hatching_stays_off_the_rounded_end(width):
    part = charts.Segment("hold", "cycling", 1, width, None, None)
    assert part.hatch <= width
    if width >= 13:
        assert 4 <= width - part.hatch < 12
        assert (part.hatch - 9) % 8 == 0  # ends with a whole bar


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
