"""The doors of the bench: who comes in, and with which recipe."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.views import redirect_to_login
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_safe

from kitchen.access import collection_for_bench, recipe_for_bench, refuse_all_but_owner
from kitchen.operations.journal import Hand
from kitchen.queries.changes import newest_removed

View = Callable[..., HttpResponseBase]
LONGEST_WAY_BACK = 2000  # signs; a longer address is not carried through the sign-in page


def of_anybody(view: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
    """Let anybody look. What would change something is answered 405: there is nothing to change, so no secret is asked for."""
    return csrf_exempt(require_safe(view))


def hand_of(request: HttpRequest) -> Hand:
    """Return whose hand does what this request asks for, and when."""
    return Hand(request.user, timezone.now())


def removed_from(slug: str, address: str) -> HttpResponse:
    """Lead to a list of shared things after one was removed; the list offers to put it back."""
    return redirect(f"{address}?removed={newest_removed(slug)}")


def of_cook(view: View) -> View:
    """Let signed-in cooks in; everybody else goes to sign in and comes back."""

    @wraps(view)
    def inner(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if request.user.is_authenticated:
            return view(request, *args, **kwargs)
        return _to_sign_in(request)

    return inner


def of_owner(view: View) -> View:
    """Let in whoever runs the site; other cooks get 404."""

    @of_cook
    @wraps(view)
    def inner(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        refuse_all_but_owner(request.user)
        return view(request, *args, **kwargs)

    return inner


def of_recipe(view: View) -> View:
    """Let in those who may edit the recipe in the address, and hand the recipe to the view; other cooks get 404."""

    @of_cook
    @wraps(view)
    def inner(request: HttpRequest, slug: str, **kwargs: Any) -> HttpResponseBase:
        return view(request, recipe_for_bench(request.user, slug), **kwargs)

    return inner


def of_collection(view: View) -> View:
    """Let in those who may change the collection in the address, and hand it to the view; other cooks get 404."""

    @of_cook
    @wraps(view)
    def inner(request: HttpRequest, slug: str, **kwargs: Any) -> HttpResponseBase:
        return view(request, collection_for_bench(request.user, slug), **kwargs)

    return inner


def _to_sign_in(request: HttpRequest) -> HttpResponseBase:
    """Send a stranger to sign in. A page that saves in the background is told instead: it would lose what was typed."""
    if request.headers.get("HX-Request") == "true":
        answer = render(request, "kitchen/bench/draft-state.html", {"state": {"kind": "signed-out"}})
        answer.headers["HX-Retarget"], answer.headers["HX-Reswap"] = "#draft-state", "outerHTML"
        return answer
    whole = request.get_full_path()
    return redirect_to_login(whole if len(whole) <= LONGEST_WAY_BACK else reverse("kitchen:bench"))
