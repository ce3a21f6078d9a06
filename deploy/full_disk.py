"""Answers where nothing more can be kept: a full disk is 507 and told by name, data that can only be read are 503."""

from __future__ import annotations

import errno
import logging
import sys
from collections.abc import Callable

from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.template.loader import render_to_string
from django.utils import timezone

from deploy import errors
from deploy.last_resort import FULL

FULL_STATE, READ_ONLY_STATE = "53100", "25006"
"""What PostgreSQL calls a full disk, and a transaction that may only read (its appendix A)."""

GetResponse = Callable[[HttpRequest], HttpResponse]
log = logging.getLogger(__name__)


class CannotKeep:
    """Tells a disk that is full, or data that can only be read, from a mistake of the program's own."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        return told(request, exception)


def broken(request: HttpRequest) -> HttpResponse:
    """Answer what went wrong outside a view: a full disk while a form is read or a session kept, else a mistake of our own."""
    error = sys.exc_info()[1]
    answer = told(request, error) if isinstance(error, Exception) else None
    return answer or errors.broken(request)


def told(request: HttpRequest, error: Exception) -> HttpResponse | None:
    """Return the answer to an error that means that nothing more can be kept; None for any other."""
    if is_full(error):
        status, words, page = 507, "The kitchen’s disk is full.", "507.html"
    elif is_read_only(error):
        status, words, page = 503, "The kitchen’s data can only be read now. Send it again later.", "503_read.html"
    else:
        return None
    log.error("%s: nothing more can be kept: %s", request.method, (str(error).splitlines() or [type(error).__name__])[0])
    answer: HttpResponse
    if errors.on_wire(request):
        answer = JsonResponse({"error": words, "now": timezone.now().isoformat().replace("+00:00", "Z")}, status=status)
    else:
        answer = HttpResponse(render_to_string(page), status=status)
    answer.headers["Retry-After"] = "60"
    return answer


def is_full(error: Exception) -> bool:
    """Whether an error says that the disk is full, the program's own reserve for readings included."""
    if isinstance(error, DatabaseError):
        return "disk is full" in str(error) or "disk full" in str(error) or _state(error) == FULL_STATE
    return isinstance(error, OSError) and error.errno in FULL


def is_read_only(error: Exception) -> bool:
    """Whether an error says that the data can only be read."""
    if isinstance(error, DatabaseError):
        return "readonly database" in str(error) or _state(error) == READ_ONLY_STATE
    return isinstance(error, OSError) and error.errno == errno.EROFS


def _state(error: DatabaseError) -> str:
    return getattr(error.__cause__, "sqlstate", None) or ""
