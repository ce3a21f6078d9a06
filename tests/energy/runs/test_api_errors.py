"""Whatever goes wrong under /api/ is told in JSON, with what to do."""

from __future__ import annotations

import json
from uuid import uuid4

import pytest
from django.db import IntegrityError, OperationalError
from django.test import Client, override_settings

from energy.runs.views import api


def told(answer):
    assert answer.headers["Content-Type"] == "application/json"
    said = answer.json()
    assert said["error"].endswith(".")
    assert said["now"].endswith("Z")
    return answer.status_code, said.get("field")


def test_signed_out_is_401_and_never_a_redirect(stranger_client, run):
    for path in (f"runs/{run.pk}", f"runs/{run.pk}/live", f"runs/{run.pk}/events/{uuid4()}", f"cooks/{uuid4()}"):
        method = "put" if "events" in path or "cooks" in path else "get"
        assert told(getattr(stranger_client, method)(f"/api/v1/{path}"))[0] == 401
    strict = Client(enforce_csrf_checks=True)
    assert told(strict.put(f"/api/v1/cooks/{uuid4()}", "{}", content_type="application/json"))[0] == 401


def test_an_old_secret_names_csrf_and_a_fresh_one_opens(owner, run):
    client = Client(enforce_csrf_checks=True)
    client.force_login(owner)
    address = f"/api/v1/runs/{run.pk}/events/{uuid4()}"
    body = json.dumps({"kind": "reading", "at": run.started_at.isoformat(), "power_w": 5})
    assert told(client.put(address, body, content_type="application/json")) == (403, "csrf")
    session = client.get("/api/v1/session").json()
    assert session["cook"] == "owner"
    fresh = {"X-CSRFToken": session["csrf"]}
    assert client.put(address, body, content_type="application/json", headers=fresh).status_code == 201


def test_session_of_nobody(stranger_client):
    said = stranger_client.get("/api/v1/session").json()
    assert said["cook"] is None
    assert said["csrf"]


def test_another_cook_finds_no_run(other_client, run):
    for name in (run.pk, uuid4(), "nothing", 10**30, "0"):
        assert told(other_client.get(f"/api/v1/runs/{name}"))[0] == 404
    assert told(other_client.put(f"/api/v1/runs/{run.pk}/events/{uuid4()}", "{}", content_type="application/json"))[0] == 404


@pytest.mark.django_db
def test_an_address_that_leads_nowhere_and_another_method(client, owner_client, run):
    assert told(client.get("/api/v1/nothing"))[0] == 404
    assert told(owner_client.post(f"/api/v1/runs/{run.pk}"))[0] == 405
    assert client.get("/nothing").headers["Content-Type"].startswith("text/html")


@pytest.mark.parametrize(
    ("fault", "status"), [(IntegrityError("x"), 503), (OperationalError("locked"), 503), (RuntimeError("secret words"), 500)]
)
def test_faults_are_json_without_a_traceback(owner_client, run, monkeypatch, fault, status):
    def fail(*args):
        raise fault

    monkeypatch.setattr(api, "run_state", fail)
    owner_client.raise_request_exception = False
    answer = owner_client.get(f"/api/v1/runs/{run.pk}")
    assert told(answer)[0] == status
    assert b"secret words" not in answer.content


def test_too_long_is_413(owner_client, run):
    address = f"/api/v1/runs/{run.pk}/events/{uuid4()}"
    assert told(owner_client.put(address, b"x" * (16 * 1024 + 1), content_type="application/json"))[0] == 413
    with override_settings(MAX_REQUEST_BYTES=100):
        assert told(owner_client.put(address, b"x" * 200, content_type="application/json"))[0] == 413


BAD = [
    (b" ", ""),
    (b"[]", ""),
    (b"\xff", ""),
    (b'{"kind": "reading"', ""),
    (b"[" * 15_000, ""),
    (b'{"a": ' + b"9" * 5000 + b"}", ""),
    ({"kind": "dance"}, "kind"),
    ({"kind": ["reading"]}, "kind"),
    ({}, "at"),
    ({"at": "yesterday"}, "at"),
    ({"at": "2026-10-14T12:05:00"}, "at"),
    ({"at": "2026-10-14"}, "at"),
    ({"at": 5}, "at"),
    ({"at": "0001-01-01T00:00:00+14:00"}, "at"),
    ({"at": "9999-12-31T23:59:59-14:00"}, "at"),
    ({"at": "2026-10-20T12:00:00Z"}, "at"),
    ({"energy_wh": "12"}, "energy_wh"),
    ({"energy_wh": True}, "energy_wh"),
    ({"energy_wh": -1}, "energy_wh"),
    ({"energy_wh": 1e300}, "energy_wh"),
    ({"energy_wh": 10**400}, "energy_wh"),
    ({"charge_pct": 100.1}, "charge_pct"),
    ({"energy_wh": None}, "energy_wh"),
    ({"power": 5}, "power"),
    ({"note": "x" * 201}, "note"),
    ({"note": "a\0b"}, "note"),
    ({"note": "\ud800"}, "note"),
    ({"replaces": "me"}, "replaces"),
    ({"sent_at": "now"}, "sent_at"),
    ({"kind": "stage", "energy_wh": None}, "stage"),
    ({"kind": "stage", "stage": "dance", "energy_wh": None}, "stage"),
    ({"kind": "moment", "energy_wh": None}, "text"),
    ({"kind": "moment", "photo": 5, "energy_wh": None}, "photo"),
    ({"kind": "pause"}, "energy_wh"),
]


@pytest.mark.parametrize(("said", "field"), BAD, ids=[f"{place}-{field}" for place, (_, field) in enumerate(BAD)])
def test_what_cannot_be_kept_is_named(owner_client, run, said, field):
    good = {"kind": "reading", "at": "2026-10-14T12:05:00Z", "energy_wh": 5}
    body = said if isinstance(said, bytes) else json.dumps({**good, **said} if said else {"kind": "finish"})
    answer = owner_client.put(f"/api/v1/runs/{run.pk}/events/{uuid4()}", body, content_type="application/json")
    assert answer.status_code == 422
    assert told(answer)[1] == (field or None)
    assert not run.events.exists()


def test_only_json_is_taken(owner_client, run):
    answer = owner_client.put(f"/api/v1/runs/{run.pk}/events/{uuid4()}", "{}", content_type="text/plain")
    assert told(answer) == (422, "Content-Type")
