"""What looks wrong: the thresholds, at their edges."""

import pytest

from energy.domain import plausibility
from energy.domain.counter import Fall
from energy.domain.samples import StageSpan


@pytest.mark.parametrize(
    ("needed_wh", "words"),
    [(101, "about 101"), (100, "is 100"), (90, "is 90"), (89.9, ""), (5, "")],
)
def test_efficiency(needed_wh, words):
    sentence = plausibility.efficiency(needed_wh, 100)
    assert words in sentence
    assert bool(sentence) is bool(words)
    assert ("at least" in plausibility.efficiency(needed_wh, 100, at_least=True)) is bool(words)
    assert plausibility.efficiency(needed_wh, 0) == ""


@pytest.mark.parametrize(("needed_wh", "said"), [(50, False), (49.9, True), (0, True), (200, False)])
def test_much_lost(needed_wh, said):
    assert bool(plausibility.much_lost(needed_wh, 100)) is said
    assert plausibility.much_lost(needed_wh, 0) == ""


def test_ten_percent_above_rated_power_passes():
    assert plausibility.above_rated([(0, 3600, 770)], 700) == ""
    assert "700" in plausibility.above_rated([(0, 3600, 771)], 700)
    assert plausibility.above_rated([(0, 3600, 771)], 700, step_wh=1) == ""
    assert plausibility.above_rated([(0, 3600, 9999)], None) == ""


def test_the_worst_stretch_is_named():
    sentence = plausibility.above_rated([(0, 60, 100), (60, 120, 500), (120, 180, 90)], 700)
    assert sentence.startswith("From minute 1 to minute 2")


def test_peaks():
    assert plausibility.peak_above_rated(770, 700) == ""
    assert plausibility.peak_above_rated(771, 700)
    assert plausibility.peak_above_source(600, "it", 600) == ""
    assert plausibility.peak_above_source(601, "it", 600)
    assert plausibility.peak_above_source(601, "it", None) == ""


def test_time_going_backward():
    assert plausibility.backward_rows([0, 1, 1, 2]) == ""
    assert "In 2 places, first at row 3" in plausibility.backward_rows([5, 4, 9, 8], first_row=2)
    ordered = [StageSpan("brown", "", 0, 60), StageSpan("hold", "", 60, 90)]
    assert plausibility.stages_backward(ordered) == ""
    assert "stage 2 starts before stage 1 has ended" in plausibility.stages_backward(
        [StageSpan("brown", "", 0, 60), StageSpan("hold", "", 50, 90)]
    )


def test_several_falls_are_counted():
    assert "and 1 more times" not in plausibility.counter_fell([Fall(60, 5, 1), Fall(90, 6, 2)])
    assert "and once more" in plausibility.counter_fell([Fall(60, 5, 1), Fall(90, 6, 2)])
    assert "and 2 more times" in plausibility.counter_fell([Fall(60, 5, 1), Fall(90, 6, 2), Fall(99, 6, 2)])


def test_a_minute_unread_at_the_ends_passes():
    assert plausibility.start_unread(60, 1) == plausibility.end_unread(60, 1) == ""
    assert plausibility.start_unread(61, 1)
    assert plausibility.end_unread(61, 1)
