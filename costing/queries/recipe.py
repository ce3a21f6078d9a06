"""The cost sheet of one recipe, as its cook sees it on the bench."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from costing.domain.causes import Cause, causes
from costing.domain.facts import CostFacts, CostLine
from costing.queries.collecting import SheetAsk, cost_facts
from costing.queries.sheets import today
from kitchen.domain import record
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
    def mended_at(self) -> str:
        """Where its gap is mended: ``price``, ``yield``, ``item``, ``food`` or ``recipe``; empty where there is none."""
        if self.cost.kind not in ("no_price", "unclear"):
            return ""
        code = getattr(self.cost.reason, "code", "")
        if self.food_pk is None or self.cost.low is None:
            return "recipe"
        return {"needs_cooking_test": "yield", "needs_pieces": "item"}.get(
            code, "price" if self.cost.kind == "no_price" else "food"
        )


@dataclass(frozen=True)
class MissingPrice:
    """A food of the recipe that has no price that counts, and the lines that need it."""

    food_pk: int
    food: str
    lines: tuple[str, ...]
    reason: Said


@dataclass(frozen=True)
class RecipePrices:
    """A revision's lines with their costs on a day, and why they differ from the edition that readers see."""

    revision: Revision
    day: date
    currency: str
    lines: tuple[RecipeLine, ...]
    facts: CostFacts | None = None
    edition: int | None = None
    why: tuple[Cause, ...] = ()

    @property
    def missing(self) -> list[MissingPrice]:
        """The foods whose price is missing, each once, in the order of the recipe."""
        asked: dict[int, list[RecipeLine]] = {}
        for line in self.lines:
            if line.food_pk is not None and line.mended_at == "price":
                asked.setdefault(line.food_pk, []).append(line)
        return [_missing(food_pk, own) for food_pk, own in asked.items()]


def recipe_prices(recipe: Recipe, *, at: datetime, asked: SheetAsk | None = None) -> RecipePrices:
    """Return the newest revision's lines with their costs, today's or as asked. Constant in lines."""
    revision, currency = newest_revision(recipe), the_site().currency
    day = today(at) if asked is None or asked.day is None else asked.day
    facts = cost_facts(revision, at=at, asked=asked)
    if facts is None:
        return RecipePrices(revision, day, currency, ())
    typed = [line for part in revision.parts.all() for line in part.lines.all()]
    lines = tuple(RecipeLine(line.text, line.food_id, cost) for line, cost in zip(typed, facts.lines, strict=True))
    edition = recipe.current_edition
    kept = None if edition is None else edition.facts.get("cards", {}).get("cost")
    before = None if kept is None else record.read(CostFacts, kept)
    why = () if before is None or before.currency != facts.currency else causes(before, facts)
    return RecipePrices(revision, day, currency, lines, facts, None if edition is None else edition.number, why)


def _missing(food_pk: int, own: Sequence[RecipeLine]) -> MissingPrice:
    return MissingPrice(food_pk, own[0].cost.food, tuple(line.text for line in own), own[0].cost.reason)
