"""Pictures of an energy card: for a frame of a video, and for sharing."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from datetime import datetime

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import get_conditional_response
from django.utils.html import escape
from django.utils.http import quote_etag
from django.views.decorators.http import require_safe

from energy import access
from energy.cards.drawing_file import drawing_of_page
from energy.cards.picture import Picture, picture_of_page, picture_of_run
from energy.runs.operations.summing import settle
from energy.runs.queries.drawings import stage_energies
from energy.runs.queries.runs import run_summary
from kitchen.models import Recipe
from kitchen.operations.publishing import page_as_written
from kitchen.operations.turns import PRINTING_FOR_STRANGERS
from kitchen.page import read_facts
from kitchen.publish.paper import markup_digest
from kitchen.publish.picture import PICTURE_SIZES, PictureSize, picture_png
from kitchen.queries import the_site
from kitchen.queries.shown import recipe_shows
from kitchen.views.doors import of_anybody
from kitchen.views.editions import of_published
from kitchen.views.framing import frame_of, whole_address
from kitchen.views.helping import for_helpers
from kitchen.views.made_once import OF_PICTURE, made_once

_STYLE = "css/picture.css"
DRAWING_PX = 1416
"""How wide a drawing alone is as a PNG."""


@of_anybody
@made_once(recipe_shows, OF_PICTURE)
@of_published
def recipe_picture(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """The energy card as a PNG. ``/r/<slug>/card.png?size=1200x630``; anybody; the same for all, whatever their kit.

    An edition without a measured energy, or another size, is 404.
    """
    size, edition = _size(request), recipe.current_edition
    if edition is None or "energy" not in edition.facts.get("cards", {}):
        raise Http404("Nothing was measured for this edition.")
    frame, page = frame_of(request, recipe, the_site()), page_as_written(recipe.slug, read_facts(edition.facts))
    foot = f"edition {frame.edition_number}, {_day(edition.published_at)}, for {page.request.servings}"
    picture = picture_of_page(page, size=size.shape or size.name, address=frame.address, foot=foot)
    name = f"{recipe.slug}-{size.key}.png"
    return _drawn(_markup(picture, size), size, name, PRINTING_FOR_STRANGERS.turn, has_photo=bool(picture.photo))


@of_anybody
@made_once(recipe_shows)
@of_published
def recipe_drawing(request: HttpRequest, recipe: Recipe, name: str, kind: str) -> HttpResponse:
    """The strip or the climb alone. ``/r/<slug>/strip.svg``, ``strip.png``, ``ladder.svg``, ``ladder.png``; anybody."""
    edition = recipe.current_edition
    page = page_as_written(recipe.slug, read_facts(edition.facts)) if edition and "energy" in edition.facts["cards"] else None
    file = page and drawing_of_page(page, name, frame_of(request, recipe, the_site()).address)
    if not file:
        raise Http404("Nothing was measured for this edition.")
    drawn = render_to_string("energy/pictures/drawing.svg", {"file": file})
    if kind == "svg":
        return HttpResponse(drawn, content_type="image/svg+xml")
    size = PictureSize(kind, name, DRAWING_PX, round(DRAWING_PX * file.height / file.width))
    markup = f'<!doctype html><html lang="en"><title>{escape(file.title)}</title><body>{drawn}</body></html>'
    return _drawn(markup, size, f"{recipe.slug}-{name}.png", PRINTING_FOR_STRANGERS.turn)


@for_helpers
@login_required
@require_safe
def run_picture(request: HttpRequest, pk: int) -> HttpResponse:
    """A run's figures as a PNG. ``/bench/runs/<pk>/card.png?size=1920x1080``; who may edit its recipe; too little read is 404."""
    run, size = access.run_for_bench(request.user, pk), _size(request)
    settle(run=run)
    summary, recipe = run_summary(run), run.revision.recipe
    if summary is None or not summary.known:
        raise Http404("Too little was read in this run to draw its energy.")
    public = reverse("kitchen:recipe", args=[recipe.slug]) if recipe.current_edition_id else reverse("kitchen:library")
    address = whole_address(request, the_site(), public)
    foot = f"cooked on {_day(run.started_at)} for {run.servings}"
    picture = picture_of_run(
        summary,
        stage_energies(summary),
        run.servings,
        title=recipe.title,
        size=size.shape or size.name,
        address=address,
        foot=foot,
    )
    markup = _markup(picture, size)
    etag = quote_etag(f"{markup_digest(markup, _STYLE)}-{size.key}")
    answer = get_conditional_response(request, etag=etag)
    if answer is None:
        answer = _drawn(markup, size, f"{recipe.slug}-run-{run.pk}-{size.key}.png", nullcontext)
    answer["ETag"], answer["Cache-Control"] = etag, "private, no-cache"
    return answer


def _size(request: HttpRequest) -> PictureSize:
    size = PICTURE_SIZES.get(request.GET.get("size", "1200x630"))
    if size is None:
        raise Http404(f"Pictures are drawn as {' or '.join(PICTURE_SIZES)}.")
    return size


def _day(moment: datetime) -> str:
    day = timezone.localtime(moment)
    return f"{day.day} {day:%B %Y}"


def _markup(picture: Picture, size: PictureSize) -> str:
    return render_to_string("energy/pictures/card.html", {"picture": picture, "size": size})


def _drawn(
    markup: str, size: PictureSize, name: str, turn: Callable[[], AbstractContextManager[None]], *, has_photo: bool = False
) -> HttpResponse:
    drawn = picture_png(markup, size, _STYLE, turn=turn, has_photo=has_photo)
    answer = HttpResponse(drawn, content_type="image/png")
    answer["Content-Disposition"] = f'inline; filename="{name}"'
    return answer
