"""A draft: everything that the recipe editor writes, checked and ready to be saved."""

from __future__ import annotations

from dataclasses import dataclass, fields
from decimal import Decimal

from kitchen.domain.facts import RecipeWords


@dataclass(frozen=True)
class DraftPart:
    """A titled group of ingredient lines, each as typed."""

    title: str = ""
    lines: tuple[str, ...] = ()


@dataclass(frozen=True)
class DraftStep:
    """One step of the method.

    ``stage`` is a key of ``STAGE_KINDS`` or empty, ``photo`` the number of one of the recipe's photos.
    """

    text: str
    stage: str = ""
    minutes: Decimal | None = None
    temp_c: Decimal | None = None
    photo: int | None = None


RECIPE_WORDS = ("title", "summary", *(word.name for word in fields(RecipeWords)))


@dataclass(frozen=True)
class DraftContent(RecipeWords):
    """The recipe's own words (``RECIPE_WORDS``), and what belongs to the revision (the rest).

    ``note`` says why this revision differs from the one before.
    """

    title: str
    servings: int
    summary: str = ""
    serving_g: float | None = None
    note: str = ""
    parts: tuple[DraftPart, ...] = ()
    steps: tuple[DraftStep, ...] = ()
