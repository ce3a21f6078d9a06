"""The highest power: a display's word first; the counter only where it proves more than that."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.runs.domain.cook import Cook
from energy.runs.domain.method import choose
from energy.runs.domain.peak import peak, stage_peak
from energy.runs.domain.samples import Limits, MeterSpec, Sample, StageSpan

PLUG = MeterSpec(1, 2)


def peak_of(*samples, meter=PLUG, **more):
    return peak(Cook(samples, (), meter, Limits()), choose(samples, meter, **more))


@pytest.mark.parametrize("climb_wh", [22, 23, 24])
def test_one_step_over_two_minutes_never_lifts_the_peak_that_was_shown(climb_wh):
    assert peak_of(Sample(0, 0, 690), Sample(120, climb_wh, 685)) == (690, True)


def test_a_climb_beyond_what_its_steps_explain_is_a_higher_peak_that_no_display_showed():
    found, seen = peak_of(Sample(0, 0, 200), Sample(300, 56, 0))
    assert found == pytest.approx(660)
    assert not seen


@given(st.floats(50, 3000), st.floats(0.1, 10), st.integers(30, 900), st.floats(0, 1))
def test_a_steady_load_never_proves_more_than_it_draws(load_w, step_wh, span_s, phase):
    def shown(at_s):
        return int((load_w * at_s / 3600) / step_wh + phase) * step_wh

    samples = [Sample(at_s, shown(at_s)) for at_s in (0, span_s, 2 * span_s)]
    found, seen = peak_of(*samples, meter=MeterSpec(step_wh, 2))
    assert not seen
    assert found is None or found <= load_w * (1 + 1e-9)


def test_one_reading_beside_a_battery_charge_is_no_peak():
    assert peak_of(Sample(0, charge_pct=100), Sample(900, None, 40), Sample(1800, charge_pct=62), capacity_wh=768) == (
        None,
        False,
    )


def test_nothing_shown_and_nothing_climbed_is_no_peak():
    assert peak_of(Sample(0, 0), Sample(600, 3)) == (None, False)


@pytest.mark.parametrize(("read_w", "found_w"), [(690, 690), (630, 630), (0, None), (200, None)])
def test_a_stage_whose_readings_missed_the_element_has_no_peak(read_w, found_w):
    cook = Cook((Sample(0, 0, read_w), Sample(600, 105, 0)), (), PLUG, Limits())
    assert stage_peak(cook, StageSpan("brown", "", 0, 540), 640) == found_w
