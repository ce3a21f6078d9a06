"""The cost sheet of one recipe, as its cook sees it on the bench."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal

from costing.domain.causes import Cause, by_rule, causes
from costing.domain.electricity import UNCOOKED, Electricity
from costing.domain.facts import CostFacts, CostLine
from costing.domain.sheet import ServingCost, Sheet, make_sheet, serving_cost
from costing.domain.wall import electricity_for
from costing.models import SheetRules
from costing.queries.collecting import SheetAsk, cost_facts
from costing.queries.sheets import end_of_day, sheet_rules, today
from energy.cards.collecting import energy_facts
from energy.estimates.domain.meal import meal_energy
from energy.facts import EnergyFacts
from energy.words import ENGLISH, words_of
from kitchen.domain import record
from kitchen.domain.remark import Said
from kitchen.models import Edition, Recipe, Revision
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
class Moved:
    """What a serving cost in an edition and costs now, and why; ``replayed``: the ledger comes to the edition's sum, too."""

    edition: int
    then: ServingCost
    now: ServingCost
    why: tuple[Cause, ...]
    replayed: bool


@dataclass(frozen=True)
class RecipePrices:
    """A revision's lines with their costs on a day, its electricity, and why a serving differs from that of the edition."""

    revision: Revision
    day: date
    currency: str
    lines: tuple[RecipeLine, ...]
    facts: CostFacts | None = None
    electricity: Electricity = field(default_factory=Electricity)
    moved: Moved | None = None
    energy: EnergyFacts | None = None

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
    revision, currency, asked = newest_revision(recipe), the_site().currency, asked or SheetAsk()
    day = asked.day or today(at)
    facts = cost_facts(revision, at=at, asked=asked)
    if facts is None:
        return RecipePrices(revision, day, currency, ())
    moment = at if asked.day is None else end_of_day(asked.day)
    energy = energy_facts(revision, at=moment, known_at=asked.known_at)
    now = _Now(facts, energy, electricity_of(facts, energy), asked.rules or sheet_rules())
    typed = [line for part in revision.parts.all() for line in part.lines.all()]
    lines = tuple(RecipeLine(line.text, line.food_id, cost) for line, cost in zip(typed, facts.lines, strict=True))
    return RecipePrices(revision, day, currency, lines, facts, now.electricity, _moved(recipe.current_edition, now), energy)


def sheet_for(held: RecipePrices, servings: int) -> Sheet:
    """Return the sheet of some servings, without a reader's kit; only where there are facts."""
    facts = held.facts
    assert facts is not None
    own = servings == facts.servings
    return make_sheet(facts, servings, held.electricity if own else electricity_of(facts, held.energy, servings=servings))


@dataclass(frozen=True)
class _Now:
    """What a sheet is made of: cost and energy facts, the electricity of both, and the rules."""

    facts: CostFacts
    energy: EnergyFacts | None
    electricity: Electricity
    rules: SheetRules


def replay(edition: Edition, rules: SheetRules | None = None) -> CostFacts | None:
    """Return an edition's cost facts as the ledger tells them: of the day and as known at the moment when it was published.

    ``rules`` are others than those of that moment. Without sides; foods have their names of today.
    """
    moment = edition.published_at
    return cost_facts(edition.revision, at=moment, asked=SheetAsk(known_at=moment, rules=rules, alone=True))


def _moved(edition: Edition | None, held: _Now) -> Moved | None:
    """Return why a serving costs another sum than in an edition; what the ledger cannot tell is a cause of its own."""
    facts, cards = held.facts, {} if edition is None else edition.facts.get("cards", {})
    if edition is None or "cost" not in cards:
        return None
    before = record.read(CostFacts, cards["cost"])
    if before.currency != facts.currency:
        return None
    energy = record.read(EnergyFacts, cards["energy"]) if "energy" in cards else None
    same = (energy, before.servings, before.cooks) == (held.energy, facts.servings, facts.cooks)
    power = held.electricity if same else electricity_of(before, energy)
    then, now = serving_cost(before, power), serving_cost(facts, held.electricity)
    told = replay(edition)
    if told is None or told.currency != before.currency:
        return Moved(edition.number, then, now, causes(before, facts, (power, held.electricity)), replayed=False)
    unlike = Cause("program", "", serving_cost(told, UNCOOKED).amount - serving_cost(before, UNCOOKED).amount)
    ruled = told
    if (told.rule, told.rule_detail) != (facts.rule, facts.rule_detail):
        ruled = replay(edition, held.rules) or told
    why = (*by_rule(told, ruled), *causes(ruled, facts, (power, held.electricity)), unlike)
    return Moved(edition.number, then, now, tuple(cause for cause in why if cause.each), replayed=not unlike.each)


def electricity_of(
    facts: CostFacts, energy: EnergyFacts | None, *, servings: int | None = None, per_kwh: Decimal | None = None
) -> Electricity:
    """Return what some servings, by default the recipe's own, take from the wall, as the cost card tells readers without a kit.

    ``per_kwh`` is another price than the tariff's. [currency/kWh]
    """
    kit = {} if per_kwh is None else {"price_per_kwh": per_kwh}
    meal = None if energy is None else meal_energy(energy, servings or facts.servings, kit, currency=facts.currency)
    why = "" if energy is None else words_of(energy.no_price, ENGLISH)
    return electricity_for(meal, kit=kit, currency=facts.currency, own_currency=facts.currency, cooks=facts.cooks, no_tariff=why)


def _missing(food_pk: int, own: Sequence[RecipeLine]) -> MissingPrice:
    return MissingPrice(food_pk, own[0].cost.food, tuple(line.text for line in own), own[0].cost.reason)
