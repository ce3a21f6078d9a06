"""What search engines and browsers ask a site for by itself: robots.txt, the sitemap, the manifest, the old icon."""

from __future__ import annotations

from math import ceil

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect, JsonResponse
from django.templatetags.static import static
from django.urls import reverse

from kitchen.publish.crawling import MOST_ADDRESSES, ListedAddress, robots_text, sitemap_index_xml, sitemap_xml
from kitchen.publish.manifest import site_manifest
from kitchen.queries import the_site
from kitchen.queries.collections import collections_shown
from kitchen.queries.offered import count_offered, last_published_at, offered
from kitchen.views.doors import of_anybody
from kitchen.views.framing import whole_address
from kitchen.views.machines import for_everybody

CLOSED = ("/bench/", "/start/", "/api/")


@of_anybody
def robots(request: HttpRequest) -> HttpResponse:
    """What may be read, and where the list is. Address ``/robots.txt``; anybody."""
    text = robots_text(whole_address(request, the_site(), reverse("kitchen:sitemap")), CLOSED)
    return for_everybody(request, HttpResponse(text, content_type="text/plain; charset=utf-8"))


@of_anybody
def sitemap(request: HttpRequest) -> HttpResponse:
    """The list of the sitemaps. Address ``/sitemap.xml``; anybody; three queries."""
    site, last = the_site(), last_published_at()
    files = [
        ListedAddress(whole_address(request, site, reverse("kitchen:sitemap-part", args=[number])), last)
        for number in range(1, max(1, ceil(count_offered() / MOST_ADDRESSES)) + 1)
    ]
    return for_everybody(request, HttpResponse(sitemap_index_xml(files), content_type="application/xml"))


@of_anybody
def sitemap_part(request: HttpRequest, number: int) -> HttpResponse:
    """A sitemap: library, collections, recipes with their edition’s day and their pictures. ``/sitemap-<n>.xml``; anybody."""
    site = the_site()
    listed = [
        ListedAddress(
            whole_address(request, site, reverse("kitchen:recipe", args=[one.slug])),
            one.changed_at,
            tuple(whole_address(request, site, settings.MEDIA_URL + name) for name in one.pictures),
        )
        for one in offered((number - 1) * MOST_ADDRESSES if number else 0, MOST_ADDRESSES)
    ]
    if number == 1:
        held = [(reverse("kitchen:collection", args=[one.slug]), one.updated_at) for one in collections_shown()]
        first = [(reverse("kitchen:library"), last_published_at()), *held]
        listed = [*(ListedAddress(whole_address(request, site, path), at) for path, at in first), *listed]
    if not listed or number < 1:
        raise Http404("There is no such part of the sitemap.")
    return for_everybody(request, HttpResponse(sitemap_xml(listed), content_type="application/xml"))


@of_anybody
def manifest(request: HttpRequest) -> HttpResponse:
    """What a phone needs to put the site among its programs. Address ``/site.webmanifest``; anybody."""
    site = the_site()
    told = site_manifest(name=site.name, description=site.tagline, start=reverse("kitchen:library"), icon_of=static)
    return for_everybody(request, JsonResponse(told, content_type="application/manifest+json"))


@of_anybody
def favicon(request: HttpRequest) -> HttpResponse:
    """Where the old icon is. Address ``/favicon.ico``; anybody."""
    return HttpResponseRedirect(static("img/favicon.ico"))
