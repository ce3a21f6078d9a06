"""Plain pages for requests that cannot be answered: malformed, too large, expired, crossed by another. JSON under ``/api/``."""

from __future__ import annotations

import logging
import sys

from django.conf import settings
from django.core.exceptions import RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent
from django.db import InterfaceError, OperationalError
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils import timezone
from django.views import defaults

from deploy.bodies import most_bytes
from deploy.log import request_number
from kitchen.operations.turns import Busy
from kitchen.words import ENGLISH
from kitchen.words.waits import wait_words

WIRE = "/api/"
CHUNK = 1 << 16
log = logging.getLogger(__name__)
DATABASE_AWAY = (OperationalError, InterfaceError)
MOST_DRAINED_BYTES = 256 << 20


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Answer a malformed request with 400, an oversized one with 413."""
    if isinstance(exception, RequestDataTooBig | TooManyFieldsSent | TooManyFilesSent):
        return too_large(request)
    if on_wire(request):
        return _told(400, "This request is malformed.")
    return render(request, "400.html", status=400)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Answer an address that leads nowhere: 404."""
    return _told(404, "There is nothing at this address.") if on_wire(request) else defaults.page_not_found(request, exception)


def forbidden(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Answer what this person may not do: 403."""
    return _told(403, "This is not yours to do.") if on_wire(request) else defaults.permission_denied(request, exception)


def broken(request: HttpRequest) -> HttpResponse:
    """Answer a mistake of the program's own: 500, without a word of where. A database that is away is none: 503."""
    error = sys.exc_info()[1]
    if isinstance(error, DATABASE_AWAY):
        log.error("%s: %s", request.method, type(error).__name__)
        return database_busy(request)
    if on_wire(request):
        return _told(500, "Something went wrong here. Try again later.")
    return HttpResponse(render_to_string("500.html", {"number": request_number.get()}), status=500)


def on_wire(request: HttpRequest) -> bool:
    """Whether a phone's script or a device asks, and not a person: it is answered in JSON."""
    return request.path.startswith(WIRE)


def _told(status: int, words: str, **more: str) -> JsonResponse:
    return JsonResponse({"error": words, **more, "now": timezone.now().isoformat().replace("+00:00", "Z")}, status=status)


def too_large(request: HttpRequest) -> HttpResponse:
    """Answer a request that is larger than the site takes: 413, with the way back to what was typed."""
    _drain(request)
    if on_wire(request):
        return _told(413, "This is longer than the site takes. Send less at a time.")
    has_session = settings.SESSION_COOKIE_NAME in request.COOKIES
    most = min(most_bytes(request.path, has_session=has_session), settings.DATA_UPLOAD_MAX_MEMORY_SIZE)
    return render(request, "413.html", {"most_mb": most >> 20}, status=413)


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer a form whose token is missing or out of date: 403, with the way back to what was typed."""
    if on_wire(request):
        return _no_secret(request)
    return render(request, "403_csrf.html", {"cookies_off": not request.COOKIES}, status=403)


def _no_secret(request: HttpRequest) -> HttpResponse:
    """Answer a script whose secret is out of date, or 401 where nobody is signed in and a fresh one would not help."""
    if not request.user.is_authenticated:
        return _told(401, "Nobody is signed in here. Keep it, sign in, and send it again.")
    return _told(
        403, "The form’s secret is missing or old. Fetch a fresh one from /api/v1/session, and send it again.", field="csrf"
    )


def crossed_save(request: HttpRequest) -> HttpResponse:
    """Answer a save that two people, or two clicks, made at the same moment: 409, with the way back to what was typed."""
    if on_wire(request):
        return _told(503, "Another save crossed this one. Send it again.")
    return render(request, "409.html", status=409)


def database_busy(request: HttpRequest) -> HttpResponse:
    """Answer while the database cannot be reached or is held by others for too long: 503, from a page that needs no database."""
    if on_wire(request):
        busy = _told(503, "The database is busy or away. Send it again in a while.")
        busy.headers["Retry-After"] = "20"
        return busy
    return HttpResponse(render_to_string("503.html"), status=503, headers={"Retry-After": "20"})


def too_busy(request: HttpRequest, busy: Busy) -> HttpResponse:
    """Answer while too many ask for the same heavy work: 503, with the time after which to come again."""
    told = HttpResponse(render_to_string("503_busy.html", {"wait": wait_words(busy.wait_s, ENGLISH)}), status=503)
    told.headers["Retry-After"] = str(busy.wait_s)
    return told


def _drain(request: HttpRequest) -> None:
    """Read the rest of the body and forget it: a browser that is still sending would show a broken connection, not the page."""
    read = 0
    try:
        while read < MOST_DRAINED_BYTES and (chunk := request.read(CHUNK)):
            read += len(chunk)
    except OSError:  # the sender has gone
        return
