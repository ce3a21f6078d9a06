"""Collecting: from a revision's tables to the facts that an edition keeps and every page is made from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from typing import Any

from django.db.models import Prefetch, QuerySet

from kitchen.cards import Facts, registered
from kitchen.domain import allergens, nutrition, record
from kitchen.domain.facts import FoodFacts, LineFacts, MadeFacts, PartFacts, PhotoFacts, RecipeFacts, SideFacts, StepFacts
from kitchen.domain.made import share_of
from kitchen.models import Edition, Food, Line, Pairing, Part, Photo, Recipe, Revision, Step
from kitchen.page import SCHEMA
from kitchen.reference import load_reference


def collect_facts(revision: Revision, *, at: datetime) -> Facts:
    """Return the facts of a revision: the recipe, and what every registered card knows about it at this moment.

    The number of queries does not grow with parts, lines, steps or sides.
    """
    held = {card.slug: card.collect(revision, at=at) for card in registered()}
    return {
        "schema": SCHEMA,
        "recipe": record.write(recipe_facts(revision)),
        "cards": {slug: facts for slug, facts in held.items() if facts is not None},
    }


def recipe_facts(revision: Revision) -> RecipeFacts:
    """Return what the tables say now about the recipe itself, as it stands in this revision; rows are read afresh."""
    return with_facts(Revision.objects.filter(pk=revision.pk))[0][1]


def with_facts(revisions: QuerySet[Revision]) -> list[tuple[Revision, RecipeFacts]]:
    """Return these revisions, each with its recipe's facts; no more queries for many than for one."""
    fetched = revisions.select_related("recipe__owner").prefetch_related(*_needed())
    return [(revision, _facts(revision)) for revision in fetched]


def _facts(revision: Revision) -> RecipeFacts:
    recipe = revision.recipe
    parts = tuple(_part(part) for part in revision.parts.all())
    told = allergens_told(recipe, (line for part in parts for line in part.lines))
    return record.taken(
        RecipeFacts,
        recipe,
        servings=revision.servings,
        revision=revision.number,
        author=recipe.owner.get_full_name() or recipe.owner.get_username(),
        parts=parts,
        steps=tuple(_step(step) for step in revision.steps.all()),
        sides=tuple(_side(pairing) for pairing in recipe.sides.all()),
        photo=_lead_photo(recipe),
        serving_g=revision.serving_g,
        allergens=told.keys,
        allergens_unknown=told.unknown,
        allergens_added=allergens.ordered(recipe.allergens.get("added", ())),
        allergens_removed=allergens.ordered(recipe.allergens.get("removed", ())),
        allergens_told=True,
        nutrition=nutrition.estimate(_weighed(revision), revision.servings, load_reference()),
        extra={"own_cautions": recipe.own_cautions} if recipe.own_cautions else {},
    )


def allergens_told(recipe: Recipe, lines: Iterable[LineFacts]) -> allergens.AllergenList:
    """Return the allergens of these lines as the recipe's cook edited them."""
    return allergens.listed(lines, recipe.allergens.get("added", ()), recipe.allergens.get("removed", ()))


def _weighed(revision: Revision) -> Iterable[nutrition.Weighed]:
    """Yield each line with its food's composition, which the facts of a food do not hold."""
    for part in revision.parts.all():
        for line in part.lines.all():
            yield line_facts(line), None if line.food is None else record.taken(nutrition.Composition, line.food)


def _needed() -> list[Any]:
    """Return the prefetches; a side that is not published stays out, so that no public page names a private recipe."""
    shown_sides = Pairing.objects.filter(side__current_edition__isnull=False, side__withdrawn_at__isnull=True)
    return [
        "recipe__photos",
        Prefetch("recipe__sides", queryset=shown_sides.select_related("side").order_by("side__title")),
        "parts__lines__food",
        "parts__lines__made_of",
        "steps__photo",
    ]


def _part(part: Part) -> PartFacts:
    return PartFacts(title=part.title, lines=tuple(line_facts(line) for line in part.lines.all()))


def lines_of(revision_pk: int) -> list[Line]:
    """Return a revision's lines in their order, each with its food. One query."""
    lines = Line.objects.filter(part__revision=revision_pk).select_related("food", "made_of")
    return list(lines.order_by("part__position", "position"))


def line_facts(line: Line) -> LineFacts:
    """Return one ingredient line: as typed, and as read."""
    plain = record.taken(LineFacts, line, food=None if line.food is None else food_facts(line.food), made=None)
    return plain if line.made_of is None else replace(plain, made=_made(line, plain, line.made_of))


def _made(line: Line, plain: LineFacts, edition: Edition) -> MadeFacts:
    """Return the recipe that a line is made by, as its edition was published."""
    held = record.read(RecipeFacts, edition.facts["recipe"])
    return record.taken(
        MadeFacts,
        held,
        edition=edition.number,
        now=line.made_now,
        own_cautions=held.extra.get("own_cautions", ""),
        share=share_of(plain, held.servings, held.serving_g),
        lines=tuple(one for part in held.parts for one in part.lines),
    )


def food_facts(food: Food) -> FoodFacts:
    """Return the few properties of a food that scaling and conversion need."""
    return record.taken(FoodFacts, food)


def _step(step: Step) -> StepFacts:
    return record.taken(StepFacts, step, photo=None if step.photo is None else photo_facts(step.photo))


def _side(pairing: Pairing) -> SideFacts:
    return SideFacts(slug=pairing.side.slug, title=pairing.side.title, portions=pairing.portions)


def photo_facts(photo: Photo) -> PhotoFacts:
    """Return what a page needs to show a photo."""
    return record.taken(PhotoFacts, photo)


def _lead_photo(recipe: Recipe) -> PhotoFacts | None:
    return next((photo_facts(photo) for photo in recipe.photos.all() if photo.leads), None)
