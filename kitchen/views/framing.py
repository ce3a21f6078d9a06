"""Framing: where a page stands, and the links that lead to the same recipe for other servings or in other measures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from urllib.parse import quote

from django.conf import settings
from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import urlencode

from kitchen.cards import Headline
from kitchen.domain import record
from kitchen.domain.films import film_of
from kitchen.domain.systems import SYSTEMS
from kitchen.forms.servings import MOST_SERVINGS
from kitchen.models import Edition, Recipe, Site
from kitchen.page import PageFrame
from kitchen.views.asking import Asked

_ROUNDING_WORDS = {"school": "few, easy measures", "forces": "every spoon told"}


@dataclass(frozen=True)
class Stepper:
    """The servings control: two links (empty at the ends), a field with what was typed, and what is wrong with it."""

    less: str
    more: str
    typed: str
    sentence: str
    action: str
    kept: Mapping[str, str]


@dataclass(frozen=True)
class Ways:
    """The other ways to scale: where their forms lead, the servings that a draft's form carries, and the way back."""

    place: str
    servings: str
    as_written: str


@dataclass(frozen=True)
class Choice:
    """One way to show the measures, or to round them."""

    words: str
    url: str
    chosen: bool


def frame_of(request: HttpRequest, recipe: Recipe, site: Site, past: Edition | None = None) -> PageFrame:
    """Return the frame of a published recipe (as ``access.published`` returns it), or of a ``past`` edition of it."""
    current = recipe.current_edition
    if current is None:
        raise ValueError(f"{recipe} has no edition")
    edition = past or current
    path = reverse("kitchen:edition", args=[recipe.slug, past.number]) if past else reverse("kitchen:recipe", args=[recipe.slug])
    return PageFrame(
        site_name=site.name,
        path=path,
        address=whole_address(request, site, path),
        edition_number=edition.number,
        published_at=edition.published_at,
        first_published_at=getattr(recipe, "first_published_at", None) or edition.published_at,
        note=edition.note,
        superseded_by=current.number if past else None,
        headlines=record.read(tuple[Headline, ...], edition.headlines),
        blog_address=recipe.blog_url,
        film=film_of(recipe.film_url, recipe.film_on, recipe.film_chapters),
        licence=site.licence,
        cite_as=site.cite_as,
    )


def whole_address(request: HttpRequest, site: Site, path: str) -> str:
    """Return the whole address of a path: at the site's own name, else at the name by which it was asked."""
    return site.base_url.rstrip("/") + path if site.base_url else request.build_absolute_uri(path)


def photo_root(frame: PageFrame) -> str:
    """Return the whole address of the photos: where the page stands, without its own path."""
    return frame.address.removesuffix(frame.path) + settings.MEDIA_URL


def address_for(frame: PageFrame, servings: int, base_servings: int, kept: Mapping[str, str]) -> str:
    """Return where the page for so many servings stands."""
    if not frame.public:
        return _with_query(frame.path, {**kept, "for": str(servings)} if servings != base_servings else kept)
    path = frame.path if servings == base_servings else f"{frame.path}for-{quote(str(servings), safe='')}/"
    return _with_query(path, kept)


def address_of(frame: PageFrame, asked: Asked, kept: Mapping[str, str]) -> str:
    """Return where the page that was asked for stands: its servings, portions and vessel, with ``kept`` carried on."""
    if asked.portions.sets_servings:
        return _with_query(frame.path, {**asked.portions.query, **kept})
    return address_for(frame, asked.servings, asked.base_servings, {**asked.portions.query, **kept})


def place_of(frame: PageFrame, asked: Asked) -> str:
    """Return the path of the page that was asked for, without its query."""
    return address_of(frame, asked, {}).partition("?")[0]


def _with_query(path: str, query: Mapping[str, str]) -> str:
    return f"{path}?{urlencode(query)}" if query else path


def stepper(frame: PageFrame, asked: Asked) -> Stepper:
    """Return the servings control of a page."""

    def link(servings: int) -> str:
        return address_for(frame, servings, asked.base_servings, asked.kept_by_stepper) if 1 <= servings <= MOST_SERVINGS else ""

    less, more = link(asked.servings - 1), link(asked.servings + 1)
    return Stepper(less, more, asked.typed, asked.sentence, action=frame.path, kept=asked.kept_by_stepper)


def ways_of(frame: PageFrame, asked: Asked) -> Ways:
    """Return what the other ways to scale need of the page around them."""
    own = asked.portions.sets_servings
    carried = not frame.public and not own and asked.servings != asked.base_servings
    return Ways(
        place=frame.path if own else place_of(frame, asked),
        servings=str(asked.servings) if carried else "",
        as_written=address_for(frame, asked.base_servings, asked.base_servings, asked.kept),
    )


def measure_choices(frame: PageFrame, asked: Asked) -> list[Choice]:
    """Return the ways to show the measures, each with its link."""
    found = []
    for system in SYSTEMS.values():
        kept = replace(asked, measures=system.key).kept
        here = address_of(frame, asked, kept)
        found.append(Choice(system.words, here, chosen=system.key == asked.measures))
    return found


def rounding_choices(frame: PageFrame, asked: Asked) -> list[Choice]:
    """Return the two ways to round amounts, each with its link."""
    found = []
    for key, words in _ROUNDING_WORDS.items():
        here = address_of(frame, asked, replace(asked, rounding=key).kept)
        found.append(Choice(words, here, chosen=key == asked.rounding))
    return found
