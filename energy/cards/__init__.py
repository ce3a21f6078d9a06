"""The energy card: measured watt-hours, watts, minutes, what they mean for a battery, and what they cost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.urls import reverse

from energy.cards.answering import battery_answer
from energy.cards.bands import meal_band
from energy.cards.benching import cooks_part, first_things, ways_to_record
from energy.cards.collecting import energy_facts
from energy.cards.grounds import grounds_of
from energy.cards.headlines import SHELF_FIGURES, energy_badge, energy_briefs, energy_figures, energy_headlines, kind_words
from energy.cards.kit import KitForm, kit_limits, kit_words
from energy.cards.machines import card_pictures, linked_energy
from energy.cards.marks import stage_marks
from energy.cards.presenting import shown
from energy.cards.revisions import runs_by_revision
from energy.cards.source_lines import paper_words, source_line
from energy.cards.together import cooked_together
from energy.estimates.domain.meal import MealEnergy, meal_energy
from energy.facts import EnergyFacts
from energy.gear.domain.filling import vessel_of
from energy.kinds import appliance_kind
from energy.meters.queries.waiting_readings import runs_asked_about
from energy.runs.queries.runs import recipes_without_runs, runs_to_look_at
from energy.words import ENGLISH, sentence
from energy.words.how_sure import energy_words
from kitchen.cards import (
    Answer,
    Attention,
    Badge,
    Band,
    BenchLink,
    BenchSection,
    Card,
    CardPicture,
    CardRequest,
    Dish,
    Facts,
    FirstThing,
    Grounds,
    Headline,
    ShelfGroup,
    StageMark,
    Together,
    Vessel,
    WorkbenchPart,
)
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
    strip_template_name = "energy/card_strip.html"
    head_template_name = "energy/public/head.html"
    links_template_name = "energy/public/along.html"
    shelf_figures = SHELF_FIGURES
    shelf_groups = (ShelfGroup("cooker_kind", sentence(ENGLISH, "cooked_in"), kind_words),)
    kit_form = KitForm

    def collect(self, revision: Revision, *, at: datetime) -> Facts | None:
        """Return the facts of the runs that count, or None while nothing was measured."""
        facts = energy_facts(revision, at=at)
        return None if facts is None else record.write(facts)

    def read(self, facts: Facts) -> EnergyFacts:
        """Return what was measured."""
        return record.read(EnergyFacts, facts)

    def vessel(self, held: EnergyFacts) -> Vessel | None:
        """Return what the appliance that was measured may hold."""
        return vessel_of(held.appliance)

    def prepare(self, held: EnergyFacts, request: CardRequest) -> MealEnergy:
        """Return the meal that was asked for, from the recipe's own source or the reader's kit."""
        return meal_energy(
            held,
            request.servings,
            request.kit,
            currency=request.currency,
            portion=request.portion,
            batches=request.batches,
        )

    def present(self, prepared: MealEnergy, request: CardRequest) -> dict[str, Any] | None:
        """Return what the templates show, as ``energy``."""
        return {"energy": shown(prepared, request)}

    def band(self, prepared: MealEnergy, request: CardRequest) -> Band:
        """Return what its stages draw over their time, all batches."""
        return meal_band(prepared)

    def answer(self, prepared: MealEnergy, request: CardRequest) -> Answer:
        """Return whether the source gives enough, and for how many meals, for the recipe's own or the reader's."""
        return battery_answer(prepared, request.kit)

    def opening(self, prepared: MealEnergy, request: CardRequest) -> str:
        """Return the energy in all, at the socket."""
        return sentence(ENGLISH, "at_the_socket", energy=energy_words(prepared, ENGLISH))

    def cooked_in(self, prepared: MealEnergy, request: CardRequest) -> str:
        """Return the reader's own pot, else the appliance that was measured."""
        cooker = prepared.facts.appliance
        if request.own_vessel:
            return sentence(ENGLISH, "in_own_vessel", name=request.own_vessel.name)
        return appliance_kind(cooker.kind).where(cooker.capacity_l)

    def paper_briefs(self, prepared: MealEnergy, request: CardRequest) -> Mapping[str, Sequence[str]]:
        """Return the few words beneath energy, peak and minutes."""
        return energy_briefs(prepared)

    def paper_words(self, prepared: MealEnergy, request: CardRequest) -> str:
        """Return what the source or the reader's kit says of it."""
        return paper_words(source_line(prepared.facts.source, prepared.draw, prepared))

    def figures(self, prepared: MealEnergy, request: CardRequest) -> dict[str, Decimal | None]:
        """Return energy a serving and in all, peak, minutes and the number of runs."""
        return energy_figures(prepared)

    def shelf_marks(self, prepared: MealEnergy, request: CardRequest) -> Mapping[str, str]:
        """Return the kind of cooker that was measured."""
        return {"cooker_kind": prepared.facts.appliance.kind}

    def badge(self, prepared: MealEnergy, request: CardRequest) -> Badge:
        """Return how often it was measured, or that it is an estimate."""
        return energy_badge(prepared)

    def grounds(self, prepared: MealEnergy, request: CardRequest) -> Grounds:
        """Return the runs that make the figures, those that were set aside, and what would make them surer."""
        return grounds_of(prepared.facts)

    def headlines(self, prepared: MealEnergy, request: CardRequest) -> Sequence[Headline]:
        """Return energy a serving, the peak and the minutes."""
        return energy_headlines(prepared)

    def stage_marks(self, prepared: MealEnergy, request: CardRequest, kinds: Sequence[str]) -> Sequence[StageMark | None] | None:
        """Return minutes and watts for the stages of the method that were measured."""
        return stage_marks(prepared, kinds)

    def pictures(self, prepared: MealEnergy, request: CardRequest) -> Sequence[CardPicture]:
        """Return the picture of the card in the shapes that are shared and searched for."""
        return card_pictures(prepared)

    def linked_data(self, prepared: MealEnergy, request: CardRequest) -> Mapping[str, Any]:
        """Return the cooker, and the electricity where its amount is whole."""
        return linked_energy(prepared)

    def together(self, dishes: Sequence[Dish], request: CardRequest) -> Together:
        """Return watt-hours, minutes and charges of several recipes."""
        return cooked_together(dishes, request.kit)

    def kit_words(self, kit: Mapping[str, Any]) -> str:
        """Return the reader's battery, inverter, price, height and cold, as far as they are told."""
        return kit_words(kit)

    def kit_limits(self, kit: Mapping[str, Any]) -> Mapping[str, Decimal]:
        """Return the highest peak that the reader's inverter gives and the most that a charge of their battery holds."""
        return kit_limits(kit)

    def bench_sections(self) -> Sequence[BenchSection]:
        """Return cooks, with what reads their files, and gear."""
        sections = (
            ("cooks", ("runs", "file-shapes", "device"), ()),
            ("gear", ("gear",), ("appliances", "sources", "meters", "tariffs")),
        )
        return [
            BenchSection(
                sentence(ENGLISH, f"section_{section}"),
                tuple(BenchLink(sentence(ENGLISH, f"all_{name}"), reverse(f"energy:{name}")) for name in names),
                tuple(reverse(f"energy:{name}") for name in beneath),
            )
            for section, names, beneath in sections
        ]

    def workbench(self, recipe: Recipe, revision: Revision, *, at: datetime) -> WorkbenchPart:
        """Return the recipe's cooks on one scale, and what they wait for. Two queries."""
        return cooks_part(recipe)

    def first_things(self, recipe: Recipe | None) -> Sequence[FirstThing]:
        """Return gear and the first cook. Five queries at most."""
        return first_things(recipe)

    def record_links(self, recipe: Recipe) -> Sequence[BenchLink]:
        """Return where a cook is recorded: at the desk, afterwards, and on paper; helpers read no files."""
        return ways_to_record(recipe, file=False)

    def revision_links(self, recipe: Recipe) -> Mapping[int, Sequence[BenchLink]]:
        """Return the runs of each revision by its number. One query."""
        return runs_by_revision(recipe)

    def attention(self, user: Any, *, at: datetime) -> Sequence[Attention]:
        """Return what of runs waits for a word, runs never finished, and recipes that nobody measured yet. Four queries."""
        asked = [*runs_asked_about(user), *runs_to_look_at(user, at)]
        waiting = [Attention(words, reverse("energy:run", args=[number]), kind) for number, words, kind in asked]
        unmeasured = [
            Attention(
                sentence(ENGLISH, "nothing_measured", title=recipe.title),
                reverse("energy:run-new", args=[recipe.slug]),
                "unmeasured",
            )
            for recipe in recipes_without_runs(user)
        ]
        return [*waiting, *unmeasured]
