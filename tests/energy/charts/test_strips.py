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


SIZES = ["wide", "narrow", "card", "slip", "sheet"]
LIMITS = [None, (1000.0, "the battery gives 1,000 W"), (300.0, "your inverter gives 300 W")]


def extent(label, font):
    return label.x, label.x + text_width(label.text, font)


def heights(strip):
    return [strip.top + label.y for row in (strip.energies, strip.peaks, strip.names, strip.minutes) for label in row]


@given(stages, st.sampled_from(SIZES), st.sampled_from(LIMITS))
def test_labels_neither_meet_nor_leave_the_drawing(given_stages, size, limit):
    strip = charts.strip(given_stages, size=size, limit=limit, language=ENGLISH)
    if strip is None:
        assert all(one.energy_wh < 0.05 for one in given_stages)
        return
    for row in (strip.energies, strip.names, strip.minutes):
        boxes = sorted(extent(label, strip.font_size) for label in row)
        assert all(before[1] <= after[0] for before, after in pairwise(boxes))
        assert all(left >= -0.2 and right <= strip.width + 0.2 for left, right in boxes)
    assert all(0.7 * strip.font_size <= y <= strip.height for y in heights(strip))
    assert len(strip.omitted) == len(given_stages) - len(strip.names)


@given(stages, st.sampled_from(SIZES), st.sampled_from(LIMITS))
def test_watt_hours_stand_on_the_ink_and_not_in_it(given_stages, size, limit):
    strip = charts.strip(given_stages, size=size, limit=limit, language=ENGLISH)
    for label in strip.energies if strip else ():
        left, right = extent(label, strip.font_size)
        assert all(top > label.y for begin, end, top in strip.drawn.spots if begin < right and end > left)


def test_wide_is_minutes_and_tall_is_watts():
    strip = charts.strip(facts().stages, language=ENGLISH)
    (start, end, top), (start_2, end_2, top_2), *_ = strip.drawn.spots
    assert (end - start) / (end_2 - start_2) == pytest.approx(facts().stages[0].span_s / facts().stages[1].span_s, rel=0.01)
    watts, watts_2 = (one.mean_w for one in facts().stages[:2])
    assert (strip.drawn.ground - top) / (strip.drawn.ground - top_2) == pytest.approx(watts / watts_2, rel=0.01)
    assert [label.text.replace("\u00a0", " ") for label in strip.energies] == ["98 Wh", "124 Wh", "14 Wh"]
    assert strip.title == "Brown and come up take 222 of 236 watt-hours."


def test_what_the_source_gives_is_a_line_until_it_would_flatten_the_stages():
    bake = [stage("bake", 420, 35)]
    fits, far = (charts.strip(bake, limit=(power, "gives"), language=ENGLISH) for power in (1000, 9000))
    assert fits.limit.y == 0
    assert far.limit is None


def test_a_stage_that_drew_nothing_is_hollow_and_as_wide_as_its_minutes():
    strip = charts.strip([stage("come_up", 124, 11), stage("hold", 14, 8), stage("rest", 0, 10)], language=ENGLISH)
    spans = [end - start for start, end, _ in strip.drawn.spots]
    assert spans[2] / spans[1] == pytest.approx(10 / 8)
    assert strip.drawn.hollow
    assert [label.text.replace("\u00a0", " ") for label in strip.minutes] == ["11 min", "8 min", "10 min"]


def test_one_stage_takes_all():
    assert charts.strip([stage("bake", 420, 35)], language=ENGLISH).title == "Bake takes all 420 watt-hours."


def test_nothing_drawn_is_no_strip():
    assert charts.strip([stage("rest", 0, 10)], language=ENGLISH) is None
    assert charts.strip([], language=ENGLISH) is None


def test_what_has_no_room_is_told_beside():
    crowd = [stage("brown", 300, 70), *(stage(kind, 1, 1) for kind in ("come_up", "hold", "reduce", "keep_warm"))]
    strip = charts.strip(crowd, size="narrow", language=ENGLISH)
    assert [one.partition(" ")[0] for one in strip.omitted]
    assert len(strip.omitted) + len(strip.names) == 5


def test_an_estimate_is_an_outline_with_its_doubt_hatched_and_no_single_watt_hours():
    unsure = replace(stage("bake", 421, 35), uncertainty_wh=60.0)
    strip = charts.strip([unsure], fine=Fineness(10), measured=False, language=ENGLISH)
    assert (strip.drawn.solid, bool(strip.drawn.outline), bool(strip.drawn.doubt)) == ("", True, True)
    assert strip.energies[0].text.replace("\u00a0", " ") == "420 Wh"
    assert strip.title == "Bake takes all 420 watt-hours."


@given(st.lists(stages, min_size=2, max_size=4))
def test_cooks_on_one_scale_are_as_long_as_their_time_and_as_tall_as_their_watts(cooks):
    scale = charts.scale_of(cooks)
    for cook in cooks:
        strip = charts.strip(cook, scale=scale, language=ENGLISH)
        if strip is not None:
            whole_s = sum(one.span_s for one in cook)
            inked = sum(end - start for start, end, _ in strip.drawn.spots)
            assert inked == pytest.approx(strip.width * whole_s / scale.whole_s, rel=0.01)
            assert all(top >= -0.01 for _, _, top in strip.drawn.spots)
