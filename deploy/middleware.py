"""What every response says about itself and carries, how large a request may be, and what a save that crossed another gets."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable

from django.conf import settings
from django.db import IntegrityError, OperationalError
from django.http import HttpRequest, HttpResponse
from django.utils.cache import patch_cache_control, patch_vary_headers

from deploy.errors import crossed_save, database_busy, too_large

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
        "frame-ancestors 'none'",
        "manifest-src 'self'",
    ]
)
PERMISSIONS_POLICY = "camera=(), geolocation=(), microphone=(), payment=(), usb=(), interest-cohort=()"

SIGNED_IN = ("/bench/", "/start/")

GetResponse = Callable[[HttpRequest], HttpResponse]
log = logging.getLogger(__name__)


class PolicyHeaders:
    """Adds the security policies. A view that sets one of these headers itself (a page made for embedding) keeps its own."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", CONTENT_SECURITY_POLICY)
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


class WholeCookies:
    """Forgets cookies that hold null characters: no browser was given one, and a database refuses to look one up."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        for name in [name for name, value in request.COOKIES.items() if "\0" in value]:
            del request.COOKIES[name]
        return self.get_response(request)


class CrossedSaves:
    """Answers a save that met another one, or a database that cannot be reached, with a page instead of an error."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        if not isinstance(exception, IntegrityError | OperationalError):
            return None
        log.error("%s %s: %s", request.method, request.path, type(exception).__name__, exc_info=exception)
        return crossed_save(request) if isinstance(exception, IntegrityError) else database_busy(request)


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
        if _declared_bytes(request) > _most_bytes(request):
            return too_large(request)
        return self.get_response(request)


def _most_bytes(request: HttpRequest) -> int:
    """Return how much may be sent: more where a cook who has a session sends a meter's file."""
    sends_log = re.fullmatch(settings.LOG_ADDRESSES, request.path) and settings.SESSION_COOKIE_NAME in request.COOKIES
    return settings.MAX_LOG_BYTES + (1 << 20) if sends_log else settings.MAX_REQUEST_BYTES


def _declared_bytes(request: HttpRequest) -> int:
    declared = request.META.get("CONTENT_LENGTH") or "0"
    return int(declared) if declared.isascii() and declared.isdigit() else 0
