"""Publishing: freeze what a revision's tables say into an edition, and take a recipe back."""

from __future__ import annotations

import hashlib
import json
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.urls import reverse

from kitchen.cards import CardRequest, Facts
from kitchen.domain import record
from kitchen.domain.allergens import shelf_allergens
from kitchen.domain.facts import Plate, RecipeFacts
from kitchen.domain.money import round_half_up
from kitchen.domain.search import fold, shelf_words
from kitchen.models import Edition, Figure, Recipe, Revision, ShelfMark, ShelfWord, Site
from kitchen.operations.photos import note_pictures
from kitchen.page import Page, ReadFacts, present_page, read_facts
from kitchen.queries import collect_facts, the_site

SHELF_RULES = 1
"""Goes up when plates or marks say something new; an upgrade brings what stands on the shelf along."""

_FIGURE_PLACES = 4
_LARGEST_FIGURE = Decimal("9999999999")


class CannotPublish(ValueError):
    """The recipe is not ready for the world; the message says what to do."""


class NothingChanged(CannotPublish):
    """The newest edition says exactly this already."""


@transaction.atomic
def publish_recipe(*, recipe: Recipe, revision: Revision, by: Any, note: str = "", at: datetime) -> Edition:
    """Publish a revision as the recipe's next edition and return it; the revision is locked from then on.

    A withdrawn recipe comes back; when its last edition says exactly the same, that edition comes back.

    Raises
    ------
    NothingChanged
        If the current edition holds the same facts.
    CannotPublish
        If the revision is another recipe's, or holds no ingredients or no method.
    """
    recipe = Recipe.objects.select_for_update(of=("self",)).select_related("current_edition").get(pk=recipe.pk)
    revision = Revision.objects.get(pk=revision.pk)
    if revision.recipe_id != recipe.pk:
        raise CannotPublish("This revision belongs to another recipe.")
    facts = collect_facts(revision, at=at)
    read = read_facts(facts)
    _refuse_unready(read.recipe)
    digest = digest_of(facts)
    current = recipe.current_edition
    if current is not None and current.digest == digest:
        return _bring_back(recipe, current, at=at)
    page = page_as_written(recipe.slug, read)
    edition = _next_edition(recipe, revision, facts=facts, digest=digest, page=page, by=by, note=note, at=at)
    shelve(recipe, edition, page, at=at)
    Revision.objects.filter(pk=revision.pk, locked_at=None).update(locked_at=at)
    return edition


@transaction.atomic
def withdraw_recipe(*, recipe: Recipe, at: datetime) -> None:
    """Take a published recipe back: its address answers "gone", the library forgets it, its editions are kept."""
    published = Recipe.objects.filter(pk=recipe.pk, current_edition__isnull=False, withdrawn_at=None)
    published.update(withdrawn_at=at, updated_at=at)


def digest_of(facts: Facts) -> str:
    """Return the SHA-256 of the facts in one canonical spelling, in hexadecimal."""
    spelled = json.dumps(facts, sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    return hashlib.sha256(spelled.encode()).hexdigest()


def _refuse_unready(recipe: RecipeFacts) -> None:
    if not any(part.lines for part in recipe.parts):
        raise CannotPublish("Add at least one ingredient before publishing.")
    if not recipe.steps:
        raise CannotPublish("Add at least one step to the method before publishing.")


def _bring_back(recipe: Recipe, edition: Edition, *, at: datetime) -> Edition:
    if recipe.withdrawn_at is None:
        raise NothingChanged(f"Nothing has changed since edition {edition.number}, so there is nothing new to publish.")
    recipe.withdrawn_at = None
    recipe.updated_at = at
    recipe.save(update_fields=["withdrawn_at", "updated_at"])
    return edition


def page_as_written(slug: str, facts: ReadFacts, site: Site | None = None) -> Page:
    """Return the page for the servings the recipe was written for, without anybody's kit: what the shelf shows."""
    site = site or the_site()
    servings = facts.recipe.servings
    path = reverse("kitchen:recipe", args=[slug])
    request = CardRequest(servings, servings, measures=site.measures, currency=site.currency, path=path)
    return present_page(facts, request)


def _next_edition(
    recipe: Recipe, revision: Revision, *, facts: Facts, digest: str, page: Page, by: Any, note: str, at: datetime
) -> Edition:
    newest = recipe.editions.order_by("-number").values_list("number", flat=True).first()
    edition = Edition.objects.create(
        recipe=recipe,
        revision=revision,
        number=(newest or 0) + 1,
        published_at=at,
        published_by=by,
        note=note,
        facts=facts,
        headlines=record.write(page.headlines),
        plate=plate_of(page),
        digest=digest,
    )
    note_pictures(edition)
    return edition


def shelve(recipe: Recipe, edition: Edition, page: Page, *, at: datetime) -> None:
    """Make an edition the current one, and let the library find it by words and by figures."""
    recipe.current_edition = edition
    recipe.withdrawn_at = None
    recipe.shelf_title = fold(page.recipe.title)[:130]
    recipe.updated_at = at
    recipe.save(update_fields=["current_edition", "withdrawn_at", "shelf_title", "updated_at"])
    _mark(recipe, page)
    recipe.shelf_words.all().delete()
    ShelfWord.objects.bulk_create(ShelfWord(recipe=recipe, word=word) for word in _words_to_find(page.recipe))
    recipe.figures.all().delete()
    Figure.objects.bulk_create(
        Figure(recipe=recipe, name=name, value=round_half_up(value, _FIGURE_PLACES))
        for name, value in page.figures.items()
        if value.is_finite() and abs(value) < _LARGEST_FIGURE
    )


def _mark(recipe: Recipe, page: Page) -> None:
    """Say under what a recipe stands on the shelf, by today's rules."""
    tags = {("tag", tag) for tag in page.recipe.tags}
    marks = tags | set(page.marks.items()) | {("allergen", key) for key in shelf_allergens(page.allergens)}
    recipe.shelf_marks.all().delete()
    ShelfMark.objects.bulk_create(ShelfMark(recipe=recipe, kind=kind, value=value[:60]) for kind, value in sorted(marks))
    Recipe.objects.filter(pk=recipe.pk).update(shelved_by=SHELF_RULES)


@transaction.atomic
def shelve_by_new_rules() -> int:
    """Give every recipe that readers see the plate and the marks of today's rules; return how many had others.

    What was published stays as it is: figures, words and facts.
    """
    behind = Recipe.objects.filter(current_edition__isnull=False, shelved_by__lt=SHELF_RULES).select_related("current_edition")
    shelved = 0
    for recipe in behind.iterator(chunk_size=100):
        edition = recipe.current_edition
        if edition is None:
            continue
        page = page_as_written(recipe.slug, read_facts(edition.facts))
        Edition.objects.filter(pk=edition.pk).update(plate=plate_of(page) | edition.plate)
        _mark(recipe, page)
        shelved += 1
    return shelved


def plate_of(page: Page) -> dict[str, Any]:
    """Return what the library's plate shows beside the figures, as an edition keeps it."""
    more = {"standing": page.standing, "badge": page.badge, "band": page.band, "steams": page.steams}
    plate: dict[str, Any] = record.write(record.taken(Plate, page.recipe, **more))
    return plate


def _words_to_find(recipe: RecipeFacts) -> list[str]:
    lines = [line.name or line.text for part in recipe.parts for line in part.lines]
    return shelf_words([recipe.title, recipe.summary, *recipe.tags, *lines])
