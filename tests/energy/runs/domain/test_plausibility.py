"""What looks wrong: the thresholds, at their edges."""

import pytest

from energy.runs.domain import plausibility
from energy.runs.domain.counter import Fall
from energy.runs.domain.samples import StageSpan
from kitchen.domain.remark import remark


def code_of(remark):
    return None if remark is None else remark.code


@pytest.mark.parametrize(
    ("needed_wh", "code", "at_least"),
    [
        (101, "heat_above_energy", "more_heat_above_energy"),
        (100, "hardly_lost", "even_less_lost"),
        (90, "hardly_lost", "even_less_lost"),
        (89.9, None, None),
        (5, None, None),
    ],
)
def test_efficiency(needed_wh, code, at_least):
    assert code_of(plausibility.efficiency(needed_wh, 100)) == code
    assert code_of(plausibility.efficiency(needed_wh, 100, at_least=True)) == at_least
    assert plausibility.efficiency(needed_wh, 0) is None


@pytest.mark.parametrize(("needed_wh", "said"), [(50, False), (49.9, True), (0, True), (200, False)])
def test_much_lost(needed_wh, said):
    assert bool(plausibility.much_lost(needed_wh, 100)) is said
    assert plausibility.much_lost(needed_wh, 0) is None


def test_ten_percent_above_rated_power_passes():
    assert plausibility.above_rated([(0, 3600, 770)], 700) is None
    assert plausibility.above_rated([(0, 3600, 771)], 700).values["rated_w"] == 700
    assert plausibility.above_rated([(0, 3600, 771)], 700, step_wh=1) is None
    assert plausibility.above_rated([(0, 3600, 9999)], None) is None


def test_the_worst_stretch_is_named():
    worst = plausibility.above_rated([(0, 60, 100), (60, 120, 500), (120, 180, 90)], 700)
    assert (worst.values["start_s"], worst.values["end_s"]) == (60, 120)


def test_peaks():
    assert plausibility.peak_above_rated(770, 700) is None
    assert plausibility.peak_above_rated(771, 700)
    assert plausibility.peak_above_source(600, "it", 600) is None
    assert plausibility.peak_above_source(601, "it", 600)
    assert plausibility.peak_above_source(601, "it", None) is None


def test_time_going_backward():
    ordered = [StageSpan("brown", "", 0, 60), StageSpan("hold", "", 60, 90)]
    assert plausibility.stages_backward(ordered) is None
    overlapping = [StageSpan("brown", "", 0, 60), StageSpan("hold", "", 50, 90)]
    assert plausibility.stages_backward(overlapping) == remark("stages_overlap", stage=2, before=1)


def test_several_falls_are_counted():
    assert code_of(plausibility.counter_fell([Fall(60, 5, 1), Fall(90, 6, 2)])) == "counter_fell_twice"
    often = plausibility.counter_fell([Fall(60, 5, 1), Fall(90, 6, 2), Fall(99, 6, 2)])
    assert (often.code, often.values["more"], often.values["at_s"]) == ("counter_fell_often", 2, 60)


def test_a_minute_unread_at_the_ends_passes():
    assert plausibility.start_unread(60, 1) is plausibility.end_unread(60, 1) is None
    assert plausibility.start_unread(61, 1)
    assert plausibility.end_unread(61, 1)
