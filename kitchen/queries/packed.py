"""What an archive says of the kitchen's rows: each kind as the document of ``kitchen.domain.archive``."""

from __future__ import annotations

from typing import Any

from django.db.models import Prefetch, Q

from kitchen.domain import record
from kitchen.domain.archive import (
    PHOTO_NAME,
    EditionDocument,
    FoodDocument,
    FoodLink,
    LineDocument,
    MadeLink,
    PartDocument,
    PhotoDocument,
    RecipeDocument,
    RevisionDocument,
    SideDocument,
    SiteDocument,
    StepDocument,
    words_in,
)
from kitchen.models import Edition, Food, Line, Pairing, Part, Photo, Recipe, Revision, Step
from kitchen.queries.site import the_site


def site_document() -> SiteDocument:
    """Return the kitchen's own words; its address on the network is the place's and stays there."""
    return record.taken(SiteDocument, the_site())


def food_documents() -> list[FoodDocument]:
    """Return the foods that cooks added or changed; what the reference table says of the others is everywhere the same."""
    kept = Food.objects.filter(Q(kept_by_cook=True) | Q(sr_number__isnull=True)).order_by("name")
    return [food_document(food) for food in kept]


def food_document(food: Food) -> FoodDocument:
    """Return one food."""
    return record.taken(FoodDocument, food)


def food_link(food: Food | None) -> FoodLink | None:
    """Return by what a food is found again on another site."""
    return None if food is None else FoodLink(food.name, food.sr_number)


def packed_recipes() -> list[int]:
    """Return the numbers of all recipes, the first written first."""
    return list(Recipe.objects.order_by("created_at", "pk").values_list("pk", flat=True))


def recipe_with_all(number: int) -> Recipe | None:
    """Return a recipe with everything that its document says, in a constant number of queries; None if it is gone."""
    lines = Prefetch("lines", queryset=Line.objects.select_related("food", "made_of__recipe"))
    parts = Prefetch("parts", queryset=Part.objects.prefetch_related(lines))
    steps = Prefetch("steps", queryset=Step.objects.select_related("photo"))
    revisions = Revision.objects.select_related("created_by").order_by("number").prefetch_related(parts, steps)
    editions = Edition.objects.select_related("revision", "published_by").order_by("number")
    found = Recipe.objects.filter(pk=number).select_related("owner", "current_edition")
    return found.prefetch_related(
        "past_slugs",
        Prefetch("photos", queryset=Photo.objects.order_by("-leads", "added_at", "digest")),
        Prefetch("revisions", queryset=revisions),
        Prefetch("editions", queryset=editions),
        Prefetch("sides", queryset=Pairing.objects.select_related("side").order_by("side__title", "pk")),
    ).first()


def recipe_document(recipe: Recipe) -> RecipeDocument:
    """Return a recipe that was fetched with ``recipe_with_all``."""
    return record.taken(
        RecipeDocument,
        recipe,
        owner=name_of(recipe.owner),
        past_slugs=tuple(sorted(past.slug for past in recipe.past_slugs.all())),
        current=None if recipe.current_edition is None else recipe.current_edition.number,
        photos=tuple(photo_document(photo) for photo in recipe.photos.all()),
        sides=tuple(SideDocument(str(pair.side.uid), pair.side.title, pair.portions) for pair in recipe.sides.all()),
        revisions=tuple(revision_document(revision) for revision in recipe.revisions.all()),
        editions=tuple(_edition(edition) for edition in recipe.editions.all()),
    )


def photo_document(photo: Photo) -> PhotoDocument:
    """Return one photo."""
    return record.taken(PhotoDocument, photo)


def revision_document(revision: Revision) -> RevisionDocument:
    """Return one revision with its parts, lines and steps."""
    return record.taken(
        RevisionDocument,
        revision,
        created_by=name_of(revision.created_by),
        parts=tuple(PartDocument(part.title, tuple(_line(line) for line in part.lines.all())) for part in revision.parts.all()),
        steps=tuple(_step(step) for step in revision.steps.all()),
    )


def _line(line: Line) -> LineDocument:
    made = line.made_of
    link = None if made is None else MadeLink(str(made.recipe.uid), made.number, made.recipe.title, line.made_now)
    return record.taken(LineDocument, line, food=food_link(line.food), made_by=link)


def _step(step: Step) -> StepDocument:
    return record.taken(StepDocument, step, photo=None if step.photo is None else step.photo.digest)


def _edition(edition: Edition) -> EditionDocument:
    return record.taken(
        EditionDocument,
        edition,
        revision=edition.revision.number,
        published_by=name_of(edition.published_by),
    )


def name_of(person: Any) -> str:
    """Return a person as a name, which is all that an archive says of anybody."""
    return "" if person is None else person.get_full_name() or person.get_username()


def photo_files(document: RecipeDocument) -> list[str]:
    """Return the names of the files that a recipe's photos and editions mention."""
    said = {name for photo in document.photos for name in (photo.wide, photo.small, *photo.crops)}
    for edition in document.editions:
        said |= words_in(edition.facts) | words_in(edition.plate)
    return sorted(name for name in said if PHOTO_NAME.match(name))
