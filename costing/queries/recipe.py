"""The prices of one recipe, as its cook sees them on the bench."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from costing.domain.facts import CostLine
from costing.queries.sheets import LedgerAsk, costed_lines, sheet_rules, today
from kitchen.domain.remark import Said
from kitchen.models import Recipe, Revision
from kitchen.queries import newest_revision, the_site


@dataclass(frozen=True)
class RecipeLine:
    """A line as typed beside what it costs."""

    text: str
    food_pk: int | None
    cost: CostLine

    @property
    def food_solves_it(self) -> bool:
        """Whether a weight on the food would make the line countable; else its words in the recipe have to say more."""
        return self.food_pk is not None and self.cost.low is not None


@dataclass(frozen=True)
class MissingPrice:
    """A food of the recipe that has no price that counts, and the lines that need it."""

    food_pk: int
    food: str
    lines: tuple[str, ...]
    reason: Said


@dataclass(frozen=True)
class RecipePrices:
    """A revision's lines with their costs on a day."""

    revision: Revision
    day: date
    currency: str
    lines: tuple[RecipeLine, ...]

    @property
    def missing(self) -> list[MissingPrice]:
        """The foods whose price is missing, each once, in the order of the recipe."""
        asked: dict[int, list[RecipeLine]] = {}
        for line in self.lines:
            if line.food_pk is not None and line.cost.kind == "no_price":
                asked.setdefault(line.food_pk, []).append(line)
        return [_missing(food_pk, own) for food_pk, own in asked.items()]

    @property
    def unsolved(self) -> list[RecipeLine]:
        """The lines that no price would help: without a food, without an amount, or not convertible."""
        return [line for line in self.lines if line.cost.kind == "unclear"]

    @property
    def priced(self) -> list[RecipeLine]:
        """The lines that have a cost."""
        return [line for line in self.lines if line.cost.kind == "priced"]


def recipe_prices(recipe: Recipe, *, at: datetime) -> RecipePrices:
    """Return the newest revision's lines with their costs on the day of a moment. Constant in lines."""
    revision, day, currency = newest_revision(recipe), today(at), the_site().currency
    costed = costed_lines([revision], LedgerAsk(day), currency=currency, rules=sheet_rules())[revision.pk]
    lines = [line for part in revision.parts.all() for line in part.lines.all()]
    return RecipePrices(
        revision,
        day,
        currency,
        tuple(RecipeLine(line.text, line.food_id, cost) for line, cost in zip(lines, costed, strict=True)),
    )


def _missing(food_pk: int, own: Sequence[RecipeLine]) -> MissingPrice:
    return MissingPrice(food_pk, own[0].cost.food, tuple(line.text for line in own), own[0].cost.reason)
