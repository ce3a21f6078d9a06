"""Pauses, what is drawn after the end, notes at their moments, and the day of a verdict."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.urls import reverse

from energy.models import Moment, Reading, Run
from energy.runs.domain.samples import Sample
from energy.runs.operations.judging import NeedsReason, choose_runs
from energy.runs.operations.recording import add_reading
from energy.runs.operations.summing import refresh_summary
from energy.runs.queries.runs import run_summary
from kitchen.domain.remark import remark


def summed(run):
    refresh_summary(run=run)
    return run_summary(Run.objects.get(pk=run.pk))


def test_a_pause_is_neither_cooking_nor_attended_but_in_the_total(run, noon):
    before = summed(run)
    run.pauses = [[(noon + timedelta(minutes=2)).isoformat(), (noon + timedelta(minutes=5)).isoformat()]]
    run.save()
    after = summed(run)
    assert before.cooking_s - after.cooking_s == pytest.approx(180)
    assert before.attended_s - after.attended_s == pytest.approx(180)
    assert (after.total_s, after.energy_wh) == (before.total_s, before.energy_wh)
    assert remark("paused", span_s=180) in after.notes


def test_what_goes_on_after_the_end_is_told_and_not_counted(run):
    before = summed(run)
    end = run.ended_at
    add_reading(run=run, reading=Sample((end - run.started_at).total_seconds() + 600, energy_wh=215.0))
    Run.objects.filter(pk=run.pk).update(ended_at=end)
    after = summed(Run.objects.get(pk=run.pk))
    assert after.energy_wh == before.energy_wh
    assert "drew_after" in [note.code for note in after.notes]


def test_notes_and_pauses_stand_on_the_runs_page(run, owner_client, noon):
    Moment.objects.create(run=run, at=noon + timedelta(minutes=4), text="Lid rattles.")
    Run.objects.filter(pk=run.pk).update(pauses=[[(noon + timedelta(minutes=6)).isoformat(), None]])
    page = owner_client.get(reverse("energy:run", args=[run.pk])).content.decode()
    assert "Minute 4</b>: Lid rattles." in page
    assert "not gone on yet" in page


def test_a_verdict_keeps_its_day(run, owner_client):
    owner_client.post(reverse("energy:run-verdict", args=[run.pk]), {"verdict": "left_out", "reason": "Wind."})
    run.refresh_from_db()
    assert run.verdict_at is not None
    assert "Said on" in owner_client.get(reverse("energy:run", args=[run.pk])).content.decode()


def test_several_verdicts_are_kept_together_or_not_at_all(run, flagged_run, noon):
    with pytest.raises(NeedsReason):
        choose_runs(verdicts={run: ("left_out", "Wind."), flagged_run: ("accepted", "")}, at=noon)
    run.refresh_from_db()
    assert run.verdict == "counts"
    assert choose_runs(verdicts={run: ("left_out", "Wind."), flagged_run: ("accepted", "Reset.")}, at=noon) == 2
    assert Run.objects.get(pk=run.pk).verdict_at == noon


def test_many_readings_are_shown_a_page_at_a_time(run, owner_client, django_assert_max_num_queries):
    first = run.readings.first()
    Reading.objects.bulk_create(
        Reading(run=run, at=first.at + timedelta(seconds=1 + number), power_w=500.0) for number in range(1500)
    )
    address = reverse("energy:run", args=[run.pk])
    with django_assert_max_num_queries(24):
        page = owner_client.get(address)
    assert len(page.content) < 200_000
    assert "page 1 of 8" in page.content.decode()
    assert owner_client.get(address, {"page": "8"}).status_code == 200
    assert owner_client.get(address, {"page": "x"}).status_code == 200
