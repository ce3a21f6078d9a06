"""A worker that waits for its readers without a thread: requests are read to their end, and answers sent, beside each other.

Gunicorn's master loads the site, forks the workers, starts them again and stops them; within each waitress reads and writes. A
thread gets a request when all of it is there, and is free again when its answer is written into a buffer. So a connection that
sends or takes its bytes slowly costs a socket. What takes too long is closed, and where there are too many, the one that has
been still for longest.
"""

from __future__ import annotations

import logging
import os
import resource
import socket
import time
from typing import Any

from django.conf import settings
from gunicorn.workers.base import Worker
from waitress import wasyncore
from waitress.adjustments import Adjustments
from waitress.channel import HTTPChannel
from waitress.parser import HTTPRequestParser
from waitress.server import TcpWSGIServer
from waitress.task import WSGITask
from waitress.utilities import Error

from deploy.bodies import OF_COOKS, OF_STRANGERS, LimitedBody, most_bytes
from deploy.last_resort import refusal_of

HEAD_S, STILL_S = 20, 15
"""How long the head of a request may take, and how long a connection may stand without one."""
BODY_S, SLOWEST_BYTES = 60, 4096
"""A body may take a minute, and then as long as it brings so many bytes a second in the mean."""
TAKING_S = 60
"""How long a reader may take nothing of an answer."""
LOOK_EVERY_S = 2
MOST_FILES = 4096
FILES_EACH = 3
MOST_HEAD_BYTES = 64 << 10
MOST_BODY_BYTES = 512 << 20  # what is longer than an address takes is read and forgotten up to here, so that the page is seen


class CannotBeTaken(Error):  # type: ignore[misc]  # its package brings no types
    """The answer to a request that could not be put anywhere or answered: 503, 507 or 500, in a sentence; it goes to the log."""

    def __init__(self, why: OSError) -> None:
        self.code, self.reason, words = refusal_of(why)
        super().__init__(words)


class LimitedRequest(HTTPRequestParser):  # type: ignore[misc]  # its package brings no types
    """A request of which no more is kept than its address takes."""

    def parse_header(self, header_plus: bytes) -> None:
        """Read the head, and make room for the body."""
        super().parse_header(header_plus)
        if self.body_rcv is not None:
            has_session = settings.SESSION_COOKIE_NAME in self.headers.get("COOKIE", "")
            most = most_bytes(self.path, has_session=has_session)
            self.body_rcv.buf = LimitedBody(most, OF_COOKS if has_session else OF_STRANGERS)

    def received(self, data: bytes) -> int:
        """Take in what came; where it cannot be put anywhere, that is the answer."""
        try:
            return int(super().received(data))
        except OSError as refused:
            self.error, self.completed = CannotBeTaken(refused), True
            return len(data)


class WholeAnswer(WSGITask):  # type: ignore[misc]  # its package brings no types
    """An answer after which the connection stays, also where it has no body."""

    def set_close_on_finish(self) -> None:
        """Close the connection after this answer, where the other side could not tell its end or asked for it."""
        if self.has_body or self.version != "1.1" or self.request.connection_close:
            super().set_close_on_finish()


class PatientChannel(HTTPChannel):  # type: ignore[misc]  # its package brings no types
    """A connection that knows since when it waits for a request."""

    parser_class, task_class = LimitedRequest, WholeAnswer
    began = 0.0

    def received(self, data: bytes) -> bool:
        """Take in what came; the clock starts with the first byte of a request."""
        if self.request is None:
            self.began = time.time()
        return bool(super().received(data))

    def is_late(self, now: float) -> bool:
        """Whether the other side has kept this connection waiting for too long."""
        since, allowed_s = self.last_activity, TAKING_S if self.total_outbufs_len else STILL_S
        if self.request is not None and not self.total_outbufs_len:
            in_head = not self.request.headers_finished
            since, allowed_s = self.began, HEAD_S if in_head else BODY_S + self.request.body_bytes_received / SLOWEST_BYTES
        return not self.requests and bool(now - since > allowed_s)


class PatientServer(TcpWSGIServer):  # type: ignore[misc]  # its package brings no types
    """Reads and writes for all connections of a worker."""

    channel_class = PatientChannel
    most_connections = MOST_FILES // FILES_EACH

    def maintenance(self, now: float) -> None:
        """Close the connections whose other side is late."""
        for channel in list(self.active_channels.values()):
            if channel.is_late(now):
                channel.will_close = True

    def handle_accept(self) -> None:
        """Take a connection in, in place of the one that has been still for longest where there are too many."""
        super().handle_accept()
        if len(self.active_channels) > self.most_connections:
            waiting = [channel for channel in self.active_channels.values() if not channel.requests]
            if waiting:
                min(waiting, key=lambda channel: channel.last_activity).handle_close()

    def is_done(self) -> bool:
        """Whether every request that was taken in has been answered to its end."""
        return not any(channel.requests or channel.total_outbufs_len for channel in self.active_channels.values())


def serve_on(listening: socket.socket, application: Any, known: dict[int, Any], *, threads: int) -> PatientServer:
    """Return what serves an application on a socket that listens; ``known`` holds its connections."""
    asked = Adjustments(
        sockets=[listening],
        threads=threads,
        server_name=listening.getsockname()[0],
        ident="",
        log_socket_errors=False,
        clear_untrusted_proxy_headers=False,  # whom to trust is for kitchen/domain/client_address.py to say
        connection_limit=MOST_FILES,
        cleanup_interval=LOOK_EVERY_S,
        max_request_header_size=MOST_HEAD_BYTES,
        max_request_body_size=MOST_BODY_BYTES,
    )
    place = (listening.family, listening.type, listening.proto, listening.getsockname())
    return PatientServer(application, known, _sock=listening, adj=asked, sockinfo=place, bind_socket=False)


class PatientWorker(Worker):  # type: ignore[misc]  # its package brings no types
    """What gunicorn runs in each process."""

    def run(self) -> None:
        """Serve until told to stop, then answer what has come."""
        logging.getLogger("waitress.queue").setLevel(logging.ERROR)
        PatientServer.most_connections = _room_for_connections()
        known: dict[int, Any] = {}
        servers = [serve_on(listener.sock, self.wsgi, known, threads=self.cfg.threads) for listener in self.sockets]
        while self.alive and self.ppid == os.getppid():
            self._turn(known)
        for server in servers:
            server.accepting = False
            server.del_channel()
            server.socket.close()
        until = time.time() + self.cfg.graceful_timeout
        while time.time() < until and not all(server.is_done() for server in servers):
            self._turn(known)
        for server in servers:
            server.task_dispatcher.shutdown(timeout=1)

    def _turn(self, known: dict[int, Any]) -> None:
        self.notify()
        wasyncore.loop(timeout=1, use_poll=True, map=known, count=1)


def _room_for_connections() -> int:
    """Return how many connections there are files for, and ask the system for as many as it gives."""
    _soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    files = MOST_FILES if hard == resource.RLIM_INFINITY else min(hard, MOST_FILES)
    resource.setrlimit(resource.RLIMIT_NOFILE, (files, hard))
    return files // FILES_EACH
