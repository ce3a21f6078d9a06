"""A recipe for other sites and programs: as JSON, in a frame, as oEmbed, and to be copied."""

from __future__ import annotations

from urllib.parse import urlsplit

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import Resolver404, resolve, reverse
from django.views.decorators.clickjacking import xframe_options_exempt

from kitchen.access import Gone, Moved, published
from kitchen.models import Recipe, Site
from kitchen.operations.publishing import page_as_written
from kitchen.page import Page, PageFrame, read_facts
from kitchen.publish.copies import copies_of, photo_of
from kitchen.publish.oembed import frame_code, oembed
from kitchen.publish.open_recipe import open_recipe, recipe_schema
from kitchen.publish.rights import rights_of
from kitchen.queries import the_site
from kitchen.queries.offered import slug_at_home
from kitchen.queries.shown import recipe_shows
from kitchen.views.doors import of_anybody
from kitchen.views.editions import of_published
from kitchen.views.framing import frame_of, photo_root, whole_address
from kitchen.views.machines import for_everybody
from kitchen.views.made_once import made_once

_RECIPES = ("kitchen:recipe", "kitchen:recipe-for")
_ANY_SIZE = "100000"


@of_anybody
@of_published
def recipe_json(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """A recipe as data. Address ``/r/<slug>.json``; anybody; 301, 410 and 404 as the page."""
    site = the_site()
    page, frame = _page_of(request, recipe, site)
    schema = whole_address(request, site, reverse("kitchen:recipe-schema"))
    told = open_recipe(page, frame, photo_root=photo_root(frame), schema=schema)
    answer = JsonResponse(told, json_dumps_params={"ensure_ascii": False, "indent": 1, "allow_nan": False})
    links = (f'<{schema}>; rel="describedby"', f'<{frame.home}>; rel="canonical"', rights_of(page.recipe, frame).header)
    answer["Link"] = ", ".join(filter(None, links))
    return for_everybody(request, answer)


@of_anybody
def schema_json(request: HttpRequest) -> HttpResponse:
    """The schema of recipes as data. Address ``/schema/recipe-1.json``; anybody."""
    told = recipe_schema(whole_address(request, the_site(), request.path))
    return for_everybody(request, JsonResponse(told, content_type="application/schema+json", json_dumps_params={"indent": 1}))


@of_anybody
@xframe_options_exempt
@of_published
def embedded(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """A recipe to stand in a frame of any site. Address ``/embed/<slug>/``; anybody; keeps nothing, works without script."""
    site = the_site()
    page, frame = _page_of(request, recipe, site)
    answer = render(request, "kitchen/machines/frame.html", {"page": page, "frame": frame})
    own = whole_address(request, site, "/").rstrip("/")
    sources = f"'self' {own}"
    answer["Content-Security-Policy"] = (
        f"default-src 'none'; script-src {sources}; style-src {sources}; img-src {sources} data:; font-src {sources}; "
        "base-uri 'none'; form-action 'none'; frame-ancestors *"
    )
    answer["X-Robots-Tag"] = "noindex"
    answer["Link"] = f'<{frame.home}>; rel="canonical"'
    return for_everybody(request, answer)


@of_anybody
def oembed_answer(request: HttpRequest) -> HttpResponse:
    """What a pasted address stands for. Address ``/oembed?url=...``; anybody; 404 for what is no recipe here, 501 for XML."""
    if request.GET.get("format", "json") != "json":
        return HttpResponse("This site answers as JSON.", status=501, content_type="text/plain; charset=utf-8")
    site = the_site()
    recipe = _recipe_named(request, site, request.GET.get("url", ""))
    page, frame = _page_of(request, recipe, site)
    told = oembed(
        title=page.recipe.title,
        author=page.recipe.author,
        site_name=site.name,
        site=whole_address(request, site, reverse("kitchen:library")),
        frame=_embed_address(request, site, recipe),
        picture=photo_of(page, frame, photo_root(frame)),
        most=(_at_most(request, "maxwidth"), _at_most(request, "maxheight")),
    )
    return for_everybody(request, JsonResponse(told))


@of_anybody
@made_once(recipe_shows)
@of_published
def share(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """A recipe to be shared and copied. Address ``/r/<slug>/share/``; anybody; 301, 410 and 404 as the page."""
    site = the_site()
    page, frame = _page_of(request, recipe, site)
    context = {
        "page": page,
        "frame": frame,
        "root": whole_address(request, site, "/").rstrip("/"),
        "embed": frame_code(_embed_address(request, site, recipe), page.recipe.title),
        "rights": rights_of(page.recipe, frame),
        "cook": recipe.owner_id,
        "copies": copies_of(page, frame, photo_root=photo_root(frame)),
    }
    return render(request, "kitchen/share.html", context)


def _page_of(request: HttpRequest, recipe: Recipe, site: Site) -> tuple[Page, PageFrame]:
    """Return the page of what was published, at the size it was written for, without anybody's kit."""
    if recipe.current_edition is None:
        raise Http404("There is no recipe at this address.")
    return page_as_written(recipe.slug, read_facts(recipe.current_edition.facts), site), frame_of(request, recipe, site)


def _embed_address(request: HttpRequest, site: Site, recipe: Recipe) -> str:
    return whole_address(request, site, reverse("kitchen:embed", args=[recipe.slug]))


def _recipe_named(request: HttpRequest, site: Site, address: str) -> Recipe:
    """Return the recipe whose page an address names: its home elsewhere, or one that it has or had on this site; else 404."""
    slug = slug_at_home(address)
    if slug:
        return published(slug)
    try:
        asked = urlsplit(address)
        match = resolve(asked.path)
    except (Resolver404, ValueError):
        raise Http404("There is no recipe at this address.") from None
    own = {urlsplit(whole_address(request, site, "/")).netloc, request.get_host()}
    if asked.netloc not in own or match.view_name not in _RECIPES:
        raise Http404("There is no recipe at this address.")
    try:
        return published(match.kwargs["slug"])
    except Moved as moved:
        return published(moved.slug)
    except Gone:
        raise Http404("The recipe was taken back.") from None


def _at_most(request: HttpRequest, name: str) -> int:
    typed = request.GET.get(name, _ANY_SIZE)
    return max(1, int(typed)) if typed.isascii() and typed.isdigit() and len(typed) <= len(_ANY_SIZE) else int(_ANY_SIZE)
