"""Unpacking what was published: editions as they are frozen, each shown once before it is kept, and the shelf they stand on."""

from __future__ import annotations

from typing import Any

from kitchen.archivists import Desk
from kitchen.cards import CardRequest, Facts, Headline
from kitchen.domain import record
from kitchen.domain.archive import EditionDocument, RecipeDocument, readdressed
from kitchen.domain.facts import Plate
from kitchen.models import Edition, Recipe
from kitchen.operations.photos import note_pictures
from kitchen.operations.publishing import digest_of, page_as_written, plate_of, shelve
from kitchen.operations.unpacked_rows import person_of, refused, row_from
from kitchen.page import Page, present_page, read_facts

_WEB = ("http://", "https://")


def add_editions(recipe: Recipe, document: RecipeDocument, addresses: dict[str, str], desk: Desk) -> None:
    """Add the editions that are new here; the newest one that readers saw elsewhere is shown here, too, if none newer is."""
    here = set(recipe.editions.values_list("number", flat=True))
    revisions = {revision.number: revision for revision in recipe.revisions.all()}
    newest = 0 if recipe.current_edition is None else recipe.current_edition.number
    for packed in sorted(document.editions, key=lambda edition: edition.number):
        if packed.number in here:
            desk.account.same["editions"] += 1
            continue
        place = f"recipes/{document.uid}.json, edition {packed.number}"
        if packed.revision not in revisions:
            raise refused(place, f"it shows revision {packed.revision}, which is not there")
        facts = _sound_facts(packed, addresses, place)
        page = _shown(recipe, facts, place)
        edition = row_from(
            Edition,
            packed,
            place=place,
            recipe=recipe,
            revision=revisions[packed.revision],
            facts=facts,
            digest=digest_of(facts),
            plate=plate_of(page) | (packed.plate or {}),
            published_by=person_of(packed.published_by, desk),
        )
        _refuse_strange_shelf(edition, place)
        edition.save()
        note_pictures(edition)
        desk.account.added["editions"] += 1
        if packed.number == document.current and packed.number > newest and recipe.withdrawn_at is None:
            shelve(recipe, edition, page, at=desk.at)


def _sound_facts(packed: EditionDocument, addresses: dict[str, str], place: str) -> Facts:
    if digest_of(packed.facts) != packed.digest:
        raise refused(place, "its facts do not fit their digest")
    facts: Facts = readdressed(packed.facts, addresses)
    return facts


def _shown(recipe: Recipe, facts: Facts, place: str) -> Page:
    """Return the page that the facts make; what cannot be shown once is not kept, or a page would fail for every reader.

    It is shown as written, and for twice the servings with the cards that are the owner's alone.
    """
    if not isinstance(facts.get("cards"), dict) or not isinstance(facts.get("recipe"), dict):
        raise refused(place, "its facts lack a recipe or cards")
    try:
        read = read_facts(facts)
        page, servings = page_as_written(recipe.slug, read), read.recipe.servings
        present_page(read, CardRequest(2 * servings, servings, audience="owner"))
    except record.UnreadableRecord as error:
        raise refused(place, str(error)) from None
    except Exception as error:
        raise refused(place, f"its facts cannot be shown ({type(error).__name__})") from error
    if page.recipe.home_url and not page.recipe.home_url.startswith(_WEB):
        raise refused(place, "its web address is none")
    return page


def _refuse_strange_shelf(edition: Edition, place: str) -> None:
    try:
        record.read(Plate, edition.plate)
        for headline in edition.headlines:
            record.read(Headline, headline)
    except record.UnreadableRecord as error:
        raise refused(place, str(error)) from None


def settle(recipe: Recipe, document: RecipeDocument, *, new: bool) -> None:
    """Give a new recipe the moments that it had elsewhere; what the operations before wrote was the moment of unpacking."""
    if new:
        Recipe.objects.filter(pk=recipe.pk).update(withdrawn_at=document.withdrawn_at, updated_at=document.updated_at)


def head_differs(recipe: Recipe, document: RecipeDocument) -> bool:
    """Whether the recipe's title, summary, tags, drawing, allergens or own cautions here are not those of the archive."""
    held: dict[str, Any] = {key: list(value) for key, value in (document.allergens or {}).items()}
    said = (document.title, document.summary, list(document.tags), document.drawing, held, document.own_cautions)
    return said != (recipe.title, recipe.summary, recipe.tags, recipe.drawing, recipe.allergens, recipe.own_cautions)
