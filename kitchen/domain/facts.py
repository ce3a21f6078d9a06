"""What an edition knows about a recipe itself: the facts that pages, paper and feeds are made from."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Any

from kitchen.domain.band import Band
from kitchen.domain.remark import Said


@dataclass(frozen=True)
class WeightFacts:
    """One more household weight of a food: "1 cup, chopped, 160 g". ``unit`` is a key of ``UNITS``, empty for a whole one."""

    unit: str
    g: float
    words: str = ""


@dataclass(frozen=True)
class FoodFacts:
    """The few properties of a food that scaling and conversion need."""

    name: str
    aisle: str = ""
    sr_number: int | None = None
    g_per_ml: float | None = None
    g_per_each: float | None = None
    each_name: str = ""
    allergens: tuple[str, ...] = ()
    weights: tuple[WeightFacts, ...] = ()


@dataclass(frozen=True)
class AmountFacts:
    """An exact amount with a low and a high end; the same number twice when it is not a range."""

    low: Fraction
    high: Fraction
    unit: str = ""


@dataclass(frozen=True)
class LineWords:
    """One ingredient line: as typed, and as read. By what it names its ``food`` depends on where it goes."""

    text: str
    low: Fraction | None = None
    high: Fraction | None = None
    unit: str = ""
    name: str = ""
    note: str = ""
    size: str = ""
    also: tuple[AmountFacts, ...] = ()
    rule: str = "proportional"
    optional: bool = False
    to_taste: bool = False
    food: Any = None
    evaporated_ml: float | None = None


@dataclass(frozen=True)
class LineFacts(LineWords):
    """A line with what scaling and conversion need of its food, or with the recipe that it is made by."""

    food: FoodFacts | None = None
    made: MadeFacts | None = None


@dataclass(frozen=True)
class MadeFacts:
    """The edition of another recipe that a line is made by: stock, a spice mix, dough.

    ``now``: made in the same cook, and not before. ``share`` is how much the line takes of all that the edition makes, None where
    its weight or the line's measure does not tell. ``lines`` are the edition's own, for its ``servings``.
    """

    slug: str
    title: str
    edition: int
    servings: int
    now: bool = False
    share: Fraction | None = None
    lines: tuple[LineFacts, ...] = ()
    allergens_added: tuple[str, ...] = ()
    allergens_removed: tuple[str, ...] = ()
    nutrition: NutritionFacts | None = None
    own_cautions: str = ""


@dataclass(frozen=True)
class PartFacts:
    """A titled group of lines ("To finish"); the first part usually has no title."""

    title: str
    lines: tuple[LineFacts, ...] = ()


@dataclass(frozen=True)
class PhotoFacts:
    """A published photo: names of its derivative files below the photo folder, its words and its focal point (0..1).

    ``crops`` holds further files by name, each with its width and height; empty for a photo from before there were any.
    """

    wide: str
    small: str
    alt: str
    width_px: int
    height_px: int
    focal_x: float = 0.5
    focal_y: float = 0.5
    crops: dict[str, tuple[int, ...]] = field(default_factory=dict)


@dataclass(frozen=True)
class StepWords:
    """One step of the method. ``stage`` is a key of ``STAGE_KINDS`` or empty."""

    text: str
    stage: str = ""
    minutes: Decimal | None = None
    temp_c: Decimal | None = None
    photo: Any = None


@dataclass(frozen=True)
class StepFacts(StepWords):
    """A step with its photo."""

    photo: PhotoFacts | None = None


@dataclass(frozen=True)
class Plate:
    """What the library's plate shows of an edition beside its figures; ``steams`` whether what is drawn comes hot to the table.

    Plates from before there was a band have none.
    """

    title: str
    summary: str
    drawing: str
    photo: PhotoFacts | None
    standing: str
    badge: str
    band: Band | None = None
    steams: bool = True


@dataclass(frozen=True)
class NutritionFacts:
    """What one serving holds, estimated from reference foods at the written servings.

    ``carbohydrate_g`` is without fibre. ``counted`` is how many lines are in it; ``missing`` names lines with mass that are not,
    so that every figure is "at least"; ``left_out`` names what was left out on purpose, and why; ``at_least`` names further
    fields that are too low. All that is named is a sentence in facts of schema 1.
    """

    energy_kcal: float
    protein_g: float
    fat_g: float
    carbohydrate_g: float
    fibre_g: float
    salt_g: float
    saturated_fat_g: float | None = None
    sugars_g: float | None = None
    missing: tuple[Said, ...] = ()
    counted: int = 0
    left_out: tuple[Said, ...] = ()
    at_least: tuple[str, ...] = ()
    remarks: tuple[Said, ...] = ()


@dataclass(frozen=True)
class SideFacts:
    """A recipe that is served with this one; ``portions`` of it go with one serving."""

    slug: str
    title: str
    portions: Decimal = Decimal(1)


@dataclass(frozen=True, kw_only=True)
class RecipeWords:
    """What a cook says of a recipe beside its title and summary."""

    tags: tuple[str, ...] = ()
    drawing: str = "pot"
    home_url: str = ""


@dataclass(frozen=True)
class RecipeFacts:
    """Everything about the recipe at the moment the facts were collected, its words in the order that editions keep.

    ``allergens`` are the keys of what is in it for sure, ``allergens_unknown`` the lines of which nothing is known, the added and
    the removed ones the cook's own word. ``extra`` holds the cook's ``own_cautions``, one a line.
    ``allergens_told`` is false in editions from before they were worked out.
    """

    slug: str
    title: str
    summary: str
    servings: int
    revision: int
    drawing: str = "pot"
    author: str = ""
    home_url: str = ""
    tags: tuple[str, ...] = ()
    parts: tuple[PartFacts, ...] = ()
    steps: tuple[StepFacts, ...] = ()
    sides: tuple[SideFacts, ...] = ()
    photo: PhotoFacts | None = None
    serving_g: float | None = None
    allergens: tuple[str, ...] = ()
    allergens_unknown: tuple[str, ...] = ()
    allergens_added: tuple[str, ...] = ()
    allergens_removed: tuple[str, ...] = ()
    allergens_told: bool = False
    nutrition: NutritionFacts | None = None
    extra: dict[str, str] = field(default_factory=dict)
    schema: int = 2
