"""Collecting: from a revision's tables to the cost facts that an edition keeps, and what of them waits for the cook."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import Any

from django.db.models import prefetch_related_objects

from costing.domain.causes import Cause, causes
from costing.domain.electricity import UNCOOKED
from costing.domain.facts import CostFacts, CostLine, SideCost, every_line
from costing.domain.quotes import Offer
from costing.domain.sheet import ServingCost, serving_cost
from costing.domain.sides import side_cost
from costing.domain.wall import electricity_of_side
from costing.models import Quote, SheetRules
from costing.queries.sheets import (
    LedgerAsk,
    Published,
    SideFound,
    costed_lines,
    end_of_day,
    fuel_prices,
    published_by,
    quote_rule,
    sheet_rules,
    sides_of,
    today,
)
from energy.facts import EnergyFacts
from kitchen.domain import record
from kitchen.domain.stages import STAGE_KINDS
from kitchen.models import Food, Revision
from kitchen.queries import the_site


@dataclass(frozen=True)
class Waiting:
    """A published recipe as its cook should see it: lines without a price today, and the cost of a serving then and now."""

    slug: str
    title: str
    edition: int
    unpriced: int
    then: ServingCost | None
    now: ServingCost
    changed: bool
    why: tuple[Cause, ...] = ()


@dataclass(frozen=True)
class WhatWaits:
    """All that waits for one cook: published recipes, and the foods whose prices are too old."""

    recipes: tuple[Waiting, ...] = ()
    stale_foods: tuple[str, ...] = ()


@dataclass(frozen=True)
class SheetAsk:
    """Whose prices a sheet takes: of a day, as known at a moment, by some rules, and with prices that are only being typed.

    Nothing said: today's, as known now, by the kitchen's rules. ``typed`` are offers by the number of their food; ``alone``
    leaves the sides out; ``swapped`` are other foods by the number of their line.
    """

    day: date | None = None
    known_at: datetime | None = None
    rules: SheetRules | None = None
    typed: Mapping[int, Offer] = field(default_factory=dict)
    alone: bool = False
    swapped: Mapping[int, Food] = field(default_factory=dict)


def cost_facts(revision: Revision, *, at: datetime, asked: SheetAsk | None = None) -> CostFacts | None:
    """Return the cost facts of a revision on the day of a moment; None where it has no lines. Constant in lines and sides."""
    asked = asked or SheetAsk()
    ask = LedgerAsk(asked.day or today(at), asked.known_at, asked.typed, asked.swapped)
    frame = _Frame(ask, the_site().currency, asked.rules or sheet_rules(_ruled_at(ask)))
    sides = [] if asked.alone else sides_of(revision.recipe)
    bare = [side.revision for side in sides if "cost" not in side.cards]
    prefetch_related_objects([revision, *bare], "steps")
    own, *others = frame.facts_of([revision, *bare])
    if not own.lines:
        return None
    collected = {facts.pk: cost for facts, cost in zip(bare, others, strict=True)}
    told = tuple(_side_cost(side, collected.get(side.revision.pk), frame.currency) for side in sides)
    return replace(own, sides=told, fuels=fuel_prices(ask, currency=frame.currency, rules=frame.rules) if own.cooks else ())


def _ruled_at(ask: LedgerAsk) -> datetime | None:
    """When the rules were made that a sheet follows: those of its day, as far as they were known then."""
    moments = [moment for moment in (ask.known_at, end_of_day(ask.day)) if moment is not None]
    return min(moments)


def unpriced_count(revision: Revision, *, at: datetime) -> tuple[int, int]:
    """Return how many lines of a revision have no cost on the day of a moment, and how many lines it has."""
    frame = _Frame(LedgerAsk(today(at)), the_site().currency, sheet_rules())
    lines = frame.lines_of([revision])[revision.pk]
    return sum(line.left_out for line in lines), len(lines)


def prices_exist() -> bool:
    """Whether any price was typed yet. One query."""
    return Quote.objects.exists()


def what_waits(person: Any, *, at: datetime) -> WhatWaits:
    """Return what of the costs waits for a cook, in a constant number of queries."""
    published = published_by(person)
    if not published:
        return WhatWaits()
    frame = _Frame(LedgerAsk(today(at)), the_site().currency, sheet_rules())
    costed = frame.lines_of([item.revision for item in published])
    lines = [line for own in costed.values() for line in own]
    stale = {line.food for line in every_line(lines) if line.quote is not None and line.quote.stale}
    return WhatWaits(tuple(_waiting(item, costed[item.revision.pk], frame) for item in published), tuple(sorted(stale)))


@dataclass(frozen=True)
class _Frame:
    """What all the sheets of one day share."""

    ask: LedgerAsk
    currency: str
    rules: SheetRules

    def lines_of(self, revisions: Sequence[Revision]) -> dict[int, tuple[CostLine, ...]]:
        return costed_lines(revisions, self.ask, currency=self.currency, rules=self.rules)

    def facts_of(self, revisions: Sequence[Revision]) -> list[CostFacts]:
        costed = self.lines_of(revisions)
        return [self.facts(revision.servings, costed[revision.pk], _cooks(revision)) for revision in revisions]

    def facts(self, servings: int, lines: tuple[CostLine, ...], cooks: bool) -> CostFacts:
        rule = quote_rule(self.rules)
        return CostFacts(
            servings=servings,
            currency=self.currency,
            day=max((line.quote.day for line in every_line(lines) if line.quote is not None), default=None),
            rule=rule.kind,
            rule_detail=rule.detail,
            lines=lines,
            allowance_pct=self.rules.allowance_pct,
            cooks=cooks,
        )


def _cooks(revision: Revision) -> bool:
    return any(step.stage in STAGE_KINDS and STAGE_KINDS[step.stage].cooks for step in revision.steps.all())


def _side_cost(side: SideFound, collected: CostFacts | None, currency: str) -> SideCost:
    facts = collected or record.read(CostFacts, side.cards["cost"])
    energy = record.read(EnergyFacts, side.cards["energy"]) if "energy" in side.cards else None
    used = electricity_of_side(energy, facts.servings)
    return side_cost(side.slug, side.title, portions=side.portions, facts=facts, electricity=used, currency=currency)


def _waiting(item: Published, lines: tuple[CostLine, ...], frame: _Frame) -> Waiting:
    facts = frame.facts(item.revision.servings, lines, cooks=False)
    before = None if item.cost_facts is None else record.read(CostFacts, item.cost_facts)
    now, then = serving_cost(facts, UNCOOKED), None if before is None else serving_cost(before, UNCOOKED)
    changed = any(line.counted for line in lines) and (then is None or then.printed != now.printed)
    return Waiting(
        slug=item.slug,
        title=item.title,
        edition=item.number,
        unpriced=sum(line.left_out for line in lines),
        then=then,
        now=now,
        changed=changed,
        why=causes(before, facts) if changed and before is not None and before.currency == facts.currency else (),
    )
