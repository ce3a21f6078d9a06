"""A body that comes in chunks is read like any other, within the same limits."""

import io
import json
from wsgiref.util import setup_testing_defaults

import pytest
from django.core.handlers.wsgi import WSGIHandler
from django.core.signals import request_finished, request_started
from django.db import close_old_connections

from deploy.bodies import ChunkedBodies
from energy.meters.operations.devices import make_device
from energy.models import Meter, SentReading

application = ChunkedBodies(WSGIHandler())


@pytest.fixture(autouse=True)
def connection_stays():
    """A whole request through the server's door would close the connection in which the test's rows stand."""
    signals = (request_started, request_finished)
    for signal in signals:
        signal.disconnect(close_old_connections)
    yield
    for signal in signals:
        signal.connect(close_old_connections)


class Chunks(io.BytesIO):
    """What a server gives for a chunked body: its bytes, piece by piece, then nothing."""


class Broken(io.BytesIO):
    """What a server gives for chunks that are malformed."""

    def read(self, *_):
        raise ValueError("Invalid chunk size")


def sent(path, body, **more):
    environ = {"REQUEST_METHOD": "POST", "PATH_INFO": path, "HTTP_HOST": "testserver", "HTTP_TRANSFER_ENCODING": "chunked"}
    setup_testing_defaults(environ)
    environ.update({"wsgi.input": body, "wsgi.input_terminated": True, **more})
    said = []
    answer = b"".join(application(environ, lambda status, headers, *_: said.append(status)))
    return said[0], answer


@pytest.mark.django_db
def test_a_device_s_readings_in_chunks_are_kept(owner, noon):
    meter = Meter.objects.create(name="Plug meter")
    _, token = make_device(meter=meter, name="plug", by=owner, at=noon)
    line = json.dumps({"at": "2026-10-14T11:00:00Z", "wh_total": 12.5}).encode()
    status, answer = sent("/api/v1/readings", Chunks(line), HTTP_AUTHORIZATION=f"Bearer {token}")
    assert (status, json.loads(answer)["accepted"]) == ("200 OK", 1)
    assert SentReading.objects.get().energy_wh == 12.5


@pytest.mark.django_db
def test_chunks_without_end_are_refused_like_any_long_body(settings):
    settings.MAX_REQUEST_BYTES = 100_000
    endless = Chunks(b"x" * 5_000_000)
    status, _ = sent("/bench/sign-in/", endless)
    assert status.startswith("413")


def test_malformed_chunks_are_told():
    status, answer = sent("/bench/sign-in/", Broken())
    assert status == "400 Bad Request"
    assert b"Send it again" in answer


@pytest.mark.django_db
def test_a_server_that_says_no_end_is_not_waited_for():
    status, _ = sent("/nowhere/", Broken(), **{"wsgi.input_terminated": False})
    assert status.startswith("404")
