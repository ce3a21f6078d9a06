"""Public pages that are the same for everybody: made once, kept, and served without being made again.

What an answer is made of is its name: the editions, the site's settings, the program, the day, the address with what is known of
its query. So nothing is ever taken back: what changes gets another name, and the old answer is not asked for any more.

One address, one page: no cookie is read for it. What a browser remembers comes from an address of its own (``views/kit.py``).

Decisions. Of 1 December 2026 unless it says otherwise. A public page that is the same for everybody is kept as a compressed
file under a name that says what it is made of (``kitchen/views/made_once.py``): the editions' digests, the site's row, the
program, the day, the address with what is known of its query. So nothing is purged: what changes has another name, which is
asked for again after a page was made. A page may read no other table than those of ``kitchen/queries/shown.py``, or it must
be added there; ``test_made_once.py`` holds it. An address has one page: cookies, session and messages are taken from the
request before the view sees it, so ``Vary`` names ``Accept-Encoding`` alone, htmx takes its part of the one page
(``hx-select``), a public page holds no link that only cooks see, and words after a save wait for the bench. A kit stands in
the address, whose page is kept apart and answered ``private``; ``/kit/`` alone reads the cookie, leads with it to any page,
and is asked by ``own-kit.js`` once the plain page is there. Files and not Django's cache, and no Redis: that one counts
entries, this must be bounded in bytes, per recipe too, and leave the disk's reserve alone; a page at hand costs 33 µs in a
worker's memory and reading one of 23 kB from its file, checked, 72 µs, which leaves a server more nothing to gain but pages
shared by several computers behind one address, which nothing else here is made for. Kept pages are compressed once by gzip
and brotli (``publish/codings.py``), which WeasyPrint's fonts bring along. A new public view without ``made_once`` is only
slower. Each worker holds such answers in memory under a mark of the database that any write changes (``deploy/at_hand.py``,
``freshness.py``), so that most readers never reach Django; a page's words may therefore depend on nothing but the database,
the day, the program and its address. The day is the kitchen's: its zone is in its settings and is read by a ``tzinfo`` of its
own only when a moment is (``SiteClock``), so such answers hold for a quarter of an hour. The kitchen's addresses stand first,
since comparing 90 others took a quarter of a kept page's time.
"""

from __future__ import annotations

import gzip
import hashlib
import json
from collections.abc import Callable, Collection
from functools import lru_cache, wraps
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.auth.models import AnonymousUser
from django.contrib.sessions.backends.db import SessionStore
from django.http import HttpRequest, HttpResponse, QueryDict
from django.utils.cache import get_conditional_response
from django.utils.http import urlencode

from kitchen.cards import Card, registered
from kitchen.forms.kit import CALLED, called, field_names
from kitchen.forms.portions import way_names
from kitchen.forms.printing import PrintForm
from kitchen.forms.shelf import ShelfForm
from kitchen.operations.kept_answers import FAMILY, AnswerStore
from kitchen.publish.codings import ONCE, QUICK, by_brotli, by_gzip, taken_by
from kitchen.publish.program import program_digest
from kitchen.queries.shown import Rows, day_by, site_shows

View = Callable[..., HttpResponse]

OF_RECIPE = frozenset({"measures", "rounding", "portion", "vessel", "lid"})
OF_SHELF = frozenset({"sort", "page"})
OF_COLLECTION = frozenset({"for"})
OF_DECK = frozenset({"for", "size", "sheet", "ink", "name", "note"})
OF_CARD = OF_RECIPE | {"size", "sheet", "ink", "for"}
OF_PICTURE = frozenset({"size"})
_HEADERS = ("Content-Type", "Content-Disposition")
_FOR_EVERYBODY = "public, max-age=0, s-maxage=60, stale-while-revalidate=300"
_FOR_ONE = "private, no-cache"
KEPT = "wattfare.kept"
"""Under this name a request says that its answer came from what is kept: the pattern of its address."""


def made_once(shows: Callable[..., Rows], kept: Collection[str] = (), *, kit: bool = False) -> Callable[[View], View]:
    """Serve a view's page from what is kept, and keep it when it was made. The page is the same for everybody.

    ``shows`` returns what the page is made of, empty where there is none. ``kept`` names what an address may ask for besides, and
    ``kit`` says that one for a reader's kit is kept too; one that asks for words, limits or a group is made anew each time, and
    names that no page knows are as if not there.
    """

    def wrap(view: View) -> View:
        @wraps(view)
        def answer(request: HttpRequest, **place: Any) -> HttpResponse:
            _forget_reader(request)
            asked = request.GET.keys() & _known_names(tuple(registered())) | ({CALLED} if called(request.GET) else set())
            _forget_unknown(request, sorted(asked))
            keeps = not settings.DEBUG and asked <= {*kept, *(_names_of_kit(request) if kit else ())}
            rows = shows(*_of(place)) if keeps else ()
            if not rows:
                return _served(request, view(request, **place))
            name = _name(request, rows, place)
            request.META[KEPT] = request.resolver_match.route if request.resolver_match else ""
            return _served(request, _store().get(name) or _filled(view, request, place, shows, name), name)

        return answer

    return wrap


def _filled(
    view: View, request: HttpRequest, place: dict[str, Any], shows: Callable[..., Rows], name: str
) -> bytes | HttpResponse:
    """Return the packed page, made and kept by one of those who ask for it at once; or an answer that is not to be kept."""
    with _store().turn(name):
        body = _store().get(name)
        if body is None:
            made = view(request, **place)
            # The name is asked again: what was published or set while the page was made has another one.
            if not _is_for_everybody(request, made) or _name(request, shows(*_of(place)), place) != name:
                return made
            body = _packed(made)
            _store().put(name, body)
    return body


def _packed(made: HttpResponse) -> bytes:
    """Return what is kept of an answer: a line that says what it is, and its content by gzip, then by brotli."""
    zipped = by_gzip(made.content)
    told = {"gzip": len(zipped), "headers": _told(made)}
    return json.dumps(told).encode() + b"\n" + zipped + by_brotli(made.content, made["Content-Type"], ONCE)


def _told(made: HttpResponse) -> dict[str, str]:
    return {name: made[name] for name in _HEADERS if name in made}


def _of(place: dict[str, Any]) -> list[str]:
    return [place["slug"]] if "slug" in place else []


def _forget_reader(request: HttpRequest) -> None:
    """Take away what a browser sent of its own, so that no page can show it: cookies, who is signed in, what was said to them."""
    request.COOKIES.clear()
    for name in ("HTTP_COOKIE", "CSRF_COOKIE"):
        request.META.pop(name, None)
    request.session, request.user = SessionStore(), AnonymousUser()
    if hasattr(request, "_messages"):
        del request._messages


@lru_cache(maxsize=4)
def _known_names(_cards: tuple[Card, ...]) -> frozenset[str]:
    """Return every name that some public page understands in its query."""
    return frozenset({*field_names(), *way_names(), *ShelfForm().fields, *PrintForm.base_fields, *OF_CARD, *OF_SHELF})


def _forget_unknown(request: HttpRequest, asked: list[str]) -> None:
    """Leave in a request what is known of its query, in one order, so that nothing else can show on its page."""
    query = urlencode([(name, request.GET[name]) for name in asked])
    request.GET, request.META["QUERY_STRING"] = QueryDict(query), query


def _names_of_kit(request: HttpRequest) -> set[str]:
    return request.GET.keys() & set(field_names())


def _name(request: HttpRequest, rows: Rows, place: dict[str, Any]) -> str:
    """Return the name of the answer: eight signs for whose it is, then what it is made of.

    Pages for readers' kits count as another recipe's: they push out none of those that everybody asks for.
    """
    at = request.build_absolute_uri(request.path)
    site = site_shows()
    made_of = (at, request.META["QUERY_STRING"], rows, site, f"{day_by(site)}", program_digest())
    return _digest(f"{place.get('slug', '')}{' kit' if _names_of_kit(request) else ''}")[:FAMILY] + _digest(repr(made_of))


def _digest(text: str | bytes) -> str:
    return hashlib.sha256(text.encode() if isinstance(text, str) else text).hexdigest()


@lru_cache(maxsize=4)
def _store_at(folder: Path) -> AnswerStore:
    return AnswerStore(folder)


def _store() -> AnswerStore:
    return _store_at(Path(settings.ANSWERS_DIR))


def _is_for_everybody(request: HttpRequest, made: HttpResponse) -> bool:
    """Whether an answer is a page for which nothing of one person's was read or set."""
    personal = request.session.accessed or "CSRF_COOKIE" in request.META or made.cookies
    return made.status_code == 200 and not made.streaming and not personal


def _served(request: HttpRequest, made: bytes | HttpResponse, name: str = "") -> HttpResponse:
    """Return a page as the reader's browser takes it, or word that what the browser has still holds; others as they are."""
    if isinstance(made, HttpResponse):
        request.META.pop(KEPT, None)
        if not _is_for_everybody(request, made):
            made["Cache-Control"] = _FOR_ONE
            return made
    taken = taken_by(request.headers.get("Accept-Encoding", ""))
    name, told, coding, content = _fresh(made, taken) if isinstance(made, HttpResponse) else (name, *_unpacked(made, taken))
    keeps = _FOR_ONE if _names_of_kit(request) else _FOR_EVERYBODY
    tag = f'"{name[-64:][:32]}{coding and f"-{coding}"}"'
    answer = HttpResponse(headers={**told, "Cache-Control": keeps, "Vary": "Accept-Encoding", "ETag": tag})
    same = get_conditional_response(request, etag=tag, response=answer)
    if same is not answer:
        return same or answer
    if coding:
        answer.headers["Content-Encoding"] = coding
    answer.content = content
    return answer


def _fresh(made: HttpResponse, taken: frozenset[str]) -> tuple[str, dict[str, str], str, bytes]:
    """Return the name, the headers, the coding and the content of an answer that is not kept."""
    body, name, told = made.content, _digest(made.content), _told(made)
    if "br" in taken and (content := by_brotli(body, made["Content-Type"], QUICK)):
        return name, told, "br", content
    return (name, told, "gzip", by_gzip(body)) if "gzip" in taken else (name, told, "", body)


def _unpacked(kept: bytes, taken: frozenset[str]) -> tuple[dict[str, str], str, bytes]:
    """Return the headers, the coding and the content of what was kept."""
    head, _, content = kept.partition(b"\n")
    told = json.loads(head)
    zipped, shorter = content[: told["gzip"]], content[told["gzip"] :]
    if "br" in taken and shorter:
        return told["headers"], "br", shorter
    return told["headers"], *(("gzip", zipped) if "gzip" in taken else ("", gzip.decompress(zipped)))
