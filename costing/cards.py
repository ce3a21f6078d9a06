"""The cost card: what a recipe's ingredients and electricity cost, alone and with its sides."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from django.urls import reverse
from django.utils import timezone

from costing import queries
from costing.domain import words
from costing.domain.facts import CostFacts
from costing.domain.receipt import make_receipt, months_words
from costing.domain.sheet import Sheet, make_sheet
from costing.domain.wall import electricity_for
from energy.domain.facts import EnergyFacts
from kitchen.cards import Attention, BenchLink, Card, CardRequest, Facts, Headline
from kitchen.domain import record
from kitchen.domain.money import places_of, round_half_up

if TYPE_CHECKING:
    from kitchen.models import Recipe, Revision


class CostCard(Card):
    """Deals the cost card. Its facts are ``CostFacts``; prices come from the quotes of the day they were collected."""

    slug = "cost"
    title = "Cost"
    order = 20
    template_name = "costing/card.html"
    print_template_name = "costing/card_print.html"

    def collect(self, revision: Revision, *, at: datetime) -> Facts | None:
        """Return the cost facts of a revision, or None for one without ingredients. Constant in lines and in sides."""
        facts = queries.cost_facts(revision, at=at)
        return None if facts is None else record.write(facts)

    def present(self, facts: Facts, request: CardRequest) -> dict[str, Any] | None:
        """Return the receipt; a reader gets none while nothing at all has a price, the owner sees what is missing."""
        held = _read(facts)
        sheet = _sheet(held, request)
        if not sheet.lines and request.audience != "owner":
            return None
        return {
            "receipt": make_receipt(held, sheet),
            "servings": sheet.servings,
            "priced": bool(sheet.lines),
        }

    def figures(self, facts: Facts, request: CardRequest) -> dict[str, Decimal]:
        """Return the cost of one serving, alone; nothing while no line has a price."""
        sheet = _sheet(_read(facts), request)
        if not sheet.lines:
            return {}
        return {"cost_per_serving": round_half_up(sheet.per_serving, places_of(sheet.currency))}

    def headlines(self, facts: Facts, request: CardRequest) -> Sequence[Headline]:
        """Return the cost of one serving with its currency and the months of its prices."""
        held = _read(facts)
        sheet = _sheet(held, request)
        if not sheet.lines:
            return ()
        each = "each serving at least" if sheet.at_least else "each serving"
        value = words.sum_words(sheet.per_serving, sheet.currency)
        estimated = ", energy estimated" if sheet.electricity.estimated and sheet.electricity.cost else ""
        said = f"{each}{estimated}, prices of {months_words(held)}"
        return (Headline("cost_per_serving", value, "", said, tone="cost", anchor=self.slug, order=40),)

    def bench_sections(self) -> Sequence[BenchLink]:
        """Return prices, shops and yields."""
        return (
            BenchLink("Prices", reverse("costing:prices")),
            BenchLink("Shops", reverse("costing:shops")),
            BenchLink("Yields", reverse("costing:yields")),
        )

    def recipe_links(self, recipe: Recipe, revision: Revision) -> Sequence[BenchLink]:
        """Return the way to the recipe's prices, with how many lines still lack one."""
        missing = queries.unpriced_count(revision, at=timezone.now())
        note = "" if not missing else f"{missing} {'line has' if missing == 1 else 'lines have'} no price yet"
        return (BenchLink("Prices for this recipe", reverse("costing:recipe-prices", args=[recipe.slug]), note),)

    def attention(self, user: Any, *, at: datetime) -> Sequence[Attention]:
        """Return the cook's published recipes with unpriced lines or with other prices by now, and prices that are too old."""
        waiting = queries.what_waits(user, at=at)
        found = [_unpriced(item) for item in waiting.recipes if item.unpriced]
        found += [_changed(item) for item in waiting.recipes if item.changed]
        if waiting.stale_foods:
            said = f"Prices older than 180 days: {words.listed(_first_few(waiting.stale_foods))}."
            found.append(Attention(said, f"{reverse('costing:prices')}?stale=on", "stale quotes"))
        return found


def _read(facts: Facts) -> CostFacts:
    return record.read(CostFacts, facts)


def _sheet(facts: CostFacts, request: CardRequest) -> Sheet:
    held = request.facts.get("energy")
    energy = None if held is None else record.read(EnergyFacts, held)
    electricity = electricity_for(
        energy,
        request.servings,
        kit=request.kit,
        currency=facts.currency,
        own_currency=request.currency,
        cooks=facts.cooks,
        portion=request.portion,
        batches=request.batches,
    )
    closed = request.vessel is not None and request.vessel.closed
    return make_sheet(facts, request.servings, electricity, portion=request.portion, batches=request.batches, closed=closed)


def _unpriced(item: queries.Waiting) -> Attention:
    lines = "1 line has" if item.unpriced == 1 else f"{item.unpriced} lines have"
    return Attention(f"{item.title}: {lines} no price.", reverse("costing:recipe-prices", args=[item.slug]), "unpriced lines")


def _changed(item: queries.Waiting) -> Attention:
    said = f"{item.title}: prices changed since edition {item.edition}, {item.then} then, {item.now} a serving now."
    return Attention(f"{said} Publish it again.", reverse("kitchen:recipe-bench", args=[item.slug]), "changed prices")


def _first_few(foods: Sequence[str]) -> list[str]:
    return list(foods) if len(foods) <= 4 else [*foods[:3], f"{len(foods) - 3} more"]
