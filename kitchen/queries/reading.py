"""How lines read: what the bench shows beside the cook's own words, whether they are saved already or not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain import record
from kitchen.domain.amounts import format_range
from kitchen.domain.draft import DraftPart
from kitchen.domain.facts import FoodFacts, LineFacts
from kitchen.domain.foods import line_grams
from kitchen.domain.matching import FoodIndex, how_sure, same_name
from kitchen.domain.reading import LineReading, read_line
from kitchen.domain.units import find_unit, label_of
from kitchen.models import Edition, Food, Line, Revision
from kitchen.queries.bench import known_foods
from kitchen.queries.foods import is_bare
from kitchen.queries.site import the_site
from kitchen.words import ENGLISH, sentence

READ_FIELDS = (
    "low",
    "high",
    "unit",
    "name",
    "note",
    "size",
    "rule",
    "optional",
    "to_taste",
    "food",
    "sure",
    "evaporated_ml",
)

MOST_OFFERS = 3
_WORTH_OFFERING = 0.15


@dataclass(frozen=True)
class Offer:
    """A food that a line may mean instead of the one it is linked to."""

    number: int
    name: str


@dataclass(frozen=True)
class ReadRow:
    """One line beside how it was read; ``number`` is the saved line's, None while the line is not saved.

    ``sure`` says how the food was found (``sure``, ``likely``, ``guess``; empty where the cook chose); ``offers`` are other foods
    that it may be, where that is less than sure; ``remember`` is ``offer`` where the words could be kept as another name of the
    food that the cook chose, and ``kept`` where they were; ``bare`` where the chosen food is the cook's own and has a name only;
    ``lacks`` is the unit of which the food lacks the weight, so that the line has none ("each" for whole things); ``made`` names
    the recipe that the line is made by.
    """

    number: int | None
    text: str
    amount: str
    unit: str
    name: str
    food: str
    note: str
    rule: str
    corrected: bool
    sure: str = ""
    food_number: int | None = None
    offers: tuple[Offer, ...] = ()
    remember: str = ""
    bare: bool = False
    lacks: str = ""
    made: str = ""


@dataclass(frozen=True)
class ReadPart:
    """One part of the ingredients as read."""

    title: str
    rows: tuple[ReadRow, ...]


def take_reading(line: Line, reading: LineReading) -> Line:
    """Put a reading onto a line (not saved yet) and return the line."""
    for name in READ_FIELDS:
        setattr(line, name, getattr(reading, name))
    line.also = record.write(reading.also)
    return line


def rows_of(revision: Revision) -> list[ReadPart]:
    """Return how a revision's saved lines read (its rows fetched along, as ``newest_revision`` does). At most one query."""
    parts = [(part.title, list(part.lines.all())) for part in revision.parts.all()]
    foods = known_foods() if any(_is_open(line) for _, lines in parts for line in lines) else None
    return [ReadPart(title, tuple(row_of(line, foods) for line in lines)) for title, lines in parts]


def rows_as_typed(parts: Sequence[DraftPart]) -> list[ReadPart]:
    """Return how lines would read that are not saved yet. Two queries."""
    foods, home = known_foods(), the_site().measures
    return [ReadPart(part.title, tuple(row_of(line_as_read(text, foods, home), foods) for text in part.lines)) for part in parts]


def line_as_read(text: str, foods: FoodIndex[Food], home: str) -> Line:
    """Return a line (not saved) as its text reads."""
    return take_reading(Line(text=text), read_line(text, foods, home))


def row_of(line: Line, foods: FoodIndex[Food] | None = None) -> ReadRow:
    """Return one line as the bench shows it; the foods are needed for what else it may be, where that is in doubt."""
    flags = [words for words, holds in (("to taste", line.to_taste), ("optional", line.optional)) if holds]
    return ReadRow(
        number=line.pk,
        text=line.text,
        amount="" if line.low is None or line.high is None else format_range(line.low, line.high),
        unit=label_of(line.unit, line.high) if line.unit and line.high is not None else line.unit,
        name=line.name,
        food=line.food.name if line.food is not None else "",
        note=", ".join(filter(None, [line.size, line.note, *flags])),
        rule=line.get_rule_display(),
        corrected=line.corrected,
        sure=how_sure(line.sure) if line.food is not None else "",
        food_number=line.food_id,
        offers=_offers(line, foods) if foods is not None and _is_in_doubt(line) else (),
        remember=_remembering(line, foods) if line.corrected else "",
        made=_made_words(line.made_of, line.made_now) if line.made_of is not None else "",
        bare=line.corrected and line.food is not None and is_bare(line.food),
        lacks=_lacking(line),
    )


def _made_words(edition: Edition, now: bool) -> str:
    return sentence(ENGLISH, "made_now" if now else "made_before", title=edition.recipe.title, edition=edition.number)


def row_alone(line: Line) -> ReadRow:
    """Return one line as the bench shows it, with what else it may be. At most one query."""
    return row_of(line, known_foods() if _is_open(line) else None)


def _lacking(line: Line) -> str:
    """Return the unit of a saved line of which its food lacks the weight; empty where it does not, or none would help."""
    if line.pk is None or line.food is None or line.high is None or line.to_taste or line.made_of is not None:
        return ""
    facts = record.taken(LineFacts, line, food=record.taken(FoodFacts, line.food), made=None)
    if line_grams(facts) is not None or find_unit(line.unit or "each") is None:
        return ""
    return label_of(line.unit, Fraction(1)) if line.unit else "each"


def _is_open(line: Line) -> bool:
    return _is_in_doubt(line) or (line.corrected and line.food is not None)


def _is_in_doubt(line: Line) -> bool:
    """Whether the program found no food for the line, or is less than sure; what the cook chose is in no doubt."""
    if line.corrected or not line.name or line.made_of_id is not None:
        return False
    return line.food is None or how_sure(line.sure) not in ("", "sure")


def _offers(line: Line, foods: FoodIndex[Food]) -> tuple[Offer, ...]:
    found = foods.best(line.name, line.unit, line.note, most=MOST_OFFERS + 1)
    others = [food for food, sure in found if sure >= _WORTH_OFFERING and food.pk != line.food_id]
    return tuple(Offer(food.pk, food.name) for food in others[:MOST_OFFERS])


def _remembering(line: Line, foods: FoodIndex[Food] | None) -> str:
    """Say whether the line's words are another name of its food already, or could be; never a name that is a food's own."""
    if line.food is None or foods is None or not line.name or foods.named(line.name) is not None:
        return ""
    if any(same_name(line.name, alias) for alias in line.food.aliases):
        return "kept" if line.food.kept_by_cook else ""
    return "offer"
