"""What every response says about itself and carries, how large a request may be, and what a save that crossed another gets."""

from __future__ import annotations

import logging
import secrets
from collections.abc import Callable
from time import perf_counter

from django.conf import settings
from django.db import IntegrityError
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.cache import patch_cache_control, patch_vary_headers

from deploy.bodies import most_bytes
from deploy.errors import DATABASE_AWAY, crossed_save, database_busy, too_busy, too_large
from deploy.log import request_number
from kitchen.operations.turns import Busy
from kitchen.queries import SiteClock

# No nonces and no 'unsafe-inline': pages hold no script and no style of their own, so the same policy serves every page.
CONTENT_SECURITY_POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-src 'self'",
        "manifest-src 'self'",
    ]
)
PERMISSIONS_POLICY = "camera=(), geolocation=(), microphone=(), payment=(), usb=(), interest-cohort=()"

ROOM_SLOTS = 17_000  # of 8 bytes each: more than 128 kB makes a piece of 256 kB, so that as much is left

SIGNED_IN = ("/bench/", "/start/")

GetResponse = Callable[[HttpRequest], HttpResponse]
log = logging.getLogger(__name__)
requests_log = logging.getLogger("wattfare.requests")


class RoomyStack:
    """Gives all that a request calls one piece of memory for its frames.

    CPython keeps frames in pieces of 16 kB, and gives a piece back as soon as the first frame in it is left. Where the inner loop
    of a template happens to stand on such an edge, each of its calls asks the kernel for memory: up to a third of a page's time.
    A frame that asks for much gets a piece in which those below it have room as well; what nothing touches costs nothing.
    """

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)


RoomyStack.__call__.__code__ = RoomyStack.__call__.__code__.replace(co_stacksize=ROOM_SLOTS)


class RequestNumber:
    """Gives each request a number, says it in the answer, and logs how it was answered, without a word of whose it was."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        mark, began = request_number.set(secrets.token_hex(4)), perf_counter()
        try:
            response = self.get_response(request)
            response.headers["X-Request-Number"] = request_number.get()
            if not request.path.startswith(settings.STATIC_URL):
                requests_log.info("answered", extra={"told": _told(request, response, perf_counter() - began)})
            return response
        finally:
            request_number.reset(mark)


def _told(request: HttpRequest, response: HttpResponse, span_s: float) -> dict[str, object]:
    """Return what is kept of a request: the pattern of its address, never the address itself, in which names and keys stand."""
    route = request.resolver_match.route if request.resolver_match else ""
    return {"method": request.method or "", "route": route, "status": response.status_code, "ms": round(span_s * 1000, 1)}


class PolicyHeaders:
    """Adds the security policies; a page that says so may stand in another one of this site.

    A view that sets one of these headers itself (a page made for embedding) keeps its own.
    """

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        within = "'self'" if response.headers.get("X-Frame-Options") == "SAMEORIGIN" else "'none'"
        response.headers.setdefault("Content-Security-Policy", f"{CONTENT_SECURITY_POLICY}; frame-ancestors {within}")
        response.headers.setdefault("Permissions-Policy", PERMISSIONS_POLICY)
        return response


class Keeping:
    """Says who may keep an answer where the view does not: nobody's cache in between, and no search engine the bench.

    A page can differ with who is signed in, and one that is gone today can be back tomorrow.
    """

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if "Cache-Control" not in response.headers:
            patch_cache_control(response, private=True, no_cache=True)
            patch_vary_headers(response, ["Cookie"])
        if request.path.startswith(SIGNED_IN):
            response.headers["X-Robots-Tag"] = "noindex"
        return response


class KitchenClock:
    """Lets every moment be read, and be typed, by the clock that the kitchen's settings name."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        with timezone.override(SiteClock()):
            return self.get_response(request)


class WholeCookies:
    """Forgets cookies that hold null characters: no browser was given one, and a database refuses to look one up."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        for name in [name for name, value in request.COOKIES.items() if "\0" in value]:
            del request.COOKIES[name]
        return self.get_response(request)


class CrossedSaves:
    """Answers a save that met another one, a database that is away, or a full queue with a page instead of an error."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        if isinstance(exception, Busy):
            return too_busy(request, exception)
        if not isinstance(exception, (IntegrityError, *DATABASE_AWAY)):
            return None
        crossed = isinstance(exception, IntegrityError)
        log.error("%s %s: %s", request.method, request.path, type(exception).__name__, exc_info=exception if crossed else None)
        return crossed_save(request) if crossed else database_busy(request)


class EmptyHead:
    """Takes the body out of the answer to a HEAD request and leaves the length that it would have had."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if request.method == "HEAD" and not response.streaming:
            length = response.headers.get("Content-Length", str(len(response.content)))
            response.content = b""
            response.headers["Content-Length"] = length
        return response


class RequestLimit:
    """Answers a request whose body is larger than any form here needs with a plain page, before anything reads it."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        has_session = settings.SESSION_COOKIE_NAME in request.COOKIES
        if _declared_bytes(request) > most_bytes(request.path, has_session=has_session):
            return too_large(request)
        return self.get_response(request)


def _declared_bytes(request: HttpRequest) -> int:
    declared = request.META.get("CONTENT_LENGTH") or "0"
    return int(declared) if declared.isascii() and declared.isdigit() else 0
