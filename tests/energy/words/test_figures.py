"""Figures in words never say more digits than they know."""

import re

from hypothesis import given
from hypothesis import strategies as st

from energy.words.figures import format_minutes, format_wh, uncertainty_step


@given(st.floats(0, 1e5), st.floats(0.001, 1e4))
def test_at_most_two_significant_digits_of_the_uncertainty(energy_wh, uncertainty_wh):
    words = format_wh(energy_wh, uncertainty_wh)
    shown = re.fullmatch(r"([\d,.]+)\u00a0±\u00a0([\d,.]+)\u00a0Wh", words)
    assert shown, words
    digits = shown[2].replace(",", "").lstrip("0.").replace(".", "")
    assert len(digits.rstrip("0") or "0") <= 2
    assert abs(float(shown[1].replace(",", "")) - energy_wh) <= uncertainty_step(uncertainty_wh) / 2 * (1 + 1e-6)


@given(st.floats(0, 1e5), st.floats(0.001, 1e4))
def test_value_and_uncertainty_have_the_same_decimals(energy_wh, uncertainty_wh):
    value, uncertainty = re.findall(r"[\d,.]+", format_wh(energy_wh, uncertainty_wh))
    assert len(value.partition(".")[2]) == len(uncertainty.partition(".")[2])


def test_minutes_never_show_sixty():
    assert format_minutes(3599) == "1\u00a0h"
    assert format_minutes(59.9) == "1\u00a0min"
    assert format_minutes(0) == "0\u00a0min"
    assert format_minutes(7199) == "2\u00a0h"
