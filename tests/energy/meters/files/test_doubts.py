"""No wrong figure without a word: falls of a counter, holes, units that no name tells, rows that fall out. All invented."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from energy.meters.files.looking import look_at
from energy.meters.files.reading import read_meter_log
from energy.meters.files.thinning import thinned
from energy.runs.domain.metering import MeterSpec, summarise

START = datetime(2026, 10, 14, 16, 30, tzinfo=UTC)


def log_of(header, rows):
    text = header + "\n" + "".join(f"{(START + timedelta(seconds=at_s)).isoformat()},{cells}\n" for at_s, cells in rows)
    look = look_at(text.encode(), zone="UTC")
    assert not look.refusal
    return read_meter_log([text.encode()], look.shape, zone="UTC")


def figures_of(log):
    return summarise(list(log.samples()), [], MeterSpec(), came=log.came)


def codes(summary):
    return [flag.code for flag in summary.flags]


def test_a_small_fall_of_a_large_counter_is_a_fault_whose_energy_is_open():
    kwh = [7016.0 + 0.01 * n - (0.07 if n >= 60 else 0) for n in range(120)]
    log = log_of("time,counter_kwh", [(60 * n, f"{value:.2f}") for n, value in enumerate(kwh)])
    assert log.total_wh == pytest.approx(1180, rel=0.02)
    assert any("without beginning again" in note for note in log.notes)
    run = figures_of(log)
    assert run.energy_wh == pytest.approx(log.total_wh)
    assert "counter_faulty" in codes(run)
    assert run.uncertainty_wh >= 60
    assert run.resets == 0


@pytest.mark.parametrize("begins", [0.0, 0.01, 0.02])
def test_a_counter_that_begins_near_zero_was_reset(begins):
    kwh = [0.5 + 0.02 * n for n in range(30)] + [begins + 0.02 * n for n in range(30)]
    log = log_of("time,counter_kwh", [(60 * n, f"{value:.2f}") for n, value in enumerate(kwh)])
    assert log.total_wh == pytest.approx(1160 + 1000 * begins, rel=0.02)
    assert "counter_fell" in codes(figures_of(log))


def test_a_fall_to_anywhere_else_is_asked_for():
    kwh = [900 + 0.02 * n for n in range(30)] + [300 + 0.02 * n for n in range(30)]
    log = log_of("time,counter_kwh", [(60 * n, f"{value:.2f}") for n, value in enumerate(kwh)])
    assert log.total_wh == pytest.approx(1160, rel=0.02)
    assert "counter_faulty" in codes(figures_of(log))


def test_several_rows_of_nought_in_a_counter_are_no_reset():
    kwh = [f"{0 if 30 <= n < 34 else 7016 + 0.02 * n:.2f}" for n in range(60)]
    log = log_of("time,counter_kwh", list(enumerate(kwh)))
    assert log.total_wh == pytest.approx(1180, rel=0.02)


@pytest.mark.parametrize(
    ("held", "rows"),
    [
        (False, [(10 * n, 900) for n in range(400)] + [(4000 + 27_000 + 10 * n, 900) for n in range(400)]),
        (True, [(7 * n, 900 + n % 9) for n in range(400)] + [(2800 + 27_000 + 7 * n, 900 + n % 7) for n in range(400)]),
    ],
)
def test_a_hole_of_hours_is_flagged_with_what_may_hide_in_it(held, rows):
    header = "last_changed,entity_id,state" if held else "time,watts"
    log = log_of(header, [(at_s, f"sensor.plug_power,{w}" if held else w) for at_s, w in rows])
    assert log.came.held is held
    assert any("hole in the log" in note for note in log.notes)
    run = figures_of(log)
    hole = next(flag for flag in run.flags if flag.code == "hole")
    assert hole.values["span_s"] == pytest.approx(27_000, abs=30)
    assert hole.values["most_wh"] == pytest.approx(900 * 27_000 / 3600, rel=0.02)
    assert run.uncertainty_wh >= hole.values["counted_wh"]


def test_a_time_at_which_the_device_was_not_heard_is_a_hole():
    rows = [(30 * n, f"sensor.plug_power,{900 + n % 5}") for n in range(40)]
    rows += [(1200, "sensor.plug_power,unavailable"), (4800, "sensor.plug_power,900"), (4830, "sensor.plug_power,0")]
    run = figures_of(log_of("last_changed,entity_id,state", rows))
    assert run.energy_wh == pytest.approx(307.5, rel=0.02)
    assert next(flag for flag in run.flags if flag.code == "hole").values["span_s"] == pytest.approx(3600)


def test_missing_intervals_are_a_hole_with_what_may_hide_in_it():
    log = log_of("start,usage (kWh)", [(900 * n, "0.25") for n in range(40) if not 10 <= n < 14])
    assert log.total_wh == pytest.approx(9000)
    run = figures_of(log)
    hole = next(flag for flag in run.flags if flag.code == "hole")
    assert (hole.values["counted_wh"], hole.values["most_wh"]) == (0, pytest.approx(1000))
    assert run.uncertainty_wh >= 1000


def test_a_log_that_was_thinned_says_what_it_said_before():
    def watts(at_s):
        return 0.4 if at_s > 30_000 else 1180.0 + at_s % 3 if at_s % 900 < 300 else 1.2

    log = log_of("time,watts", [(at_s, watts(at_s)) for at_s in range(36_000)])
    short = thinned(log)
    assert short.count < 20_000
    whole, kept = figures_of(log), figures_of(short)
    assert kept.energy_wh == pytest.approx(whole.energy_wh, rel=0.001)
    assert kept.uncertainty_wh == pytest.approx(whole.uncertainty_wh, rel=0.05)
    assert kept.flags == whole.flags
    assert kept.coverage.interval_s == whole.coverage.interval_s == 1


@pytest.mark.parametrize(("header", "cell", "unit"), [("time,power", "1.2", "kW"), ("time,energy", "{:.3f}", "kWh")])
def test_a_unit_that_no_name_tells_asks_for_a_yes_with_the_other_figure_beside_it(header, cell, unit):
    log = log_of(header, [(60 * n, cell.format(5 + 0.02 * n)) for n in range(61)])
    (doubt,) = log.doubts
    assert (doubt.code, doubt.values["unit"]) == ("unit_guessed", unit)
    assert doubt.values["read_wh"] == pytest.approx(1200, rel=0.02)
    assert doubt.values["other_wh"] == pytest.approx(1.2, rel=0.02)


def test_a_named_unit_is_not_in_doubt():
    assert log_of("time,power (kW)", [(60 * n, "1.2") for n in range(61)]).doubts == ()


def test_rows_that_fall_out_are_told_with_their_energy():
    rows = [(900 * n, "0.25") for n in range(40)] + [(900 * n, "0.25") for n in range(8)]
    log = log_of("start,usage (kWh)", rows)
    assert log.total_wh == pytest.approx(10_000)
    (doubt,) = log.doubts
    assert (doubt.code, doubt.values["rows"], doubt.values["dropped_wh"]) == ("rows_dropped", 8, pytest.approx(2000))
