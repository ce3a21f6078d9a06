"""Measure how many readers a second two workers serve, with pages that are kept, and print it as a table.

    .venv/bin/python -m tests.measure.kept_pages          4 seconds for each row
    .venv/bin/python -m tests.measure.kept_pages 10       longer

Makes a data folder of its own with the example kitchen, serves it as ``deploy.serve`` does, and throws it away. "Bare" is a view
of Django alone, without middleware, tables or templates, that answers as many bytes from memory, in the same workers: no page can
pass it. Readers are eight connections that ask again as soon as they are answered, from a process on the same computer, which
takes its part of the processors. Nothing here judges.
"""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import tempfile
import threading
import time
import urllib.request
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from deploy.place import find_place

TOP = Path(__file__).resolve().parents[2]
SECONDS = 4
READERS = 8
PORT = 8471
RECIPE = "/r/red-lentil-and-squash-pot/"
BARE = "/bare"


def main(arguments: list[str]) -> None:
    """Print the table."""
    seconds = float(arguments[0]) if arguments else SECONDS
    with served_kitchen("tests.measure.kept_pages:application"):
        _print_table(seconds)


@contextmanager
def served_kitchen(application: str) -> Iterator[int]:
    """Serve the example kitchen in a place of its own from two workers until the block ends; yield the master's number."""
    with tempfile.TemporaryDirectory(prefix="wattfare-kept-") as folder:
        asked = {"WATTFARE_DATA": folder, "DATABASE_URL": "", "WATTFARE_BIND": f"127.0.0.1:{PORT}", "WATTFARE_WORKERS": "2"}
        variables = {**find_place(TOP, **asked).variables, "DJANGO_SETTINGS_MODULE": "deploy.settings"}
        for words in ("migrate", "foods", "demo", "collectstatic --noinput"):
            subprocess.run(
                [sys.executable, "manage.py", *words.split()], cwd=TOP, env=variables, check=True, stdout=subprocess.DEVNULL
            )
        command = [sys.executable, "-m", "gunicorn", "--config", "python:deploy.serve", application]
        server = subprocess.Popen(command, cwd=TOP, env=variables, stdout=subprocess.DEVNULL)
        try:
            for _ in range(300):
                try:
                    urllib.request.urlopen(f"http://127.0.0.1:{PORT}/healthz").close()
                    break
                except OSError:
                    time.sleep(0.1)
            yield server.pid
        finally:
            server.terminate()
            server.wait(20)


def _print_table(seconds: float) -> None:
    zipped = "Accept-Encoding: gzip\r\n"
    tag = _headers(_once(RECIPE, zipped))["etag"]
    rows = {
        "bare view": (BARE, zipped),
        "recipe, kept": (RECIPE, zipped),
        "recipe, 304": (RECIPE, f"{zipped}If-None-Match: {tag}\r\n"),
        "recipe, kept, not compressed": (RECIPE, ""),
        "library, kept": ("/", zipped),
        "recipe, made anew": (f"{RECIPE}?adults=4", zipped),
        "library, made anew": ("/?q=e", zipped),
    }
    print(f"{'':30}{'a second':>10}{'of bare':>9}{'median ms':>11}{'p99 ms':>9}{'bytes':>9}")
    bare = 0.0
    for words, (address, said) in rows.items():
        size = len(_once(address, said))
        spans = sorted(_asked_for(seconds, address, said))
        rate = len(spans) / seconds
        bare = bare or rate
        median, late = spans[len(spans) // 2], spans[len(spans) * 99 // 100]
        print(f"{words:30}{rate:>10,.0f}{rate / bare:>9.2f}{median * 1000:>11.1f}{late * 1000:>9.1f}{size:>9,}", flush=True)


def _asked_for(seconds: float, address: str, said: str) -> list[float]:
    """Return what each answer took of as many as eight readers get in so many seconds. [s]"""
    spans: list[float] = []
    until = time.perf_counter() + seconds
    readers = [threading.Thread(target=_read, args=(address, said, until, spans)) for _ in range(READERS)]
    for reader in readers:
        reader.start()
    for reader in readers:
        reader.join()
    return spans


def _read(address: str, said: str, until: float, spans: list[float]) -> None:
    with socket.create_connection(("127.0.0.1", PORT)) as line:
        while (began := time.perf_counter()) < until:
            _exchange(line, address, said)
            spans.append(time.perf_counter() - began)


def _once(address: str, said: str) -> bytes:
    with socket.create_connection(("127.0.0.1", PORT)) as line:
        return _exchange(line, address, said)


def _exchange(line: socket.socket, address: str, said: str) -> bytes:
    """Ask on an open connection and return the whole answer, head and body."""
    line.sendall(f"GET {address} HTTP/1.1\r\nHost: 127.0.0.1:{PORT}\r\n{said}\r\n".encode())
    answer = b""
    while b"\r\n\r\n" not in answer:
        answer += _piece(line)
    head, _, body = answer.partition(b"\r\n\r\n")
    if head.split(b" ", 2)[1] not in (b"200", b"304"):
        raise ValueError(f"{address}: {head[:80]!r}")
    length = 0 if b" 304 " in head[:16] else int(_headers(answer)["content-length"])
    while len(body) < length:
        body += _piece(line)
    return head + b"\r\n\r\n" + body


def _piece(line: socket.socket) -> bytes:
    piece = line.recv(1 << 18)
    if not piece:
        raise ConnectionError("The server closed a connection in the middle of an answer.")
    return piece


def _headers(answer: bytes) -> dict[str, str]:
    lines = answer.partition(b"\r\n\r\n")[0].decode("latin-1").split("\r\n")[1:]
    return {name.lower(): told for name, _, told in (line.partition(": ") for line in lines)}


def _with_bare_view() -> Callable[..., Iterable[bytes]]:
    """Return the site's application, with a bare view of Django before it."""
    from django.core.handlers.wsgi import WSGIRequest
    from django.http import HttpResponse

    from deploy.wsgi import application as site

    page = os.urandom(14_000)

    def answer(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        if environ["PATH_INFO"] != BARE:
            return site(environ, start_response)
        response = HttpResponse(page, headers={"Content-Length": str(len(page))})
        WSGIRequest(environ)
        start_response("200 OK", list(response.items()))
        return response

    return answer


if __name__ == "__main__":
    main(sys.argv[1:])
else:
    application = _with_bare_view()
