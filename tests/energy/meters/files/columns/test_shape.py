"""The units of a meter's columns, against their definitions (BIPM, The International System of Units, 9th edition)."""

from __future__ import annotations

import pytest

from energy.meters.files.columns.shape import AS_WRITTEN, BASE, CHARGE, INTERVAL, POWER, TOTAL, UNITS, in_base

JOULES = {"Wh": 3600, "kWh": 3.6e6, "MWh": 3.6e9, "mWh": 3.6, "W min": 60, "mW min": 0.06, "J": 1, "kJ": 1e3, "MJ": 1e6}
WATTS = {"W": 1, "kW": 1e3, "MW": 1e6, "mW": 1e-3}


@pytest.mark.parametrize("role", [INTERVAL, TOTAL])
@pytest.mark.parametrize(("unit", "joules"), JOULES.items())
def test_an_energy_becomes_watt_hours(role, unit, joules):
    assert in_base(role, unit) == pytest.approx(joules / 3600, rel=1e-15)


@pytest.mark.parametrize(("unit", "watts"), WATTS.items())
def test_a_power_becomes_watts(unit, watts):
    assert in_base(POWER, unit) == pytest.approx(watts, rel=1e-15)


def test_every_unit_of_a_column_is_tried_here_and_what_is_none_changes_nothing():
    assert {*UNITS[INTERVAL], *UNITS[TOTAL]} == {*JOULES, AS_WRITTEN}
    assert {*UNITS[POWER]} == {*WATTS, AS_WRITTEN}
    for role in BASE:
        assert in_base(role, BASE[role]) == 1
        assert in_base(role, "") == in_base(role, "parsec") == in_base(role, AS_WRITTEN) == 1
    assert in_base(CHARGE, "%") == in_base("time", "s") == 1
