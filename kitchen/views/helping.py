"""Where helpers may go: they record cooks, and every other door of the bench is closed to them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import Resolver404, resolve

from kitchen.queries.roles import is_helper

V = TypeVar("V", bound=Callable[..., Any])
GetResponse = Callable[[HttpRequest], HttpResponse]
_WIRE = "/api/"
_CLOSED = ("/bench/", _WIRE)


def for_helpers(view: V) -> V:
    """Let helpers in at this door too."""
    vars(view)["helper_may"] = True
    return view


def helper_may_follow(address: str) -> bool:
    """Whether a door that a page links to is open to helpers."""
    try:
        return _is_open(resolve(address.partition("?")[0]).func)
    except Resolver404:
        return False


class HelpersDoor:
    """Answers a helper 403 with a sentence at every door of the bench that is not marked as open to helpers."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(self, request: HttpRequest, view: Callable[..., Any], *_: Any) -> HttpResponse | None:
        if _is_open(view) or not request.path.startswith(_CLOSED) or not is_helper(request.user):
            return None
        if request.path.startswith(_WIRE):
            return JsonResponse({"error": "This account records cooks. That needs a cook’s account."}, status=403)
        return render(request, "kitchen/bench/not-for-helpers.html", status=403)


def _is_open(view: Callable[..., Any]) -> bool:
    return bool(getattr(view, "helper_may", False))
