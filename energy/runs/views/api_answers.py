"""How the addresses under ``/api/`` answer: JSON always, a refusal as a sentence with its field, never a page."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import Http404, HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.cache import never_cache

from energy.runs.domain.wire import Unfit
from energy.runs.operations.desk import SaidElse
from energy.runs.queries.desk_presses import rfc3339

View = Callable[..., JsonResponse]
_CHUNK = 1 << 16


class TooLong(ValueError):
    """A body is longer than its address takes."""


def refusal(status: int, words: str, field: str = "", value: Any = None, **more: Any) -> JsonResponse:
    """Return a refusal in JSON; ``field`` and ``value`` where one field is at fault."""
    at_fault = {"field": field, "value": value} if field else {}
    return JsonResponse({"error": words, **at_fault, **more, "now": rfc3339(timezone.now())}, status=status)


def answers(*methods: str) -> Callable[[View], View]:
    """Let a view answer in JSON whatever happens, to the person who is signed in."""

    def decorate(view: View) -> View:
        @never_cache
        @wraps(view)
        def answered(request: HttpRequest, *args: Any, **given: Any) -> JsonResponse:
            if request.method not in methods:
                refused = refusal(405, f"This address takes {' and '.join(methods)}, not {request.method}.")
                refused.headers["Allow"] = ", ".join(methods)
                return refused
            if not request.user.is_authenticated:
                return refusal(401, "Nobody is signed in here. Keep it, sign in, and send it again.")
            return _spoken(view, request, *args, **given)

        return answered

    return decorate


def _spoken(view: View, request: HttpRequest, *args: Any, **given: Any) -> JsonResponse:
    """Return the view's answer, or its refusal in JSON."""
    try:
        return view(request, *args, **given)
    except Unfit as unfit:
        return refusal(422, str(unfit), unfit.field, unfit.value)
    except SaidElse as said:
        return refusal(409, str(said), kept=said.kept)
    except TooLong as long:
        return refusal(413, str(long))
    except Http404:
        return refusal(404, "There is no such cook or recipe here, or it belongs to somebody else.")


def answer(status: int, said: dict[str, Any], skew_s: float | None = None) -> JsonResponse:
    """Return an answer with the server's clock, and how far the phone's clock is ahead where it said its own."""
    skew = {} if skew_s is None else {"skew_s": skew_s}
    return JsonResponse({**said, **skew, "now": rfc3339(timezone.now())}, status=status)


def json_body(request: HttpRequest, most_bytes: int) -> bytes:
    """Return the JSON body of a request.

    Raises
    ------
    Unfit
        If it is said to be something else.
    TooLong
        If it is longer than this address takes.
    """
    if request.content_type != "application/json":
        raise Unfit("Send JSON, with the header Content-Type: application/json.", "Content-Type", request.content_type)
    return body_of(request, most_bytes)


def body_of(request: HttpRequest, most_bytes: int) -> bytes:
    """Return the body of a request; what is too long is read to its end and forgotten, so that the answer arrives.

    Raises
    ------
    TooLong
        If it is longer than this address takes.
    """
    body = request.read(most_bytes + 1)
    if len(body) <= most_bytes:
        return body
    while request.read(_CHUNK):
        pass
    most = f"{most_bytes >> 20} MB" if most_bytes >= 1 << 20 else f"{most_bytes >> 10} kB"
    raise TooLong(f"This is too long: this address takes {most}. Send less at a time.")
