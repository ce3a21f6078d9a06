"""The card of safety: no plate, only the cautions of foods, cooker, source and circumstances, measured or not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from energy.cards.cautions import shown_cautions
from energy.cautions.classes import classes_of
from energy.cautions.entries import list_number, method_words
from energy.cautions.ranking import (
    CalledFor,
    ClassedLine,
    Situation,
    choose_beside,
    food_keys,
    limit_words,
    topics_of_appliance,
    topics_of_sources,
)
from energy.estimates.domain.meal import MealEnergy
from kitchen.cards import Card, CardRequest, Caution, Facts
from kitchen.domain import record
from kitchen.domain.answers import answer_words
from kitchen.domain.facts import LineFacts, RecipeFacts
from kitchen.domain.made import with_made
from kitchen.models import Line, Revision
from kitchen.queries import line_facts, lines_of

SCHEMA = 2
GROUP_SERVINGS = 10
"""From how many servings on food waits, in amounts that cool slowly; common practice."""
HIGH_M = 914.0
"""3,000 ft, from where FSIS and foodsafety.gov call it high. [m]"""


@dataclass(frozen=True)
class FoodClasses:
    """A line's words and the classes of its foods, as they were when it was published.

    ``place`` is the line's among all of the recipe, from 0; ``answered`` the cook's word to its cautions.
    """

    line: str
    classes: tuple[str, ...] = ()
    place: int = 0
    answered: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class SafetyFacts:
    """The number of the list of cautions, the keys of those that the foods called for, and the classes by line.

    Schema 1 had the keys alone, of list 1.
    """

    cautions: tuple[str, ...] = ()
    foods: tuple[FoodClasses, ...] = ()
    list: int = 1
    schema: int = SCHEMA


@dataclass(frozen=True)
class Seen:
    """What was published, and what this program sees in the same recipe."""

    published: SafetyFacts
    lines: tuple[ClassedLine, ...]
    methods: frozenset[str]
    kept_warm: bool


@dataclass(frozen=True)
class Prepared:
    """The cautions of one meal, and the situation that decided."""

    chosen: tuple[CalledFor, ...]
    situation: Situation


class SafetyCard(Card):
    """The card with the slug ``safety``; an edition keeps keys and classes, never sentences."""

    slug = "safety"
    title = "Safety"
    order = 90

    def collect(self, revision: Revision, *, at: datetime) -> Facts | None:
        """Return the keys of the cautions that the foods call for, and their classes. One query."""
        rows = lines_of(revision.pk)
        foods = tuple(
            FoodClasses(line.name or line.text, tuple(sorted(classes)), place, line.answered)
            for place, line in enumerate(rows)
            if (classes := _classes(line))
        )
        called = [ClassedLine(food.line, frozenset(food.classes)) for food in foods]
        called += [ClassedLine(one.text, _classes(one)) for row in rows if row.made_of for one in _behind(line_facts(row))]
        keys = food_keys(called)
        facts: Facts = record.write(SafetyFacts(keys, foods, list_number()))
        return facts

    def read(self, facts: Facts) -> SafetyFacts:
        """Return what was published."""
        return record.read(SafetyFacts, facts)

    def seen(self, held: SafetyFacts | None, recipe: RecipeFacts) -> Seen:
        """Return what was published with what this program sees now; also for editions from before there were cautions."""
        published = held or SafetyFacts()
        answers = {food.place: answer_words(food.answered) for food in published.foods}
        own = [line for part in recipe.parts for line in part.lines]
        told = [(line.name or line.text, _classes(line), answers.get(place, "")) for place, line in enumerate(own)]
        told += [(f"{one.name or one.text} ({line.name})", _classes(one), "") for line in own for one in _behind(line)]
        lines = tuple(ClassedLine(words, classes, answer) for words, classes, answer in told if classes)
        steps = " ".join(step.text.lower() for step in recipe.steps)
        methods = frozenset(topic for topic, words in method_words().items() if any(word in steps for word in words))
        kept_warm = any(step.stage == "keep_warm" for step in recipe.steps)
        return Seen(published, lines, methods, kept_warm)

    def prepare(self, held: Seen, request: CardRequest) -> Prepared:
        """Return the cautions for what was asked for."""
        situation = _situation(held, request)
        published = held.published
        return Prepared(choose_beside(situation, number=published.list, keys=published.cautions), situation)

    def present(self, prepared: Prepared, request: CardRequest) -> dict[str, Any] | None:
        """Show no plate."""
        return None

    def cautions(self, prepared: Prepared, request: CardRequest) -> Sequence[Caution]:
        """Return the sentences, the worst harm first."""
        return shown_cautions(prepared.chosen, prepared.situation)


def _behind(line: LineFacts) -> Iterator[LineFacts]:
    """Yield the lines of the recipes that a line is made by, however deep."""
    return (one for one in with_made([line]) if one is not line)


def _classes(line: Line | LineFacts) -> frozenset[str]:
    food = line.food
    return classes_of(line.text, food.name, food.aisle) if food is not None else classes_of(line.text)


def _situation(held: Seen, request: CardRequest) -> Situation:
    """Return what decides; where nobody measured, the steps say on what it is cooked."""
    meal: MealEnergy | None = request.prepared.get("energy")
    around = _around(held, request, meal)
    own = {"battery_station"} if request.kit.get("battery_wh") else set()
    readers = topics_of_appliance(str(request.kit.get("cooker") or ""))
    if meal is None:
        return Situation(held.lines, held.methods | readers, topics_of_sources(own), around=around)
    facts = meal.facts
    others = topics_of_sources(other.kind for other in facts.other_sources)
    situation = Situation(held.lines, topics_of_appliance(facts.appliance.kind) | readers, around=around, other_sources=others)
    return replace(
        situation,
        sources=topics_of_sources({facts.source.kind, *own}),
        fill=limit_words(facts.appliance.fill_limit_pct),
        foam=limit_words(facts.appliance.foam_fill_limit_pct),
    )


def _around(held: Seen, request: CardRequest, meal: MealEnergy | None) -> frozenset[str]:
    heat = None if meal is None else meal.facts.heat
    air_c = request.kit.get("ambient_c")
    air_c = heat.ambient_c if air_c is None and heat is not None and heat.usable else air_c
    height_m = request.kit.get("altitude_m")
    height_m = heat.altitude_m if height_m is None and heat is not None and heat.usable else height_m
    holds = {
        "frost": air_c is not None and float(air_c) <= 0,
        "high": height_m is not None and float(height_m) >= HIGH_M,
        "group": request.servings >= GROUP_SERVINGS or request.batches > 1,
        "keep_warm": held.kept_warm,
    }
    return frozenset(name for name, there in holds.items() if there)
