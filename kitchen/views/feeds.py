"""Feeds of what is published: all of it, of one tag, of one cook."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.http import urlencode

from kitchen.collected import Collection
from kitchen.domain.changes import what_changed
from kitchen.domain.licences import LICENCES
from kitchen.models import Edition, Site
from kitchen.operations.publishing import page_as_written
from kitchen.page import PageFrame, read_facts, read_recipe
from kitchen.publish.copies import recipe_html
from kitchen.publish.feeds import FeedEntry, atom_feed, edition_name
from kitchen.publish.rights import rights_words
from kitchen.queries import the_site
from kitchen.queries.collections import collected_editions
from kitchen.queries.offered import NEWEST_EDITIONS, editions_before, newest_editions
from kitchen.views.collections import of_shown
from kitchen.views.doors import of_anybody
from kitchen.views.framing import photo_root, whole_address
from kitchen.views.machines import for_everybody


@of_anybody
def feed(request: HttpRequest) -> HttpResponse:
    """The last editions of all recipes. Address ``/feed.atom``; anybody."""
    site = the_site()
    return _answer(request, site, newest_editions(), site.name, reverse("kitchen:library"))


@of_anybody
def tag_feed(request: HttpRequest, tag: str) -> HttpResponse:
    """The last editions of recipes with a tag. Address ``/feeds/tag/<tag>.atom``; anybody; a tag that no recipe has is 404."""
    site, editions = the_site(), newest_editions(tag=tag)
    if not editions:
        raise Http404("No recipe has this tag.")
    return _answer(request, site, editions, f"{site.name}: {tag}", f"{reverse('kitchen:library')}?{urlencode({'q': tag})}")


@of_anybody
def cook_feed(request: HttpRequest, number: int) -> HttpResponse:
    """The last editions of a cook's recipes. Address ``/feeds/cook/<n>.atom``; anybody; nobody, or nothing published, is 404."""
    site, editions = the_site(), newest_editions(cook=number)
    if not editions:
        raise Http404("This cook has published nothing.")
    author = read_recipe(editions[0].facts).author
    return _answer(request, site, editions, f"{site.name}: {author}", reverse("kitchen:library"))


@of_anybody
@of_shown
def collection_feed(request: HttpRequest, collection: Collection) -> HttpResponse:
    """The last editions of a collection's recipes. Address ``/c/<slug>/feed.atom``; anybody; 410 and 404 as its page."""
    site, home = the_site(), reverse("kitchen:collection", args=[collection.slug])
    editions = collected_editions(collection, NEWEST_EDITIONS)
    return _answer(request, site, editions, f"{site.name}: {collection.title}", home)


def _answer(request: HttpRequest, site: Site, editions: list[Edition], title: str, home: str) -> HttpResponse:
    before = editions_before(editions)
    made = atom_feed(
        [_entry(request, site, edition, before.get(edition.pk)) for edition in editions],
        title=title,
        subtitle=site.tagline,
        home=whole_address(request, site, home),
        address=whole_address(request, site, request.path),
        rights=rights_words(site.licence, site.cite_as or site.name),
        licence=LICENCES.get(site.licence, ""),
    )
    return for_everybody(request, HttpResponse(made, content_type="application/atom+xml; charset=utf-8"))


def _entry(request: HttpRequest, site: Site, edition: Edition, before: Edition | None) -> FeedEntry:
    """Return one edition with the whole recipe as it was published, and what it corrects."""
    recipe, facts = edition.recipe, read_facts(edition.facts)
    frame = _frame(request, site, edition)
    page = page_as_written(recipe.slug, facts, site)
    changes = what_changed(read_recipe(before.facts), facts.recipe) if before else ()
    head = render_to_string("kitchen/machines/entry-head.html", {"edition": edition, "changes": changes}).strip()
    return FeedEntry(
        name=edition_name(recipe.uid, edition.number),
        title=facts.recipe.title,
        address=frame.address,
        published_at=edition.published_at,
        author=facts.recipe.author or site.name,
        summary=edition.note or facts.recipe.summary,
        content=head + recipe_html(page, frame, photo_root=photo_root(frame), heading=False),
        tags=facts.recipe.tags,
    )


def _frame(request: HttpRequest, site: Site, edition: Edition) -> PageFrame:
    """Return where an edition stands: at its recipe's address while it is the current one, else at its own."""
    slug, current = edition.recipe.slug, edition.pk == edition.recipe.current_edition_id
    path = reverse("kitchen:recipe", args=[slug]) if current else reverse("kitchen:edition", args=[slug, edition.number])
    return PageFrame(
        site_name=site.name,
        path=path,
        address=whole_address(request, site, path),
        edition_number=edition.number,
        published_at=edition.published_at,
        superseded_by=None if current else edition.number + 1,
    )
