"""What a phone sends over the wire, tried by hand."""

from __future__ import annotations

import io
import json
from datetime import timedelta
from uuid import uuid4

import pytest
from django.utils import timezone
from PIL import Image

from energy.models import Appliance, DeskEvent, Reading, Run, SentReading


@pytest.fixture
def now():
    return timezone.now()


@pytest.fixture
def cook(record, noon, now):
    """A cook that began half an hour ago and goes on."""
    return record(((0, 0),), running=True, started_at=now - timedelta(minutes=30))


@pytest.fixture
def send(owner_client, cook):
    """Send a press to the cook and return (status, answer)."""

    def put(key=None, *, to="events", run=None, client=owner_client, method="put", **said):
        address = f"/api/v1/runs/{run or cook.pk}/{to}/{key or uuid4()}"
        answer = getattr(client, method)(address, json.dumps(said), content_type="application/json")
        return answer.status_code, answer.json()

    return put


def test_reading_is_kept_once(send, cook, now):
    key, at = uuid4(), now.isoformat()
    assert send(key, kind="reading", at=at, energy_wh=12)[0] == 201
    assert send(key, kind="reading", at=at, energy_wh=12.0, sent_at=now.isoformat(), power_w=None)[0] == 200
    status, said = send(key, kind="reading", at=at, energy_wh=13)
    assert status == 409
    assert said["kept"]["energy_wh"] == 12
    reading = Reading.objects.get(pk=key)
    assert (reading.at, reading.energy_wh, reading.origin) == (now, 12, "desk")
    cook.refresh_from_db()
    assert cook.summary["energy_wh"] == 12


def test_readings_address_needs_no_kind(send, now):
    assert send(to="readings", at=now.isoformat(), power_w=700)[0] == 201
    assert send(to="readings", at=now.isoformat(), kind="stage", stage="hold")[0] == 422


def test_taken_back_before_it_came(send, now):
    key = uuid4()
    assert send(key, method="delete")[1]["status"] == "withdrawn"
    assert send(key, method="delete")[1]["status"] == "known"
    assert send(key, kind="reading", at=now.isoformat(), energy_wh=12)[0] == 200
    assert not Reading.objects.filter(pk=key).exists()
    assert DeskEvent.objects.get(pk=key).said["energy_wh"] == 12


@pytest.fixture
def start(owner_client, revision, appliance, source, meter, now):
    """Start a cook and return (status, answer)."""

    def put(key, **said):
        gear = {"appliance": appliance.pk, "source": source.pk, "meter": meter.pk}
        body = {"recipe": "lentil-pot", **gear, "started_at": now.isoformat(), **said}
        answer = owner_client.put(f"/api/v1/cooks/{key}", json.dumps(body), content_type="application/json")
        return answer.status_code, answer.json()

    return put


def test_cook_begins_once(start, owner_client, now):
    key = uuid4()
    status, said = start(key)
    assert status == 201
    assert start(key)[0] == 200
    assert start(key, servings=3)[0] == 409
    run = Run.objects.get()
    assert (said["run"], run.once, run.started_at, run.ended_at, run.servings) == (run.pk, key, now, None, 4)
    state = owner_client.get(f"/api/v1/runs/{key}").json()
    assert state["run"] == run.pk
    assert state["presses"][0]["kind"] == "begin"


def test_a_cook_starts_on_new_gear_and_to_practise(start, now):
    key, hob = uuid4(), {"kind": "skillet", "rated_w": "1.2 kW"}
    assert start(key, appliance={"kind": "skillet"})[0] == 422
    status, said = start(key, appliance={**hob, "colour": "red"})
    assert (status, said["field"]) == (422, "colour")
    assert not Run.objects.exists()
    meter = {"resolution_wh": "10"}
    assert start(key, appliance=hob, meter=meter, practice=True)[0] == 201
    assert start(key, appliance=hob, meter=meter, practice=True)[0] == 200
    run = Run.objects.get()
    assert (run.appliance.rated_w, run.meter.resolution_wh, run.verdict, run.verdict_reason) == (
        1200,
        10,
        "left_out",
        "A practice cook.",
    )
    assert Appliance.objects.filter(kind="skillet").count() == 1, "sent twice, made once"
    assert start(uuid4(), practice="maybe")[0] == 422


def test_run_follows_from_its_presses(send, cook, owner_client, now):
    at = [(now + timedelta(minutes=minute - 30)).isoformat() for minute in range(31)]
    finish, hold = uuid4(), uuid4()
    assert send(finish, kind="finish", at=at[28])[0] == 201
    assert send(hold, kind="stage", stage="hold", at=at[20])[0] == 201
    assert send(kind="stage", stage="preheat", label="oil", at=at[5])[0] == 201
    assert send(kind="pause", at=at[22])[0] == send(kind="moment", text="lid off", at=at[23])[0] == 201
    assert send(kind="reading", at=at[29], energy_wh=90)[0] == 201
    cook.refresh_from_db()
    assert cook.ended_at == now - timedelta(minutes=2)
    assert [stage.kind for stage in cook.stages.all()] == ["brown", "preheat", "come_up", "hold", "release"]
    assert len(cook.pauses) == 1
    assert send(finish, method="delete")[0] == send(hold, method="delete")[0] == 200
    state = owner_client.get(f"/api/v1/runs/{cook.pk}").json()
    assert state["ended_at"] is None
    assert state["pauses"][0][1] is None
    assert [stage["kind"] for stage in state["stages"]] == ["brown", "preheat", "come_up", "release"]
    assert state["moments"][0]["text"] == "lid off"


def picture(colour: str = "tomato") -> bytes:
    made = io.BytesIO()
    Image.new("RGB", (64, 48), colour).save(made, "JPEG")
    return made.getvalue()


def test_a_picture_may_come_after_its_moment_and_never_leads(send, cook, owner_client, now, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    key = uuid4()
    assert send(kind="moment", photo=str(key).upper(), at=now.isoformat())[0] == 201
    address = f"/api/v1/runs/{cook.pk}/photos/{key}"
    for status in (201, 200):
        assert owner_client.put(address, picture(), content_type="image/jpeg").status_code == status
    assert owner_client.put(address, picture("navy"), content_type="image/jpeg").status_code == 409
    refused = owner_client.put(f"/api/v1/runs/{cook.pk}/photos/{uuid4()}", b"no picture", content_type="image/jpeg")
    assert (refused.status_code, refused.json()["field"]) == (422, "photo")
    photo = cook.moments.get().photo
    assert photo is not None
    assert not photo.leads
    assert owner_client.get(f"/api/v1/runs/{cook.pk}").json()["moments"][0]["photo"] == photo.small


def test_live_shows_what_the_device_sent_in_the_run(cook, owner_client, meter, now):
    rows = [(-60, 100.0), (60, 102.5), (120, 104.0), (180, 1.0)]
    SentReading.objects.bulk_create(
        SentReading(meter=meter, at=cook.started_at + timedelta(seconds=at_s), energy_wh=wh, power_w=90) for at_s, wh in rows
    )
    said = owner_client.get(f"/api/v1/runs/{cook.pk}/live").json()
    assert (said["device"], said["since_start_wh"], said["last"]["energy_wh"]) == (False, 2.5, 1.0)
    assert said["age_s"] == pytest.approx(27 * 60, abs=5)
