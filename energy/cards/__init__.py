"""The energy card: measured watt-hours, watts, minutes, what they mean for a battery, and what they cost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.urls import reverse

from energy import queries
from energy.cards.cautions import cautions_for
from energy.cards.collecting import energy_facts
from energy.cards.headlines import energy_figures, energy_headlines
from energy.cards.kit import KitForm, kit_limits
from energy.cards.marks import stage_marks
from energy.cards.presenting import cooked_in, shown, the_meal
from energy.cards.revisions import runs_by_revision
from energy.domain.facts import EnergyFacts
from energy.domain.filling import vessel_of
from kitchen.cards import Attention, BenchLink, Card, CardRequest, Caution, Facts, Headline, StageMark, Vessel
from kitchen.domain import record
from kitchen.models import Recipe, Revision

__all__ = ["EnergyCard"]


class EnergyCard(Card):
    """The card with the slug ``energy``."""

    slug = "energy"
    title = "Energy"
    order = 10
    template_name = "energy/card.html"
    print_template_name = "energy/card_print.html"
    kit_form = KitForm

    def collect(self, revision: Revision, *, at: datetime) -> Facts | None:
        """Return the facts of the runs that count, or None while nothing was measured."""
        facts = energy_facts(revision, at=at)
        return None if facts is None else record.write(facts)

    def present(self, facts: Facts, request: CardRequest) -> dict[str, Any] | None:
        """Return what the templates show, as ``energy``, and what it was cooked in."""
        held = _read(facts)
        own = request.own_vessel
        return {"energy": shown(held, request), "cooked_in": f"in a {own.name}" if own else cooked_in(held.appliance)}

    def figures(self, facts: Facts, request: CardRequest) -> dict[str, Decimal]:
        """Return energy a serving and in all, peak, minutes and the number of runs."""
        held = _read(facts)
        return energy_figures(held, the_meal(held, request))

    def headlines(self, facts: Facts, request: CardRequest) -> Sequence[Headline]:
        """Return energy a serving, the peak and the minutes."""
        held = _read(facts)
        return energy_headlines(held, the_meal(held, request))

    def kit_limits(self, kit: Mapping[str, Any]) -> Mapping[str, Decimal]:
        """Return the highest peak that the reader's inverter gives and the most that a charge of their battery holds."""
        return kit_limits(kit)

    def stage_marks(self, facts: Facts, request: CardRequest, kinds: Sequence[str]) -> Sequence[StageMark | None] | None:
        """Return minutes and watts for the stages of the method that were measured."""
        return stage_marks(the_meal(_read(facts), request), kinds)

    def cautions(self, facts: Facts, request: CardRequest) -> Sequence[Caution]:
        """Return the cautions of the appliance and of its sources."""
        held = _read(facts)
        return cautions_for(held.appliance, held.source.kind, [other.kind for other in held.other_sources])

    def vessel(self, facts: Facts, request: CardRequest) -> Vessel | None:
        """Return what the appliance that was measured may hold."""
        return vessel_of(_read(facts).appliance)

    def bench_sections(self) -> Sequence[BenchLink]:
        """Return runs and gear."""
        sections = (
            ("Runs", "runs"),
            ("Appliances", "appliances"),
            ("Power sources", "sources"),
            ("Meters", "meters"),
            ("Tariffs", "tariffs"),
        )
        return [BenchLink(label, reverse(f"energy:{name}")) for label, name in sections]

    def recipe_links(self, recipe: Recipe, revision: Revision) -> Sequence[BenchLink]:
        """Return where a cook is recorded and where the runs are."""
        return [
            BenchLink("Start a cook", reverse("energy:cook-start", args=[recipe.slug]), "at the run desk, by its clock"),
            BenchLink("Record a cook", reverse("energy:run-new", args=[recipe.slug]), "readings of a meter, minute by minute"),
            BenchLink("Print a log sheet", reverse("energy:log-sheet", args=[recipe.slug]), "to fill in by hand, A5 or larger"),
            BenchLink("Type in a sheet", reverse("energy:run-new", args=[recipe.slug]) + "?sheet=1", "its rows, by its numbers"),
            BenchLink("Runs", reverse("energy:recipe-runs", args=[recipe.slug]), "every measured cook of this recipe"),
        ]

    def revision_links(self, recipe: Recipe) -> Mapping[int, Sequence[BenchLink]]:
        """Return the runs of each revision by its number. One query."""
        return runs_by_revision(recipe)

    def attention(self, user: Any, *, at: datetime) -> Sequence[Attention]:
        """Return runs that wait for a verdict, runs never finished, and recipes that nobody measured yet. Two queries."""
        waiting = [
            Attention(words, reverse("energy:run", args=[number]), kind)
            for number, words, kind in queries.runs_to_look_at(user, at)
        ]
        unmeasured = [
            Attention(f"{recipe.title}: nothing measured yet", reverse("energy:run-new", args=[recipe.slug]), "unmeasured")
            for recipe in queries.recipes_without_runs(user)
        ]
        return [*waiting, *unmeasured]


def _read(facts: Facts) -> EnergyFacts:
    return record.read(EnergyFacts, facts)
