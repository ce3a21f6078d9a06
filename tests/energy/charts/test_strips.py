"""The strip: widths that tell the energy, labels that never collide and never leave the drawing."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy import charts
from energy.charts.lettering import text_width
from energy.facts import StageEnergy
from energy.words import ENGLISH
from energy.words.titles import Fineness
from kitchen.domain.stages import STAGE_KINDS
from tests.energy.estimates.domain.cooks import facts, stage

stages = st.lists(
    st.builds(
        StageEnergy,
        kind=st.sampled_from(list(STAGE_KINDS)),
        label=st.sampled_from(["", "", "onions", "sear the seitan", "a label far too long to be drawn anywhere"]),
        energy_wh=st.floats(0, 900),
        span_s=st.floats(1, 30_000),
        mean_w=st.just(100.0),
        peak_w=st.none(),
        uncertainty_wh=st.just(1.0),
        attended=st.booleans(),
        cycling=st.booleans(),
    ),
    min_size=1,
    max_size=9,
)


VARIANTS = [{}, {"narrow": True}, {"paper": "card"}, {"paper": "slip"}, {"paper": "sheet"}]


def extent(label, font):
    width = text_width(label.text, font)
    left = {"start": label.x, "middle": label.x - width / 2, "end": label.x - width}[label.anchor]
    return left, left + width


@given(stages, st.sampled_from(VARIANTS))
def test_labels_neither_meet_nor_leave_the_drawing(given_stages, variant):
    strip = charts.strip(given_stages, **variant, language=ENGLISH)
    if strip is None:
        assert all(one.energy_wh < 0.05 for one in given_stages)
        return
    for row in ("name", "value"):
        boxes = sorted(extent(getattr(s, row), strip.font_size) for s in strip.segments if getattr(s, row))
        assert all(before[1] <= after[0] for before, after in pairwise(boxes))
        assert all(left >= -0.2 and right <= strip.width + 0.2 for left, right in boxes)
    assert len(strip.omitted) == sum(segment.name is None for segment in strip.segments)


@given(stages, st.sampled_from(VARIANTS))
def test_segments_stand_side_by_side(given_stages, variant):
    strip = charts.strip(given_stages, **variant, language=ENGLISH)
    if strip is None:
        return
    ends = [(s.x, s.x + s.width) for s in strip.segments]
    assert all(after[0] - before[1] == pytest.approx(3, abs=0.21) for before, after in pairwise(ends))
    assert ends[0][0] == 1
    assert ends[-1][1] == pytest.approx(strip.width - 1, abs=0.21)
    assert all(s.width >= 7.9 for s in strip.segments)


def test_widths_tell_the_energy():
    strip = charts.strip(facts().stages, language=ENGLISH)
    brown, come_up, hold = strip.segments
    assert brown.width / come_up.width == pytest.approx(98 / 124, rel=0.01)
    assert [s.heat for s in strip.segments] == ["on", "on", "cycling"]
    assert hold.name.anchor == "end"
    assert strip.title == "Brown and come up take 222 of 236 watt-hours."


def test_one_stage_takes_all():
    assert charts.strip([stage("bake", 420, 35)], language=ENGLISH).title == "Bake takes all 420 watt-hours."


def test_nothing_drawn_is_no_strip():
    assert charts.strip([stage("rest", 0, 10)], language=ENGLISH) is None
    assert charts.strip([], language=ENGLISH) is None


def test_a_narrow_first_stage_pushes_its_neighbours_label_aside():
    strip = charts.strip([stage("preheat", 20, 2), stage("brown", 300, 7)], language=ENGLISH)
    assert strip.omitted == ()
    assert strip.segments[1].name.x > strip.segments[1].x + 10


def test_what_has_no_room_is_left_to_the_table():
    crowd = [stage("brown", 300, 7), *(stage(kind, 1, 3) for kind in ("come_up", "hold", "reduce", "keep_warm"))]
    strip = charts.strip(crowd, narrow=True, language=ENGLISH)
    assert strip.omitted
    assert {segment.kind for segment in strip.segments} == {"brown", "come_up", "hold", "reduce", "keep_warm"}


def test_an_estimate_names_no_single_watt_hours():
    unsure = replace(stage("bake", 421, 35), uncertainty_wh=60.0)
    strip = charts.strip([unsure], fine=Fineness(10), language=ENGLISH)
    assert strip.segments[0].value.text.replace("\u00a0", " ") == "420 Wh"
    assert strip.title == "Bake takes all 420 watt-hours."
