"""The cooking view: the method step by step, large, with the amounts and the minutes of each step."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from kitchen.domain.show import ShownLine
from kitchen.domain.used_in import seconds_of, used_in
from kitchen.models import Recipe
from kitchen.page import NumberedStep, Page, StageBlock, present_page, read_facts
from kitchen.queries import the_site
from kitchen.queries.shown import recipe_shows
from kitchen.views.asking import card_request, read_asked
from kitchen.views.doors import of_anybody
from kitchen.views.editions import of_published
from kitchen.views.framing import address_of, frame_of
from kitchen.views.made_once import OF_RECIPE, made_once


@dataclass(frozen=True)
class CookingStep:
    """One step with its stage, what goes in, and the length of its timer; ``opens`` where a closed vessel is opened."""

    step: NumberedStep
    stage: StageBlock
    first: bool
    lines: tuple[ShownLine, ...]
    minutes: str
    timer_s: int | None
    opens: bool


@of_anybody
@made_once(recipe_shows, OF_RECIPE | {"for"}, kit=True)
@of_published
def cook(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """The method to cook by. Address ``/r/<slug>/cook/?for=8``; anybody; 400 for nonsense; else as the page."""
    if recipe.current_edition is None:
        raise Http404("There is no recipe at this address.")
    site = the_site()
    facts, frame = read_facts(recipe.current_edition.facts), frame_of(request, recipe, site)
    asked = read_asked(request, facts.recipe, site)
    page = present_page(facts, card_request(asked, site, frame))
    context = {
        "page": page,
        "frame": frame,
        "steps": steps_of(page),
        "back": address_of(frame, asked, asked.kept),
        "asked": asked,
    }
    return render(request, "kitchen/cook.html", context, status=200 if asked.sound else 400)


def steps_of(page: Page) -> list[CookingStep]:
    """Return the steps of a page's method, each with the lines that it names."""
    lines = [line for part in page.parts for line in part.lines]
    steps = [(stage, step) for stage in page.stages for step in stage.steps]
    named = used_in([step.text for _, step in steps], [line.words for line in lines])
    return [
        _cooking_step(stage, step, tuple(lines[place] for place in places))
        for (stage, step), places in zip(steps, named, strict=True)
    ]


def _cooking_step(stage: StageBlock, step: NumberedStep, lines: tuple[ShownLine, ...]) -> CookingStep:
    first, timed = step is stage.steps[0], sum(bool(one.minutes) for one in stage.steps)
    minutes = step.minutes if timed > 1 or not stage.minutes else stage.minutes if first else ""
    return CookingStep(step, stage, first, lines, minutes, seconds_of(minutes), opens=first and stage.kind == "release")
