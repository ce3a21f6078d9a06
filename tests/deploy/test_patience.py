"""The server that waits: whole requests alone take a thread, what is late or too long goes, what was begun is answered."""

import errno
import json
import socket
import threading
import time
from contextlib import closing, contextmanager

import pytest
from django.core.handlers.wsgi import WSGIHandler
from django.test.utils import override_settings
from waitress import wasyncore

from deploy import patience
from deploy.bodies import LimitedBody, Waiting, most_bytes
from deploy.last_resort import LastResort
from energy.meters.views.api_devices import MOST_BYTES

PATIENCE_S = 60


class Site:
    """Notes each request, and answers with its length, its forwarded address, and as many bytes as were asked for."""

    def __init__(self):
        self.seen, self.may_go = [], threading.Event()
        self.may_go.set()

    def __call__(self, environ, start_response):
        self.seen.append(environ)
        if environ["PATH_INFO"] == "/held":
            self.may_go.wait(PATIENCE_S)
        if environ["PATH_INFO"] == "/same":
            start_response("304 Not Modified", [])
            return []
        body = environ["wsgi.input"].read()
        told = {"said": environ.get("CONTENT_LENGTH"), "read": len(body), "from": environ.get("HTTP_X_FORWARDED_FOR")}
        answer = json.dumps(told).encode() + b"." * int(environ["QUERY_STRING"] or 0)
        start_response("200 OK", [("Content-Length", str(len(answer)))])
        return [answer]


class WholeSite(WSGIHandler):
    """The site as it is, on a server of this test's own."""


@contextmanager
def served(application, *, threads=2):
    """Serve on a port of its own, and yield the server and its address; the loop runs beside the test."""
    listening = socket.create_server(("127.0.0.1", 0))
    known, going = {}, threading.Event()
    server = patience.serve_on(listening, application, known, threads=threads)

    def turn():
        while not going.is_set():
            wasyncore.loop(timeout=0.05, use_poll=True, map=known, count=1)

    loop = threading.Thread(target=turn)
    loop.start()
    try:
        yield server, listening.getsockname()
    finally:
        going.set()
        loop.join(PATIENCE_S)
        server.task_dispatcher.shutdown(timeout=PATIENCE_S)
        wasyncore.close_all(known, ignore_all=True)


@pytest.fixture
def site():
    return Site()


def send(address, text):
    line = socket.socket()
    line.settimeout(PATIENCE_S)
    line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 65536)  # so that what waits, waits at the server
    line.connect(address)
    line.sendall(text if isinstance(text, bytes) else text.encode())
    return line


def answer_on(line):
    """Return status and body of the next answer on a connection."""
    got = b""
    while b"\r\n\r\n" not in got:
        piece = line.recv(65536)
        if not piece:
            return "", got
        got += piece
    head, _, body = got.partition(b"\r\n\r\n")
    lengths = [int(told.split(b":")[1]) for told in head.split(b"\r\n") if told.lower().startswith(b"content-length")]
    while lengths and len(body) < lengths[0]:
        body += line.recv(65536)
    return head.split(b"\r\n")[0].decode(), body


def comes_to(read, wanted):
    deadline = time.monotonic() + PATIENCE_S
    while read() != wanted and time.monotonic() < deadline:
        time.sleep(0.01)
    assert read() == wanted


GET = "GET /{} HTTP/1.1\r\nHost: a\r\n\r\n"
BODY = "POST /api/v1/readings HTTP/1.1\r\nHost: a\r\nContent-Length: {}\r\n\r\n"


def test_slow_and_idle_connections_hold_no_thread(site):
    with served(site) as (_, address):
        slow = [send(address, begun) for begun in ["GET / HT", "GET / HTTP/1.1\r\nHost: a\r\n", BODY.format(9) + "half"] * 10]
        idle = [send(address, "") for _ in range(20)]
        with closing(send(address, GET.format(""))) as line:
            assert answer_on(line)[0] == "HTTP/1.1 200 OK"
        slow[2].sendall(b" here")
        assert json.loads(answer_on(slow[2])[1])["read"] == 9
        for line in [*slow, *idle]:
            line.close()


def test_a_reader_that_takes_nothing_holds_no_thread(site):
    with served(site, threads=1) as (server, address):
        line = send(address, GET.format("?14000000"))
        comes_to(lambda: len(site.seen), 1)
        with closing(send(address, GET.format(""))) as other:
            assert answer_on(other)[0] == "HTTP/1.1 200 OK"
        assert not server.is_done()
        assert len(answer_on(line)[1]) > 14_000_000
        comes_to(server.is_done, True)
        line.close()


def test_a_connection_stays_after_answers_with_and_without_a_body(site):
    with served(site) as (_, address), closing(send(address, GET.format(""))) as line:
        assert answer_on(line)[0] == "HTTP/1.1 200 OK"
        for place, status in (("same", "304 Not Modified"), ("", "200 OK"), ("same", "304 Not Modified")):
            line.sendall(GET.format(place).encode())
            assert answer_on(line)[0] == f"HTTP/1.1 {status}"
        line.sendall(b"GET /same HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n")
        assert answer_on(line)[0] == "HTTP/1.1 304 Not Modified"
        assert line.recv(1) == b""


LATE = {
    "nothing was asked": ("", patience.STILL_S),
    "the head is slow": ("GET / HTTP/1.1\r\nHost: a\r\n", patience.HEAD_S),
    "the body is slow": (BODY.format(9) + "half", patience.BODY_S),
}


@pytest.mark.parametrize(("begun", "allowed_s"), LATE.values(), ids=LATE)
def test_what_is_late_is_closed(site, begun, allowed_s):
    with served(site) as (server, address), closing(send(address, begun)) as line:
        comes_to(lambda: [bool(one.request) for one in server.active_channels.values()], [bool(begun)])
        (channel,) = server.active_channels.values()
        at = max(channel.began, channel.last_activity)
        assert not channel.is_late(at + allowed_s - 1)
        server.maintenance(at + allowed_s - 1)
        assert not channel.will_close
        server.maintenance(at + allowed_s + 1)
        assert line.recv(1) == b""
        assert site.seen == []


def test_a_large_body_has_time_and_a_request_at_work_is_left_alone(site):
    site.may_go.clear()
    with served(site) as (server, address), closing(send(address, GET.format("held"))) as line:
        comes_to(lambda: len(site.seen), 1)
        (channel,) = server.active_channels.values()
        assert not channel.is_late(time.time() + 3600)
        site.may_go.set()
        assert answer_on(line)[0] == "HTTP/1.1 200 OK"
    with served(site) as (server, address), closing(send(address, BODY.format(900_000) + "x" * 800_000)) as line:
        comes_to(lambda: [one.request and one.request.body_bytes_received for one in server.active_channels.values()], [800_000])
        (channel,) = server.active_channels.values()
        assert not channel.is_late(channel.began + patience.BODY_S + 190)
        assert channel.is_late(channel.began + patience.BODY_S + 200)


def test_where_there_are_too_many_the_stillest_goes(site, monkeypatch):
    monkeypatch.setattr(patience.PatientServer, "most_connections", 3)
    with served(site) as (server, address):
        lines = []
        for number in range(5):
            lines.append(send(address, ""))
            comes_to(lambda: len(server.active_channels), min(number + 1, 3))
        assert [line.recv(1) for line in lines[:2]] == [b"", b""]
        lines[4].sendall(GET.format("").encode())
        assert answer_on(lines[4])[0] == "HTTP/1.1 200 OK"
        for line in lines:
            line.close()


CHUNKED = b"POST /api/v1/readings HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: chunked\r\n\r\n"


def test_chunks_arrive_as_a_body_with_a_length(site):
    with served(site) as (_, address), closing(send(address, CHUNKED + b"4\r\nfour\r\n5\r\n five\r\n0\r\n\r\n")) as line:
        told = json.loads(answer_on(line)[1])
        assert (told["said"], told["read"]) == ("9", 9)


def test_malformed_chunks_are_told(site):
    with served(site) as (_, address), closing(send(address, CHUNKED + b"four\r\nfour\r\n")) as line:
        assert answer_on(line)[0] == "HTTP/1.1 400 Bad Request"
        assert site.seen == []


LONG = b"x" * 5000


@pytest.mark.parametrize("sent", [BODY.format(5000).encode() + LONG, CHUNKED + b"1388\r\n" + LONG + b"\r\n0\r\n\r\n"])
def test_what_is_too_long_is_read_to_its_end_and_told_by_the_site(sent):
    with override_settings(MAX_STRANGER_BYTES=1000, ALLOWED_HOSTS=["a"]), served(WholeSite()) as (_, address):
        with closing(send(address, sent)) as line:
            answer = b"".join(iter(lambda: line.recv(65536), b""))
        assert answer.startswith(b"HTTP/1.1 413 Request Entity Too Large")
        assert b"longer than the site takes" in answer


def test_a_body_beyond_its_limit_is_counted_and_not_kept():
    waiting = Waiting(100)
    body = LimitedBody(10, waiting)
    for piece in (b"1234567", b"89012", b"3"):
        body.append(piece)
    assert (len(body), body.getfile().read(), waiting.taken) == (13, b"1234567", 7)
    body.close()
    body.close()
    assert waiting.taken == 0


def test_what_strangers_send_at_once_is_bounded_and_given_back(site, monkeypatch):
    waiting = Waiting(6000)
    monkeypatch.setattr(patience, "OF_STRANGERS", waiting)
    with served(site) as (_, address):
        first = send(address, BODY.format(5000).encode() + LONG[:4000])
        while waiting.taken < 4000:
            time.sleep(0.01)
        with closing(send(address, BODY.format(5000).encode() + LONG)) as second:
            status, words = answer_on(second)
            assert status == "HTTP/1.1 503 Service Unavailable"
            assert b"Send it again in a minute" in words
        first.close()  # in the middle of its body
        while waiting.taken:
            time.sleep(0.01)
        with closing(send(address, BODY.format(5000).encode() + LONG)) as third:
            assert answer_on(third)[0] == "HTTP/1.1 200 OK"
    assert len(site.seen) == 1


@pytest.mark.parametrize(
    ("number", "status"), [(errno.ENOSPC, "507 Insufficient Storage"), (errno.EIO, "500 Internal Server Error")]
)
@pytest.mark.parametrize("where", ["in the body", "in the site"])
def test_what_the_computer_refuses_is_answered_and_logged(number, status, where, site, monkeypatch, caplog):
    def refuses(*_):
        raise OSError(number, "refused")

    if where == "in the body":
        monkeypatch.setattr("deploy.bodies.Waiting.take", refuses)
    application = LastResort(refuses if where == "in the site" else site)
    with served(application) as (_, address), closing(send(address, BODY.format(5000).encode() + LONG)) as line:
        assert answer_on(line)[0] == f"HTTP/1.1 {status}"
    assert "the computer refused" in caplog.text


def test_only_a_cook_s_meter_file_may_be_longer(settings):
    place = "/bench/runs/7/log/"
    assert most_bytes(place, has_session=True) > settings.MAX_LOG_BYTES
    assert most_bytes("/", has_session=True) == settings.MAX_REQUEST_BYTES
    assert most_bytes(place, has_session=False) == settings.MAX_STRANGER_BYTES > MOST_BYTES


def test_forwarded_addresses_reach_the_site_as_they_came(site):
    asked = "GET / HTTP/1.1\r\nHost: a\r\nX-Forwarded-For: 203.0.113.7\r\nX_Forwarded_For: 192.0.2.1\r\n\r\n"
    with served(site) as (_, address), closing(send(address, asked)) as line:
        assert json.loads(answer_on(line)[1])["from"] == "203.0.113.7"
