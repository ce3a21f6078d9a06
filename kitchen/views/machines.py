"""How what is made for programs is answered: the same for everybody, with a tag that tells whether it still holds.

Decisions. Of 1 December 2026 unless it says otherwise. What is made for other programs is the same for everybody
(``kitchen/views/machines.py``): nothing in it comes from a cookie. An entry of a feed is an edition, named after its recipe's
``uid``, so that its name outlives its address. Only ``/embed/`` may be framed; static files may be read from any origin,
since a sandboxed frame has none of its own. A cost goes out only when it is whole, and figures of money only with their
currency. Icons are drawn once, by ``deploy/make_icons.py``. Where a recipe is at home, its film and the licence are said of
today and in no edition (``queries/shown.py`` names their columns). A kit that is passed on lives in its address, its name
too; a name without a kit is as if not there. Every page is held to the rules of HTML (``tests/published/html_rules.py``):
scripts' attributes begin with ``data-``.
"""

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
