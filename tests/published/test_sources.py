"""Batteries, hook-ups and panels: arithmetic of the trade and two published rules."""

import pytest

from energy.gear.domain.recovery import charging_wh_per_hour, panel_wh_per_day
from energy.gear.domain.sources import draw_from_battery_wh, hook_up_verdict, hook_up_w


def test_an_inverter_that_stays_on_after_the_cook():
    """Arithmetic: 700 W for 20 min at 0.88 plus 12 W for 40 min make 273.2 Wh out of the battery."""
    assert draw_from_battery_wh(700 / 3, 2400, inverter_efficiency=0.88, idle_w=12) == pytest.approx(273.2, abs=0.05)


def test_a_panel_over_a_day():
    """Arithmetic: 200 W x 4.5 peak sun hours x 0.75."""
    assert panel_wh_per_day(200, 4.5, 0.75) == 675


@pytest.mark.parametrize(
    ("volts", "amps", "watts"),
    [(230, 6, 1380), (230, 10, 2300), (230, 16, 3680), (120, 15, 1800), (120, 20, 2400), (120, 30, 3600)],
)
def test_hook_ups(volts, amps, watts):
    """Common practice: what the post's breaker allows."""
    assert hook_up_w(volts, amps) == watts


def test_a_plug_in_cooker_takes_four_fifths_of_a_branch():
    """NFPA 70 (National Electrical Code), 210.23(A)(1): at most 80 % of the branch rating; it does not apply at 230 V."""
    assert hook_up_verdict(1440, 120, 15).word == "runs"
    assert hook_up_verdict(1441, 120, 15).word == "tight"
    assert hook_up_verdict(1200, 230, 6).word == "runs"


def test_charging_loses_some():
    """Arithmetic: 500 W at the wall put 450 Wh an hour into a battery that charges at 0.9."""
    assert charging_wh_per_hour(500, 0.9) == pytest.approx(450)
