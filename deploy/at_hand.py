"""Pages that were just served from what is kept, held in memory by each worker, and answered before the site is asked.

An answer is held under all that the site looked at to give it: scheme, host, address and coding; and under the mark of the
database (``deploy/freshness.py``), the quarter of an hour and nothing else. Any write whatever changes the mark: then the site is
asked again. By whatever clock the site is read, its days begin with a quarter of an hour.
"""

from __future__ import annotations

import logging
import secrets
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from time import perf_counter, time
from typing import Any

from deploy.freshness import Freshness, Mark
from deploy.log import request_number
from kitchen.publish.codings import taken_by
from kitchen.views.made_once import KEPT

Environ = dict[str, Any]
Application = Callable[[Environ, Callable[..., Any]], Iterable[bytes]]

MOST_PAGES, MOST_BYTES = 200, 128 << 10
_PLAIN = "200 OK"

requests_log = logging.getLogger("wattfare.requests")


@dataclass(frozen=True)
class Held:
    """One answer, and what it was true for."""

    mark: Mark
    headers: list[tuple[str, str]]
    tag: str
    body: bytes
    route: str


class AtHand:
    """Answers what it holds, and asks the site for the rest."""

    def __init__(self, application: Application, freshness: Freshness | None = None) -> None:
        self.application = application
        self._freshness = freshness or Freshness()
        self._held: dict[Mark, Held] = {}

    def __call__(self, environ: Environ, start_response: Callable[..., Any]) -> Iterable[bytes]:
        if environ["REQUEST_METHOD"] not in ("GET", "HEAD"):
            return self.application(environ, start_response)
        began, mark = perf_counter(), self._freshness.mark()
        if mark is None:
            return self.application(environ, start_response)
        whole, key = (*mark, _quarter_hour()), _key(environ)
        held = self._held.get(key)
        if held is None or held.mark != whole:
            return self._asked(environ, start_response, key, whole)
        return _answered(environ, start_response, held, began)

    def _asked(self, environ: Environ, start_response: Callable[..., Any], key: Mark, mark: Mark) -> Iterable[bytes]:
        """Ask the site, and hold its answer where it says that this is one of the pages that are kept."""
        said: list[Any] = []

        def start(status: str, headers: list[tuple[str, str]], *more: Any) -> Any:
            said[:] = status, headers
            return start_response(status, headers, *more)

        answer = self.application(environ, start)
        route = environ.get(KEPT)
        if route is None or environ["REQUEST_METHOD"] != "GET" or said[0] != _PLAIN:
            return answer
        body = b"".join(answer)
        if close := getattr(answer, "close", None):
            close()
        if len(body) <= MOST_BYTES:
            headers = [(name, told) for name, told in said[1] if name.lower() != "x-request-number"]
            tag = next((told for name, told in headers if name.lower() == "etag"), "")
            if len(self._held) >= MOST_PAGES:
                self._held.clear()
            self._held[key] = Held(mark, headers, tag, body, route)
        return [body]


def _quarter_hour() -> int:
    return int(time()) // 900


def _key(environ: Environ) -> Mark:
    """Return all that the site looks at before it answers with a page that is kept."""
    told = environ.get
    return (
        told("HTTP_HOST"),
        environ["PATH_INFO"],
        told("QUERY_STRING"),
        environ["wsgi.url_scheme"],
        told("HTTP_X_FORWARDED_PROTO"),
        taken_by(told("HTTP_ACCEPT_ENCODING", "")),
    )


def _answered(environ: Environ, start_response: Callable[..., Any], held: Held, began: float) -> Iterable[bytes]:
    number = secrets.token_hex(4)
    same = _has(environ.get("HTTP_IF_NONE_MATCH", ""), held.tag)
    headers = [one for one in held.headers if one[0].lower() != "content-length"] if same else held.headers
    start_response("304 Not Modified" if same else _PLAIN, [*headers, ("X-Request-Number", number)])
    token = request_number.set(number)
    span_ms = round((perf_counter() - began) * 1000, 1)
    told = {"method": environ["REQUEST_METHOD"], "route": held.route, "status": 304 if same else 200, "ms": span_ms}
    requests_log.info("answered", extra={"told": told})
    request_number.reset(token)
    return [] if same or environ["REQUEST_METHOD"] == "HEAD" else [held.body]


def _has(told: str, tag: str) -> bool:
    """Whether a browser says that it has this very page, by weak comparison (RFC 9110, 13.1.2)."""
    return bool(told) and (told.strip() == "*" or tag in [one.strip().removeprefix("W/") for one in told.split(",")])
