"""Public pages that are the same for everybody: made once, kept, and served without being made again.

What an answer is made of is its name: the editions, the site's settings, the program, the day, the address with what is known of
its query. So nothing is ever taken back: what changes gets another name, and the old answer is not asked for any more.
"""

from __future__ import annotations

import gzip
import hashlib
from collections.abc import Callable, Collection
from functools import lru_cache, wraps
from pathlib import Path
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse, QueryDict
from django.utils import timezone
from django.utils.cache import get_conditional_response
from django.utils.http import urlencode

from kitchen.cards import Card, registered
from kitchen.forms.kit import field_names
from kitchen.forms.portions import way_names
from kitchen.forms.shelf import ShelfForm
from kitchen.operations.kept_answers import FAMILY, AnswerStore
from kitchen.publish.program import program_digest
from kitchen.queries.shown import Rows, site_shows

View = Callable[..., HttpResponse]

OF_RECIPE = frozenset({"measures", "rounding", "portion", "vessel", "lid"})
OF_SHELF = frozenset({"sort", "page"})
_FOR_EVERYBODY = {
    "Cache-Control": "public, max-age=0, s-maxage=60, stale-while-revalidate=300",
    # A proxy keeps the page of those who brought no cookie from those who did: theirs may hold a kit or a message.
    "Vary": "Accept-Encoding, Cookie",
}
_OWN_COOKIES = (settings.SESSION_COOKIE_NAME, settings.MESSAGE_COOKIE_NAME, settings.KIT_COOKIE_NAME)


def made_once(shows: Callable[..., Rows], kept: Collection[str] = ()) -> Callable[[View], View]:
    """Serve a view's page from what is kept, to whoever is nobody in particular, and keep it when it was made.

    ``shows`` returns what the page is made of, empty where there is none. ``kept`` names what an address may ask for besides;
    one that asks for a kit, words or limits is answered as it always was, and names that no page knows are as if not there.
    """

    def wrap(view: View) -> View:
        @wraps(view)
        def answer(request: HttpRequest, **place: Any) -> HttpResponse:
            asked = request.GET.keys() & _known_names(tuple(registered()))
            rows = () if settings.DEBUG or _is_somebody(request) or not asked <= set(kept) else shows(*_of(place))
            if not rows:
                return view(request, **place)
            _forget_unknown(request, sorted(asked))
            name = _name(request, rows, place)
            body = _store().get(name) or _filled(view, request, place, shows, name)
            return body if isinstance(body, HttpResponse) else _served(request, name, body)

        return answer

    return wrap


def _filled(
    view: View, request: HttpRequest, place: dict[str, Any], shows: Callable[..., Rows], name: str
) -> bytes | HttpResponse:
    """Return the compressed page, made and kept by one of those who ask for it at once; or an answer that is not to be kept."""
    with _store().turn(name):
        body = _store().get(name)
        if body is None:
            made = view(request, **place)
            # The name is asked again: what was published or set while the page was made has another one.
            if not _is_for_everybody(request, made) or _name(request, shows(*_of(place)), place) != name:
                return made
            body = gzip.compress(made.content, mtime=0)
            _store().put(name, body)
    return body


def _of(place: dict[str, Any]) -> list[str]:
    return [place["slug"]] if "slug" in place else []


def _is_somebody(request: HttpRequest) -> bool:
    """Whether a request carries something of one person's, which a page may show: a kit, a session, a message."""
    return any(name in request.COOKIES for name in _OWN_COOKIES)


@lru_cache(maxsize=4)
def _known_names(_cards: tuple[Card, ...]) -> frozenset[str]:
    """Return every name that some public page understands in its query."""
    return frozenset({*field_names(), *way_names(), *ShelfForm().fields, *OF_RECIPE, *OF_SHELF, "for", "kit"})


def _forget_unknown(request: HttpRequest, asked: list[str]) -> None:
    """Leave in a request what is known of its query, in one order, so that nothing else can show on its page."""
    query = urlencode([(name, request.GET[name]) for name in asked])
    request.GET, request.META["QUERY_STRING"] = QueryDict(query), query


def _name(request: HttpRequest, rows: Rows, place: dict[str, Any]) -> str:
    """Return the name of the answer: eight signs for whose it is, then what it is made of."""
    at = request.build_absolute_uri(request.path)
    made_of = (at, request.META["QUERY_STRING"], rows, site_shows(), f"{timezone.localdate()}", program_digest())
    return _digest(place.get("slug", ""))[:FAMILY] + _digest(repr(made_of))


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


@lru_cache(maxsize=4)
def _store_at(folder: Path) -> AnswerStore:
    return AnswerStore(folder)


def _store() -> AnswerStore:
    return _store_at(Path(settings.ANSWERS_DIR))


def _is_for_everybody(request: HttpRequest, made: HttpResponse) -> bool:
    """Whether an answer is a page for which nothing of one person's was read or set."""
    personal = request.session.accessed or "CSRF_COOKIE" in request.META or made.cookies
    return made.status_code == 200 and not made.streaming and not personal


def _served(request: HttpRequest, name: str, body: bytes) -> HttpResponse:
    """Return a kept page as the reader's browser takes it, or word that what the browser has still holds."""
    zipped = _takes_gzip(request.headers.get("Accept-Encoding", ""))
    tag = f'"{name[FAMILY:][:32]}{"-gzip" if zipped else ""}"'
    answer = HttpResponse(headers={**_FOR_EVERYBODY, "ETag": tag})
    same = get_conditional_response(request, etag=tag, response=answer)
    if same is not answer:
        return same or answer
    if zipped:
        answer.headers["Content-Encoding"] = "gzip"
    answer.content = body if zipped else gzip.decompress(body)
    return answer


@lru_cache(maxsize=64)
def _takes_gzip(accepted: str) -> bool:
    """Whether a browser says that it takes what is compressed by gzip (RFC 9110, 12.5.3)."""
    for part in accepted.lower().split(","):
        coding, _, quality = part.partition(";")
        if coding.strip() in ("gzip", "x-gzip"):
            return quality.replace(" ", "").strip() not in ("q=0", "q=0.0", "q=0.00", "q=0.000")
    return False
