"""What a form understood otherwise than it was typed is said on the page that follows, whichever form it was."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.http import HttpRequest, HttpResponse

from kitchen.forms.numbers import UNDERSTOOD

_MOST_TOLD = 6


class TellUnderstood:
    """Collects what the fields of a request converted, and tells it where a save leads on to another page.

    A form that comes back says it beside its fields instead, and what is typed into an address is shown where it is used.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        outer = UNDERSTOOD.set({})
        try:
            response = self.get_response(request)
            told = list(UNDERSTOOD.get() or ())
        finally:
            UNDERSTOOD.reset(outer)
        if told and request.method == "POST" and 300 <= response.status_code < 400:
            more = f"; and {len(told) - _MOST_TOLD} more" if len(told) > _MOST_TOLD else ""
            messages.info(request, f"{'; '.join(told[:_MOST_TOLD])}{more}.")
        return response
