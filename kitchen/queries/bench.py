"""What the bench reads: a cook's recipes, a draft as the editor shows it, foods."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from django.contrib.auth.models import User
from django.db.models import Count, Exists, F, OuterRef, Prefetch, QuerySet, Subquery

from kitchen.domain.changes import what_changed
from kitchen.domain.draft import RECIPE_WORDS, DraftContent, DraftPart, DraftStep
from kitchen.domain.matching import FoodIndex
from kitchen.domain.remark import Remark, remark
from kitchen.domain.search import fold
from kitchen.models import Edition, Food, Line, Pairing, Part, Photo, Recipe, Revision, Step
from kitchen.queries.collecting import with_facts
from kitchen.queries.roles import helps


def recipes_on_bench(person: Any) -> QuerySet[Recipe]:
    """Return the recipes that this person may edit, the last changed first, with what the bench's list says of each. One query.

    ``newest_number`` and ``newest_servings`` tell of the newest revision, ``published_revision`` and ``edition_number`` of
    what the world sees; ``has_lines`` and ``has_steps`` whether the newest revision holds any.
    """
    newest = Revision.objects.filter(recipe=OuterRef("pk")).order_by("-number")
    mine = Recipe.objects.all() if person.is_superuser else Recipe.objects.filter(owner=person)
    return (
        mine.select_related("owner")
        .annotate(
            newest_pk=Subquery(newest.values("pk")[:1]),
            newest_number=Subquery(newest.values("number")[:1]),
            published_revision=F("current_edition__revision__number"),
            edition_number=F("current_edition__number"),
        )
        .annotate(
            has_lines=Exists(Line.objects.filter(part__revision=OuterRef("newest_pk"))),
            has_steps=Exists(Step.objects.filter(revision=OuterRef("newest_pk"))),
        )
        .order_by("-updated_at", "title")
    )


def recipes_to_record() -> QuerySet[Recipe]:
    """Return every recipe of the kitchen that is not withdrawn, by its title, for whoever only records cooks. One query."""
    return Recipe.objects.filter(withdrawn_at=None).only("slug", "title").order_by("title")


def newest_revision(recipe: Recipe) -> Revision:
    """Return the recipe's newest revision, with its parts, lines and steps fetched along."""
    return _with_rows(recipe.revisions.all()).order_by("-number")[0]


def revision_with_rows(number: int) -> Revision:
    """Return a revision by its primary key, as it stands in the tables now, with its rows."""
    return _with_rows(Revision.objects.all()).get(pk=number)


def _with_rows(revisions: QuerySet[Revision]) -> QuerySet[Revision]:
    lines = Prefetch("lines", queryset=Line.objects.select_related("food", "made_of__recipe"))
    parts = Prefetch("parts", queryset=Part.objects.prefetch_related(lines))
    steps = Prefetch("steps", queryset=Step.objects.select_related("photo"))
    return revisions.select_related("recipe__owner").prefetch_related(parts, steps)


def draft_of(revision: Revision) -> DraftContent:
    """Return a revision's rows as the editor's draft: what would be typed to write exactly this."""
    recipe = revision.recipe
    return DraftContent(
        **{**{name: getattr(recipe, name) for name in RECIPE_WORDS}, "tags": tuple(recipe.tags)},
        servings=revision.servings,
        serving_g=revision.serving_g,
        note=revision.note,
        parts=tuple(DraftPart(part.title, tuple(line.text for line in part.lines.all())) for part in revision.parts.all()),
        steps=tuple(DraftStep(step.text, step.stage, step.minutes, step.temp_c, step.photo_id) for step in revision.steps.all()),
    )


@dataclass(frozen=True)
class RevisionStory:
    """One revision in a recipe's history: what changed since the one before it, and the editions that show it."""

    revision: Revision
    changes: tuple[Remark, ...]
    editions: tuple[Edition, ...]


def revision_stories(recipe: Recipe) -> list[RevisionStory]:
    """Return the recipe's revisions, the newest first, each with what changed. Constant in rows."""
    editions = Prefetch("editions", queryset=Edition.objects.defer("facts", "headlines", "plate").order_by("number"))
    told = with_facts(recipe.revisions.select_related("created_by").prefetch_related(editions).order_by("-number"))
    changes = [
        *((*what_changed(old, new), *_answers_changed(before, after)) for (after, new), (before, old) in pairwise(told)),
        (),
    ]
    return [
        RevisionStory(revision, said, tuple(revision.editions.all())) for (revision, _), said in zip(told, changes, strict=True)
    ]


def _answers_changed(before: Revision, after: Revision) -> tuple[Remark, ...]:
    """Return that the cook's word to the cautions of a line that stayed is another one. No query after ``with_facts``."""
    old, new = ({line.text: line.answered for part in one.parts.all() for line in part.lines.all()} for one in (before, after))
    return (remark("cautions_answered"),) if any(old.get(text, said) != said for text, said in new.items()) else ()


def pairings_of(recipe: Recipe) -> QuerySet[Pairing]:
    """Return what is served with the recipe, by the side's title, each with its side. One query."""
    return recipe.sides.select_related("side").order_by("side__title")


def unpublished_sides(recipe: Recipe) -> QuerySet[Pairing]:
    """Return those of the recipe's sides that readers cannot see. One query."""
    return pairings_of(recipe).filter(side__current_edition=None)


def known_foods() -> FoodIndex[Food]:
    """Return every food by the words it goes by, for telling which food a line means. One query."""
    return FoodIndex(Food.objects.only("id", "name", "aliases", "aisle", "kept_by_cook"))


def foods_found(words: str) -> list[Food]:
    """Return the foods in whose names or aisle every word is found, with the number of lines that use each. One query.

    The words are compared here and not in the database, because other names are kept as JSON, where accents are escaped.
    They stand in the order of their folded names: a database may put capitals first.
    """
    wanted = fold(words).split()
    shown = Food.objects.annotate(line_count=Count("lines")).order_by("name")
    return sorted((food for food in shown if _is_meant(food, wanted)), key=lambda food: fold(food.name))


def _is_meant(food: Food, wanted: Sequence[str]) -> bool:
    said = fold(" ".join([food.name, food.aisle, *map(str, food.aliases)]))
    return all(word in said for word in wanted)


def food_named(name: str) -> Food | None:
    """Return the food of exactly this name, whatever its capitals; None for a name that no food has."""
    return Food.objects.filter(name__iexact=name.strip()).first()


def food_names() -> list[str]:
    """Return every food's name in order, for a list to choose from. One query."""
    return list(Food.objects.values_list("name", flat=True))


def aisles() -> list[str]:
    """Return the aisles that foods stand in. One query."""
    return list(Food.objects.exclude(aisle="").order_by("aisle").values_list("aisle", flat=True).distinct())


def sides_to_choose(recipe: Recipe, person: Any) -> QuerySet[Recipe]:
    """Return the recipes that could be served with this one: the person's own, without itself and those paired already."""
    mine = Recipe.objects.all() if person.is_superuser else Recipe.objects.filter(owner=person)
    return mine.exclude(pk=recipe.pk).exclude(served_with__main=recipe).order_by("title").only("id", "slug", "title")


def editions_to_make(recipe: Recipe, held: Edition | None) -> list[Edition]:
    """Return what a line of a recipe may be made by: the editions that readers see of others, and the one that it is made by."""
    shown = Edition.objects.filter(published_as__isnull=False, published_as__withdrawn_at__isnull=True).exclude(recipe=recipe)
    found = list(shown.select_related("recipe").defer("facts", "headlines", "plate").order_by("recipe__title"))
    return found if held is None or held in found else [held, *found]


def photos_of(recipe: Recipe) -> Sequence[Photo]:
    """Return the recipe's photos, the leading one first, each with the number of steps that show it. One query."""
    return list(recipe.photos.annotate(step_count=Count("steps")))


def cooks() -> QuerySet[User]:
    """Return everybody who has an account, with how many recipes each has written. One query."""
    return User.objects.annotate(recipe_count=Count("recipes"), helps=helps()).order_by("-is_active", "-is_superuser", "username")


def owner_exists() -> bool:
    """Whether somebody runs this site already."""
    return User.objects.filter(is_superuser=True).exists()
