"""Plain pages for requests that cannot be answered: malformed, too large, expired, or crossed by another."""

from __future__ import annotations

from django.conf import settings
from django.core.exceptions import RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string

CHUNK = 1 << 16
MOST_DRAINED_BYTES = 256 << 20


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Answer a malformed request with 400, an oversized one with 413."""
    if isinstance(exception, RequestDataTooBig | TooManyFieldsSent | TooManyFilesSent):
        return too_large(request)
    return render(request, "400.html", status=400)


def too_large(request: HttpRequest) -> HttpResponse:
    """Answer a request that is larger than the site takes: 413, with the way back to what was typed."""
    _drain(request)
    return render(request, "413.html", {"most_mb": settings.DATA_UPLOAD_MAX_MEMORY_SIZE >> 20}, status=413)


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer a form whose token is missing or out of date: 403, with the way back to what was typed."""
    return render(request, "403_csrf.html", {"cookies_off": not request.COOKIES}, status=403)


def crossed_save(request: HttpRequest) -> HttpResponse:
    """Answer a save that two people, or two clicks, made at the same moment: 409, with the way back to what was typed."""
    return render(request, "409.html", status=409)


def database_busy(request: HttpRequest) -> HttpResponse:
    """Answer while the database cannot be reached or is held by others for too long: 503, from a page that needs no database."""
    return HttpResponse(render_to_string("503.html"), status=503, headers={"Retry-After": "20"})


def _drain(request: HttpRequest) -> None:
    """Read the rest of the body and forget it: a browser that is still sending would show a broken connection, not the page."""
    read = 0
    try:
        while read < MOST_DRAINED_BYTES and (chunk := request.read(CHUNK)):
            read += len(chunk)
    except OSError:  # the sender has gone
        return
