"""The archive's documents: what a packed library looks like, field by field.

An archive is one ZIP file. Its members are::

    manifest.json                what is in it, and the digest of each member
    site.json                    the kitchen's own words
    foods.json                   foods that cooks added or changed
    recipes/<uid>.json           one recipe with its revisions and editions
    photos/<name>                the photos' files, as they stand in the photo folder
    apps/<app>.json              what another app keeps beside recipes (appliances, prices ...)
    apps/<app>/<uid>.json        what it keeps of one recipe (runs ...)

Values travel as ``kitchen.domain.record`` writes them: a fraction as ``"3/2"``, a decimal as a string, an instant as RFC 3339
with its offset, a day as ``"2026-10-14"``. No account, password, session or key is in any document; people are names.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from kitchen.domain.facts import FoodFacts, LineWords, PhotoFacts, StepWords

FORMAT = "wattfare library"
SCHEMA = 1
PHOTO_NAME = re.compile(r"[0-9a-f]{24}-[0-9a-z-]{4,32}\.(?:jpg|webp)\Z")

Document = dict[str, Any]


@dataclass(frozen=True)
class FileNote:
    """One member of the archive: its name, its bytes unpacked and their SHA-256 in hexadecimal."""

    name: str
    size: int
    sha256: str


@dataclass(frozen=True)
class Manifest:
    """What the archive is: its format and schema, when and by which version it was made, counts by kind, and its members.

    ``missing`` names photo files that a recipe mentions and that were not there any more when it was packed; ``left_out`` counts
    rows, by kind, that the kitchen keeps and an archive does not hold.
    """

    format: str
    made_at: datetime
    made_by: str
    counts: dict[str, int]
    files: tuple[FileNote, ...]
    missing: tuple[str, ...] = ()
    left_out: dict[str, int] = field(default_factory=dict)
    schema: int = SCHEMA


@dataclass(frozen=True)
class SiteDocument:
    """The kitchen's own words; an archive offers them and imposes them on no kitchen that has recipes."""

    name: str
    tagline: str = ""
    currency: str = "EUR"
    measures: str = "written"
    rounding: str = "school"
    altitude_m: int = 0
    comma: str = "thousands"
    licence: str = ""
    cite_as: str = ""


@dataclass(frozen=True)
class FoodLink:
    """Which food is meant: by the number of its row in the reference table where it has one, else by its name."""

    name: str
    sr_number: int | None = None


@dataclass(frozen=True)
class FoodDocument(FoodFacts):
    """A food that a cook added (``sr_number`` empty) or changed. Weights in g, composition per 100 g edible."""

    aliases: tuple[str, ...] = ()
    refuse_pct: float = 0
    refuse_words: str = ""
    water_g: float | None = None
    protein_g: float | None = None
    fat_g: float | None = None
    carbohydrate_g: float | None = None
    fibre_g: float | None = None
    ash_g: float | None = None
    energy_kcal: float | None = None
    sodium_mg: float | None = None
    sugars_g: float | None = None
    saturated_fat_g: float | None = None


@dataclass(frozen=True)
class FoodsDocument:
    """The foods that cooks added or changed, by name."""

    foods: tuple[FoodDocument, ...] = ()


@dataclass(frozen=True, kw_only=True)
class PhotoDocument(PhotoFacts):
    """A photo: as an edition knows it, the digest of what was sent, and when; whether it leads the recipe."""

    digest: str
    added_at: datetime
    leads: bool = False


@dataclass(frozen=True)
class LineDocument(LineWords):
    """An ingredient line, how ``sure`` its food is (0..1), and whether a cook corrected how it was read.

    ``answered`` is the cook's word to its cautions: ``{"state": "tinned", "reason": ""}``, empty where there is none.
    ``made_by`` is the recipe that it is made by.
    """

    food: FoodLink | None = None
    sure: float | None = None
    corrected: bool = False
    answered: dict[str, str] = field(default_factory=dict)
    made_by: MadeLink | None = None


@dataclass(frozen=True)
class MadeLink:
    """Which edition of which recipe makes a line: by the recipe's ``uid``; ``now``: in the same cook, and not before."""

    uid: str
    edition: int
    title: str
    now: bool = False


@dataclass(frozen=True)
class PartDocument:
    """A group of lines, in their order; the first usually without a title."""

    title: str = ""
    lines: tuple[LineDocument, ...] = ()


@dataclass(frozen=True)
class StepDocument(StepWords):
    """A step of the method; ``photo`` is the digest of one of the recipe's photos."""

    photo: str | None = None


@dataclass(frozen=True)
class RevisionDocument:
    """What was cooked: parts and steps in their order. ``locked_at`` is empty for a draft; ``created_by`` is a name."""

    number: int
    created_at: datetime
    servings: int
    serving_g: float | None = None
    note: str = ""
    copied_from: int | None = None
    locked_at: datetime | None = None
    created_by: str = ""
    parts: tuple[PartDocument, ...] = ()
    steps: tuple[StepDocument, ...] = ()


@dataclass(frozen=True)
class EditionDocument:
    """What was published of a revision: the facts as they are frozen, their digest, and the shelf's words and figures."""

    number: int
    revision: int
    published_at: datetime
    facts: dict[str, Any]
    digest: str
    headlines: tuple[Any, ...] = ()
    plate: dict[str, Any] | None = None
    note: str = ""
    published_by: str = ""


@dataclass(frozen=True)
class SideDocument:
    """A recipe that is served with this one; ``portions`` of it go with one serving."""

    uid: str
    title: str
    portions: Decimal = Decimal(1)


@dataclass(frozen=True)
class RecipeDocument:
    """One recipe, the same everywhere by its ``uid``; ``current`` is the number of the edition that readers see."""

    uid: str
    slug: str
    title: str
    created_at: datetime
    updated_at: datetime
    summary: str = ""
    owner: str = ""
    tags: tuple[str, ...] = ()
    drawing: str = "pot"
    home_url: str = ""
    allergens: dict[str, tuple[str, ...]] | None = None
    own_cautions: str = ""
    blog_url: str = ""
    film_url: str = ""
    film_on: date | None = None
    film_chapters: str = ""
    past_slugs: tuple[str, ...] = ()
    current: int | None = None
    withdrawn_at: datetime | None = None
    photos: tuple[PhotoDocument, ...] = ()
    sides: tuple[SideDocument, ...] = ()
    revisions: tuple[RevisionDocument, ...] = ()
    editions: tuple[EditionDocument, ...] = ()
    schema: int = SCHEMA


@dataclass(frozen=True)
class CollectionDocument:
    """A collection without its recipes, the same everywhere by its ``uid``; ``owner`` is a name."""

    uid: str
    slug: str
    title: str
    created_at: datetime
    updated_at: datetime
    summary: str = ""
    owner: str = ""
    published_at: datetime | None = None
    withdrawn_at: datetime | None = None


@dataclass(frozen=True)
class CollectionsDocument:
    """Every collection of a kitchen."""

    collections: tuple[CollectionDocument, ...] = ()
    schema: int = SCHEMA


@dataclass(frozen=True)
class PlaceDocument:
    """Where a recipe stands in the collection of this uid, and for how many; None: as it is written."""

    collection: str
    position: int
    servings: int | None = None


@dataclass(frozen=True)
class PlacesDocument:
    """Where one recipe stands in collections."""

    places: tuple[PlaceDocument, ...] = ()


def same_dish(one: RevisionDocument, other: RevisionDocument) -> bool:
    """Whether two revisions say the same to cook; links to foods, notes and who wrote them may differ.

    Examples
    --------
    >>> noon = datetime.fromisoformat("2026-10-14T12:00:00+00:00")
    >>> same_dish(RevisionDocument(1, noon, 4, note="a"), RevisionDocument(1, noon, 4, note="b"))
    True
    >>> same_dish(RevisionDocument(1, noon, 4), RevisionDocument(1, noon, 6))
    False
    """
    return _dish(one) == _dish(other)


def _dish(revision: RevisionDocument) -> tuple[object, ...]:
    lines = [
        (part.title, *((line.text, line.low, line.high, line.unit, line.rule, line.evaporated_ml) for line in part.lines))
        for part in revision.parts
    ]
    return (revision.servings, revision.serving_g, lines, revision.steps)


def readdressed(facts: Any, addresses: dict[str, str]) -> Any:
    """Return facts in which recipes are named by the addresses they have here, where those differ.

    Examples
    --------
    >>> readdressed({"recipe": {"slug": "stew", "title": "stew"}}, {"stew": "stew-2"})
    {'recipe': {'slug': 'stew-2', 'title': 'stew'}}
    """
    if not addresses:
        return facts
    if isinstance(facts, dict):
        return {
            key: addresses.get(value, value) if key == "slug" and isinstance(value, str) else readdressed(value, addresses)
            for key, value in facts.items()
        }
    return [readdressed(value, addresses) for value in facts] if isinstance(facts, list) else facts


def words_in(facts: Any) -> set[str]:
    """Return every word and every name of a value that facts hold (photos are named in them)."""
    if isinstance(facts, dict):
        return set(facts).union(*map(words_in, facts.values()))
    if isinstance(facts, list):
        return set().union(*map(words_in, facts))
    return {facts} if isinstance(facts, str) else set()
