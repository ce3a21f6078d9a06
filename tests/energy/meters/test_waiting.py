"""A device of one cook changes no ended run of another before that cook says so."""

from __future__ import annotations

import json
from datetime import timedelta

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from energy.meters.operations.devices import make_device
from energy.models import SentReading, WaitingReading

pytestmark = pytest.mark.django_db


@pytest.fixture
def plug(meter, other_cook, noon):
    """A device of the meter that the other cook has let in."""
    return make_device(meter=meter, name="plug in the van", by=other_cook, at=noon)


@pytest.fixture
def post(plug):
    def send(*lines, token=plug[1]):
        body = "\n".join(json.dumps({"at": at.isoformat(), "wh_total": wh}) for at, wh in lines)
        headers = {"Authorization": f"Bearer {token}"}
        answer = Client().post("/api/v1/readings", body, content_type="application/x-ndjson", headers=headers)
        assert answer.status_code == 200
        return [line["status"] for line in answer.json()["lines"]]

    return send


def whole(run):
    return (run.started_at, 0), (run.started_at + timedelta(minutes=15), 600), (run.ended_at, 1200)


def energy_of(run):
    run.refresh_from_db()
    return run.summary["energy_wh"]


def decide(client, run, plug, take):
    return client.post(reverse("energy:run-waiting", args=[run.pk, plug[0].pk]), {"take": "yes" if take else "no"})


def test_what_another_cooks_device_sends_into_an_ended_run_waits(run, plug, post, owner_client, other_client):
    assert energy_of(run) == 213
    assert post(*whole(run)) == ["waiting"] * 3
    assert energy_of(run) == 213
    assert not SentReading.objects.exists()
    assert post(*whole(run)) == ["waiting"] * 3, "sending again does no harm"
    assert WaitingReading.objects.count() == 3
    bench = owner_client.get("/bench/").content.decode()
    assert "readings that somebody else’s device sent (3) wait for your answer" in bench
    assert "wait for your word" not in other_client.get("/bench/").content.decode()
    page = " ".join(owner_client.get(reverse("energy:run", args=[run.pk])).content.decode().split())
    assert "3 readings" in page
    assert "counter from 0 to 1,200" in page
    assert decide(other_client, run, plug, True).status_code == 404


def test_taken_in_they_count_and_can_be_taken_out_again(run, plug, post, owner_client):
    post(*whole(run))
    decide(owner_client, run, plug, True)
    assert energy_of(run) == pytest.approx(1200)
    assert post(*whole(run)) == ["duplicate"] * 3
    decide(owner_client, run, plug, True)
    assert energy_of(run) == pytest.approx(1200)
    assert "wait for your word" not in owner_client.get("/bench/").content.decode()
    decide(owner_client, run, plug, False)
    assert energy_of(run) == 213
    assert not SentReading.objects.exists()
    assert "Take them in after all" in owner_client.get(reverse("energy:run", args=[run.pk])).content.decode()


def test_left_out_nobody_is_asked_again(run, plug, post, owner_client):
    post(*whole(run))
    decide(owner_client, run, plug, False)
    assert post(*whole(run)) == ["rejected"] * 3
    assert energy_of(run) == 213
    assert WaitingReading.objects.filter(taken=None).count() == 0
    assert post((run.started_at, 5)) == ["rejected"], "something else for a moment that was decided"


def test_beside_a_run_only_what_would_change_it_waits(run, post):
    after = run.ended_at + timedelta(minutes=1)
    assert post((after, 1200)) == ["accepted"], "nothing of a device lies inside: nothing beside it counts"
    SentReading.objects.create(meter=run.meter, at=run.ended_at - timedelta(minutes=1), energy_wh=400)
    SentReading.objects.create(meter=run.meter, at=run.started_at, energy_wh=0)
    assert post((after - timedelta(seconds=20), 1200)) == ["waiting"], "nearer than the one that is kept"
    assert post((after + timedelta(seconds=20), 1200)) == ["accepted"], "further than the one that is kept"
    assert post((run.ended_at + timedelta(minutes=30), 1200)) == ["accepted"]


def test_ones_own_device_and_a_cook_that_goes_on_are_as_before(run, record, meter, owner, noon, post):
    _, token = make_device(meter=meter, name="plug by the hob", by=owner, at=noon)
    assert post(*whole(run), token=token) == ["accepted"] * 3
    assert energy_of(run) == pytest.approx(1200)
    now = timezone.now()
    going_on = record(((0, 0),), running=True, started_at=now - timedelta(minutes=30))
    assert post((now - timedelta(minutes=20), 10), (now - timedelta(minutes=1), 90)) == ["accepted", "accepted"]
    going_on.refresh_from_db()
    assert going_on.behind


def test_a_device_that_was_watched_says_its_last_words_after_the_end(record, post):
    now = timezone.now()
    cook = record(((0, 0),), running=True, started_at=now - timedelta(minutes=30))
    assert post((now - timedelta(minutes=29), 0), (now - timedelta(minutes=3), 90)) == ["accepted", "accepted"]
    cook.ended_at = now - timedelta(minutes=1)
    cook.save(update_fields=["ended_at"])
    assert post((now - timedelta(minutes=2), 100)) == ["accepted"]
    assert post((now - timedelta(minutes=20), 1000)) == ["waiting"], "no word of before"
    type(cook).objects.update(started_at=now - timedelta(hours=3), ended_at=now - timedelta(minutes=11))
    assert post((now - timedelta(minutes=12), 1000)) == ["waiting"], "too late"


def test_a_run_that_a_helper_recorded_is_that_cooks_too(run, plug, post, other_cook):
    run.operator = other_cook
    run.save(update_fields=["operator"])
    assert post(*whole(run)) == ["accepted"] * 3


def test_a_cook_whose_account_is_gone_is_nobody(run, plug, post):
    User.objects.filter(username="other").delete()
    assert post(*whole(run)) == ["waiting"] * 3
