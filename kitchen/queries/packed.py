"""What an archive says of the kitchen's rows: each kind as the document of ``kitchen.domain.archive``."""

from __future__ import annotations

from dataclasses import fields
from typing import Any, TypeVar

from django.db.models import Prefetch, Q

from kitchen.domain import record
from kitchen.domain.archive import (
    PHOTO_NAME,
    EditionDocument,
    FoodDocument,
    FoodLink,
    LineDocument,
    PartDocument,
    PhotoDocument,
    RecipeDocument,
    RevisionDocument,
    SideDocument,
    SiteDocument,
    StepDocument,
    words_in,
)
from kitchen.domain.facts import AmountFacts, WeightFacts
from kitchen.models import Edition, Food, Line, Pairing, Part, Photo, Recipe, Revision, Step
from kitchen.queries.site import the_site

T = TypeVar("T")


def document_of(shape: type[T], row: Any, **given: Any) -> T:
    """Return a row as a document: what is not given is the row’s own of that name."""
    own = {field.name: getattr(row, field.name) for field in fields(shape) if field.name not in {"schema", *given}}  # type: ignore[arg-type]
    return shape(**own, **given)


def site_document() -> SiteDocument:
    """Return the kitchen's own words; its address on the network is the place's and stays there."""
    return document_of(SiteDocument, the_site())


def food_documents() -> list[FoodDocument]:
    """Return the foods that cooks added or changed; what the reference table says of the others is everywhere the same."""
    kept = Food.objects.filter(Q(kept_by_cook=True) | Q(sr_number__isnull=True)).order_by("name")
    return [food_document(food) for food in kept]


def food_document(food: Food) -> FoodDocument:
    """Return one food."""
    return document_of(
        FoodDocument,
        food,
        aliases=tuple(food.aliases),
        weights=tuple(record.read(WeightFacts, weight) for weight in food.weights),
        allergens=tuple(food.allergens),
    )


def food_link(food: Food | None) -> FoodLink | None:
    """Return by what a food is found again on another site."""
    return None if food is None else FoodLink(food.name, food.sr_number)


def packed_recipes() -> list[int]:
    """Return the numbers of all recipes, the first written first."""
    return list(Recipe.objects.order_by("created_at", "pk").values_list("pk", flat=True))


def recipe_with_all(number: int) -> Recipe | None:
    """Return a recipe with everything that its document says, in a constant number of queries; None if it is gone."""
    lines = Prefetch("lines", queryset=Line.objects.select_related("food"))
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
    return document_of(
        RecipeDocument,
        recipe,
        uid=str(recipe.uid),
        owner=name_of(recipe.owner),
        tags=tuple(recipe.tags),
        allergens={key: tuple(value) for key, value in recipe.allergens.items()},
        past_slugs=tuple(sorted(past.slug for past in recipe.past_slugs.all())),
        current=None if recipe.current_edition is None else recipe.current_edition.number,
        photos=tuple(photo_document(photo) for photo in recipe.photos.all()),
        sides=tuple(SideDocument(str(pair.side.uid), pair.side.title, pair.portions) for pair in recipe.sides.all()),
        revisions=tuple(revision_document(revision) for revision in recipe.revisions.all()),
        editions=tuple(_edition(edition) for edition in recipe.editions.all()),
    )


def photo_document(photo: Photo) -> PhotoDocument:
    """Return one photo."""
    return document_of(PhotoDocument, photo, crops={name: tuple(size) for name, size in sorted(photo.crops.items())})


def revision_document(revision: Revision) -> RevisionDocument:
    """Return one revision with its parts, lines and steps."""
    return document_of(
        RevisionDocument,
        revision,
        created_by=name_of(revision.created_by),
        parts=tuple(PartDocument(part.title, tuple(_line(line) for line in part.lines.all())) for part in revision.parts.all()),
        steps=tuple(_step(step) for step in revision.steps.all()),
    )


def _line(line: Line) -> LineDocument:
    also = tuple(record.read(AmountFacts, other) for other in line.also)
    return document_of(LineDocument, line, also=also, food=food_link(line.food))


def _step(step: Step) -> StepDocument:
    return document_of(StepDocument, step, photo=None if step.photo is None else step.photo.digest)


def _edition(edition: Edition) -> EditionDocument:
    return document_of(
        EditionDocument,
        edition,
        revision=edition.revision.number,
        headlines=tuple(edition.headlines),
        published_by=name_of(edition.published_by),
    )


def name_of(person: Any) -> str:
    """Return a person as a name, which is all that an archive says of anybody."""
    return "" if person is None else person.get_full_name() or person.get_username()


def photo_files(document: RecipeDocument) -> list[str]:
    """Return the names of the files that a recipe's photos and editions mention."""
    said = {name for photo in document.photos for name in (photo.wide, photo.small, *(photo.crops or ()))}
    for edition in document.editions:
        said |= words_in(edition.facts) | words_in(edition.plate)
    return sorted(name for name in said if PHOTO_NAME.match(name))
