"""What a device sends with its token, over the wire."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client
from django.utils import timezone

from energy.meters.operations.devices import A_MINUTE, make_device, revoke_device
from energy.models import DeviceToken, SentReading

BASE = datetime(2026, 10, 14, 12, tzinfo=UTC)


@pytest.fixture
def device(meter, owner, noon):
    return make_device(meter=meter, name="plug by the hob", by=owner, at=noon)


@pytest.fixture
def post(device):
    """Send a body with the device's token and return (status, answer)."""
    client = Client(enforce_csrf_checks=True)

    def send(body, token=device[1], kind="application/x-ndjson"):
        bearer = {"Authorization": f"Bearer {token}"}
        answer = client.post("/api/v1/readings", body, content_type=kind, headers=bearer)
        return answer.status_code, answer.json()

    return send


def statuses(said):
    return [line["status"] for line in said["lines"]]


def test_each_way_of_writing_says_the_same(post):
    lines = '{"at": "2026-10-14T12:00:00Z", "kwh_total": 1.25, "kw": 0.7}\n{"t": 1791979201, "wh_total": 1250.2}\n'
    assert statuses(post(lines)[1]) == ["accepted", "accepted"]
    array = json.dumps([json.loads(line) for line in lines.splitlines()])
    assert statuses(post(array)[1]) == ["duplicate", "duplicate"]
    table = "t,wh_total,w\n1791979200000,1250,700\n1791979201,1250.2,\n"
    assert statuses(post(table)[1]) == ["duplicate", "duplicate"]
    assert statuses(post('{\n "t": 1791979200,\n "wh_total": 1250, "w": 700\n}')[1]) == ["duplicate"]
    kept = SentReading.objects.values_list("at", "energy_wh", "power_w")
    assert list(kept) == [(BASE, 1250.0, 700.0), (BASE + timedelta(seconds=1), 1250.2, None)]


def test_bad_lines_are_named_and_the_others_kept(post):
    lines = [
        '{"t": 1791979200, "w": 700}',
        '{"t": 1791979200, "w": 701}',
        '{"t": 12, "w": 700}',
        '{"t": 1791979202, "watts": 700}',
        '{"t": 1791979203, "w": -1}',
        '{"t": 1791979204, "w": NaN}',
        "[1]",
        '{"t": 1791979205, "wh_total": 5, "kwh_total": 0.005}',
        '{"t": 1791979206}',
        '{"at": "2026-10-14T12:00:00", "w": 1}',
        '{"t": 1e300, "w": 1}',
        '{"t": true, "w": 1}',
        '{"t": 1791979207, "charge_pct": 88.5}',
    ]
    status, said = post("\n".join(lines))
    assert status == 200
    assert statuses(said) == ["accepted", *["rejected"] * 11, "accepted"]
    assert said["lines"][1]["reason"] == "something else was sent for this moment"
    assert all(line.get("reason") for line in said["lines"] if line["status"] == "rejected")
    assert (said["accepted"], said["duplicate"], said["rejected"]) == (2, 0, 11)
    assert SentReading.objects.count() == 2


def test_without_a_moment_it_is_now(post):
    assert statuses(post('{"w": 700}')[1]) == ["accepted"]
    assert abs(SentReading.objects.get().at - timezone.now()) < timedelta(seconds=20)


@pytest.mark.parametrize("body", ["", "  \n", "hello", "volts,amps\n1,2", "t,at\n1,2", "[", b"\xff\xfe\x00"])
def test_a_body_that_says_nothing_is_refused_with_a_sentence(post, body):
    status, said = post(body)
    assert status == 422
    assert said["error"].endswith(".")


def test_too_long_and_too_many(post):
    assert post("x" * ((1 << 20) + 1))[0] == 413
    status, said = post("t,w\n" + "\n".join(f"{1791979200 + place},1" for place in range(20_001)))
    assert (status, "20,000" in said["error"], SentReading.objects.count()) == (413, True, 0)
    status, said = post("t,w\n" + "\n".join(f"{1791979200 + place},1" for place in range(20_000)))
    assert (status, said["accepted"], SentReading.objects.count()) == (200, 20_000, 20_000)


def test_only_a_token_that_stands_opens(post, device, noon):
    assert post('{"w": 1}', token="wf_other")[0] == 401
    assert Client().post("/api/v1/readings", '{"w": 1}', content_type="text/plain").status_code == 401
    assert Client().get("/api/v1/readings").status_code == 405
    revoke_device(device=device[0], at=noon)
    assert post('{"w": 1}')[0] == 401
    assert SentReading.objects.count() == 0


def test_a_token_is_nowhere_in_the_tables(device):
    made, token = device
    row = DeviceToken.objects.values().get()
    assert token not in str(row)
    assert len(made.digest) == 64


def test_asking_too_often_is_told_to_wait(post, device, monkeypatch):
    minute = timezone.now().replace(second=0, microsecond=0)
    DeviceToken.objects.update(minute=minute, requests=A_MINUTE)
    monkeypatch.setattr(timezone, "now", lambda: minute + timedelta(seconds=48))
    client = Client()
    answer = client.post(
        "/api/v1/readings", '{"w": 1}', content_type="text/plain", headers={"Authorization": f"Bearer {device[1]}"}
    )
    assert (answer.status_code, answer.headers["Retry-After"]) == (429, "12")
    monkeypatch.setattr(timezone, "now", lambda: minute + timedelta(seconds=61))
    assert post('{"w": 1}')[0] == 200


def test_what_comes_late_works_a_finished_run_out_again(post, run, noon):
    assert run.summary["energy_wh"] == 213
    rows = [f"{int(noon.timestamp()) + 60 * minute},{5000 + 10 * minute}" for minute in range(32)]
    post("t,wh_total\n" + "\n".join(rows))
    run.refresh_from_db()
    assert run.summary["energy_wh"] == pytest.approx(310)


def test_what_comes_while_cooking_marks_the_run(post, record, owner_client):
    now = timezone.now()
    cook = record(((0, 0),), running=True, started_at=now - timedelta(minutes=30))
    for minutes, wh in ((29, 100), (2, 150)):
        post(json.dumps({"at": (now - timedelta(minutes=minutes)).isoformat(), "wh_total": wh}))
    cook.refresh_from_db()
    assert cook.behind
    owner_client.get(f"/api/v1/runs/{cook.pk}")
    cook.refresh_from_db()
    assert not cook.behind


def test_one_batch_costs_no_query_for_each_line(post, django_assert_max_num_queries):
    with django_assert_max_num_queries(16):
        post("t,w\n" + "\n".join(f"{1791979200 + place},1" for place in range(800)))
