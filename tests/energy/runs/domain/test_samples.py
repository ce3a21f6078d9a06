"""Readings and stages as they are handed over."""

import pytest

from energy.runs.domain.samples import Sample, StageSpan


def test_a_stage_knows_its_span():
    assert StageSpan("brown", "", 30, 630).span_s == 600


def test_zero_and_full_are_readings():
    assert Sample(0, 0, 0, 0) != Sample(0, 0, 0, 100)


@pytest.mark.parametrize(
    ("figures", "words"),
    [
        ({"energy_wh": -1}, "a counter cannot show -1 Wh"),
        ({"power_w": -5}, "a cooker cannot draw -5 W"),
        ({"charge_pct": 101}, "not at 101 %"),
        ({"charge_pct": -1}, "not at -1 %"),
        ({"charge_pct": float("nan")}, "between 0 and 100"),
        ({"power_w": float("inf")}, "plain number"),
    ],
)
def test_what_no_display_can_show_is_refused_in_words(figures, words):
    with pytest.raises(ValueError, match=words):
        Sample(0, **figures)


def test_a_moment_is_a_number():
    with pytest.raises(ValueError, match="the time"):
        Sample(float("nan"), 5)
