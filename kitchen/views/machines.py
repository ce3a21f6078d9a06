"""How what is made for programs is answered: the same for everybody, with a tag that tells whether it still holds."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.utils.cache import get_conditional_response, patch_cache_control, set_response_etag


def for_everybody(request: HttpRequest, response: HttpResponse) -> HttpResponse:
    """Let anybody's cache keep an answer and ask each time whether it still holds, and any page of another site read it.

    Nothing in it may come from a cookie or from who asks.
    """
    patch_cache_control(response, public=True, max_age=0, s_maxage=60, stale_while_revalidate=300)
    response["Access-Control-Allow-Origin"] = "*"
    set_response_etag(response)
    return get_conditional_response(request, etag=response["ETag"], response=response) or response
