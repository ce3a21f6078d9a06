"""What a run's figures are worked out from where a device sent readings of the same meter."""

from __future__ import annotations

import math
from datetime import timedelta

import pytest

from energy.meters.queries import device_readings
from energy.models import SentReading
from energy.runs.operations.summing import refresh_summary
from energy.runs.queries.samples import samples_of


def fill(meter, start, rows):
    SentReading.objects.bulk_create(
        SentReading(meter=meter, at=start + timedelta(seconds=at_s), **figures) for at_s, figures in rows
    )


def test_a_device_counter_that_covers_the_run_is_used_alone(run, meter, noon):
    # Invented: the plug's own counter stands at 81,000 Wh and climbs by 214 Wh while the typed one climbs by 213 Wh.
    fill(meter, noon, [(60 * minute, {"energy_wh": 81_000 + 214 * min(minute / 21, 1)}) for minute in range(-3, 40)])
    refresh_summary(run=run)
    assert run.summary["energy_wh"] == pytest.approx(214)
    assert run.summary["resets"] == 0
    used = {"code": "device_counter_used", "values": {"used_wh": pytest.approx(214), "other_wh": pytest.approx(213)}}
    assert used in run.summary["notes"]


def test_a_device_that_came_late_only_checks_the_typed_counter(run, meter, noon):
    fill(meter, noon, [(60 * minute, {"energy_wh": 81_000 + 10 * minute}) for minute in range(10, 31)])
    refresh_summary(run=run)
    assert run.summary["energy_wh"] == pytest.approx(213)
    assert (run.flags, run.summary["resets"]) == ([], 0)


def test_another_meter_and_another_hour_stay_out(run, meter, noon):
    fill(meter, noon - timedelta(hours=3), [(0, {"energy_wh": 5}), (60, {"energy_wh": 9})])
    assert len(samples_of(run).samples) == run.readings.count()


def test_very_many_rows_keep_energy_and_peak_when_the_database_draws_them_together(run, meter, noon, monkeypatch):
    # A hob of 1500 W, 20 s on and 40 s off, watched every second for half an hour: 30 x 20 s x 1500 W = 250 Wh.
    watts = [(at_s, {"power_w": 1500.0 if at_s % 60 < 20 else 0.0}) for at_s in range(1860)]
    fill(meter, noon, [*watts[:700], (700, {"power_w": 1800.0}), *watts[701:]])
    run.readings.all().delete()
    refresh_summary(run=run)
    exact = run.summary
    monkeypatch.setattr(device_readings, "MOST_ROWS", 100)
    monkeypatch.setattr(device_readings, "_BINS", 300)
    rows = device_readings.sent_samples(meter.pk, noon, run.ended_at, timedelta())
    assert len(rows) < 1300
    refresh_summary(run=run)
    assert run.summary["energy_wh"] == pytest.approx(exact["energy_wh"], rel=0.01)
    assert run.summary["peak_w"] == exact["peak_w"] == 1800


def test_a_counter_drawn_together_still_climbs_as_it_did(run, meter, noon, monkeypatch):
    fill(meter, noon, [(at_s, {"energy_wh": 100 + 0.1 * at_s, "charge_pct": 90 - at_s / 100}) for at_s in range(1861)])
    monkeypatch.setattr(device_readings, "MOST_ROWS", 100)
    refresh_summary(run=run)
    assert run.summary["energy_wh"] == pytest.approx(186, abs=0.2)
    assert math.isclose(run.summary["charge_fall_pct"], 18.6, abs_tol=0.1)


def test_gathering_costs_no_more_queries_with_more_rows(run, meter, noon, django_assert_num_queries):
    fill(meter, noon, [(0, {"power_w": 5.0})])
    with django_assert_num_queries(5):
        samples_of(run)
    fill(meter, noon, [(at_s, {"power_w": 5.0}) for at_s in range(1, 500)])
    with django_assert_num_queries(5):
        samples_of(run)
