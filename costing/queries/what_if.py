"""A recipe's sheet with something else bought, at another price, for another group: nothing of it is kept."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from decimal import Decimal

from costing.domain.moving import Pull, WhatIf, compare, pulls
from costing.domain.sheet import Sheet, make_sheet
from costing.models import Shop
from costing.queries.collecting import SheetAsk, cost_facts
from costing.queries.recipe import electricity_of
from costing.queries.sheets import sheet_rules
from energy.cards.collecting import energy_facts
from energy.facts import EnergyFacts
from kitchen.models import Food, Recipe, Revision
from kitchen.queries import newest_revision


@dataclass(frozen=True)
class Asked:
    """What is asked: another food for a line, prices by other rules, a price of the kilowatt-hour, a number of servings."""

    line: int | None = None
    food: Food | None = None
    ask: SheetAsk = field(default_factory=lambda: SheetAsk(alone=True))
    per_kwh: Decimal | None = None
    servings: int | None = None


@dataclass(frozen=True)
class Answered:
    """How the recipe's cost moves with each price, and what the change would make; None where nothing was asked."""

    sheet: Sheet
    pulls: tuple[Pull, ...]
    found: WhatIf | None


def only_at(shop: Shop | None) -> SheetAsk:
    """Return the ask for one shop's prices, or for the kitchen's own."""
    if shop is None:
        return SheetAsk(alone=True)
    rules = sheet_rules()
    rules.rule, rules.shop = "shop", shop
    return SheetAsk(rules=rules, alone=True)


def what_if(recipe: Recipe, asked: Asked, *, at: datetime) -> Answered | None:
    """Return what a change would make of a recipe's newest revision; None where it has no lines. Constant in lines."""
    revision = newest_revision(recipe)
    facts = cost_facts(revision, at=at, asked=SheetAsk(alone=True))
    if facts is None:
        return None
    energy = energy_facts(revision, at=at)
    before = make_sheet(facts, facts.servings, electricity_of(facts, energy))
    if asked == Asked():
        return Answered(before, pulls(before), None)
    return Answered(before, pulls(before), compare(before, *_changed(revision, energy, asked, at)))


def _changed(revision: Revision, energy: EnergyFacts | None, asked: Asked, at: datetime) -> tuple[Sheet, Sheet]:
    """Return the sheets with what is changed, for the recipe's own servings and for those asked for."""
    swapped = {asked.line: asked.food} if asked.line is not None and asked.food is not None else {}
    facts = cost_facts(revision, at=at, asked=replace(asked.ask, swapped=swapped))
    assert facts is not None
    sizes = facts.servings, asked.servings or facts.servings
    own, group = (electricity_of(facts, energy, servings=size, per_kwh=asked.per_kwh) for size in sizes)
    return make_sheet(facts, sizes[0], own), make_sheet(facts, sizes[1], group)
