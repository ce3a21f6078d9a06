"""The way in for every view that shows what was published."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponsePermanentRedirect
from django.shortcuts import render
from django.urls import reverse

from kitchen.access import Gone, Moved, published


def of_published(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Give the view the published recipe instead of its slug; answer 301 for an old address, 410 for a withdrawn recipe."""

    @wraps(view)
    def answer(request: HttpRequest, slug: str, **rest: Any) -> HttpResponse:
        try:
            recipe = published(slug)
        except Moved as moved:
            return _moved(request, {**rest, "slug": moved.slug})
        except Gone:
            return render(request, "kitchen/gone.html", status=410)
        return view(request, recipe, **rest)

    return answer


def _moved(request: HttpRequest, kwargs: dict[str, Any]) -> HttpResponse:
    match = request.resolver_match
    query = request.META.get("QUERY_STRING", "")
    url = reverse(match.view_name if match else "kitchen:recipe", kwargs=kwargs)
    return HttpResponsePermanentRedirect(f"{url}?{query}" if query else url)
