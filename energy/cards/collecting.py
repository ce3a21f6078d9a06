"""From the tables to the energy card's facts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal

from django.utils import timezone

from energy import queries
from energy.domain.combine import MeasuredRun, combine_runs
from energy.domain.facts import ApplianceFacts, EnergyFacts, MeterFacts, SourceFacts, TariffFacts
from energy.domain.filling import food_in_pot_g
from energy.domain.recovery import wear_per_kwh
from energy.domain.words import format_range_wh, format_wh, measured_words
from energy.models import Appliance, Meter, PowerSource, Run
from energy.queries.pricing import tariff_facts
from kitchen.domain.since_cooked import since_cooked
from kitchen.models import Revision
from kitchen.queries.collecting import with_facts

MOST_OTHER_SOURCES = 4


def energy_facts(revision: Revision, *, at: datetime) -> EnergyFacts | None:
    """Return what was measured on this revision, else on an earlier one that has runs which count; else None."""
    chosen = _measured_on(revision)
    if chosen is None:
        return None
    measured, changed_since = chosen
    runs = queries.finished_runs(measured)
    facts = combine_runs([fact for run in runs if (fact := measured_run(run, measured))], servings=revision.servings)
    if facts is None:
        return None
    source = next(run.source for run in reversed(runs) if run.source.name == facts.source.name)
    tariff, no_price = _priced_at(source, runs[-1], timezone.localdate(at))
    return replace(
        facts,
        other_sources=tuple(source_facts(other) for other in queries.card_sources(source, MOST_OTHER_SOURCES)),
        tariff=tariff,
        no_price=no_price,
        food_g=food_in_pot_g(queries.cooked_lines(revision.pk), facts.appliance.kind),
        earlier_revision=None if measured.pk == revision.pk else measured.number,
        changed_since=changed_since,
    )


def _measured_on(revision: Revision) -> tuple[Revision, str | None] | None:
    """Return the revision whose runs are shown, and what changed since.

    Runs of this revision come first; then those of the newest earlier one with the same food, liquid and stages, so that going
    back to an old revision finds its runs again; then those of the newest earlier one.
    """
    measured = queries.measured_revisions(revision)
    if not measured or measured[0].pk == revision.pk:
        return (measured[0], None) if measured else None
    asked = Revision.objects.filter(pk__in=[revision.pk, *(one.pk for one in measured)])
    facts = {held.pk: facts for held, facts in with_facts(asked)}
    told = [(one, since_cooked(facts[one.pk], facts[revision.pk])) for one in measured]
    chosen, since = next((pair for pair in told if not pair[1].differs), told[0])
    return chosen, since.sentence()


@dataclass(frozen=True)
class ChosenFigure:
    """What ticked runs would make: the mean of n with its half interval, and what the next cook may need. [Wh]"""

    energy: str
    runs: str
    next_range: str


def figure_of(ticked: Mapping[Run, bool], revision: Revision) -> ChosenFigure | None:
    """Return the figure that the ticked runs would make, without keeping anything; None where none of them can. No query."""
    told = [(fact, counts) for run, counts in ticked.items() if (fact := measured_run(run, revision))]
    facts = combine_runs([replace(fact, counts=counts) for fact, counts in told], servings=revision.servings)
    if facts is None:
        return None
    return ChosenFigure(
        format_wh(facts.energy_wh, facts.uncertainty_wh),
        measured_words(facts.counted_runs),
        format_range_wh(facts.next_low_wh, facts.next_high_wh),
    )


def measured_run(run: Run, revision: Revision) -> MeasuredRun | None:
    """Return a run as it is averaged with others, or None while nothing was worked out."""
    summary = queries.run_summary(run)
    if summary is None:
        return None
    return MeasuredRun(
        summary=summary,
        day=run.started_at,
        servings=run.servings,
        counts=queries.does_count(run),
        appliance=appliance_facts(run.appliance),
        source=source_facts(run.source),
        meter=meter_facts(run.meter),
        verdict_reason=run.verdict_reason,
        verdict_at=run.verdict_at,
        revision=revision.number,
        altitude_m=run.altitude_m,
        ambient_c=run.ambient_c,
        food_start_c=run.food_start_c,
    )


def appliance_facts(appliance: Appliance) -> ApplianceFacts:
    """Return what an edition keeps of an appliance."""
    return ApplianceFacts(
        name=appliance.name,
        kind=appliance.kind,
        rated_w=appliance.rated_w,
        capacity_l=appliance.capacity_l,
        fill_limit_pct=appliance.fill_limit_pct,
        foam_fill_limit_pct=appliance.foam_fill_limit_pct,
        pressure_kpa=appliance.pressure_kpa,
        min_liquid_ml=appliance.min_liquid_ml,
    )


def source_facts(source: PowerSource) -> SourceFacts:
    """Return what an edition keeps of a power source."""
    return SourceFacts(
        name=source.name,
        kind=source.kind,
        capacity_wh=source.capacity_wh,
        continuous_w=source.continuous_w,
        surge_w=source.surge_w,
        inverter_efficiency=source.inverter_efficiency,
        idle_w=source.idle_w,
        charge_efficiency=source.charge_efficiency,
        reserve_pct=source.reserve_pct,
        volts=source.volts,
        amps=source.amps,
        charge_w=source.charge_w,
        panel_w=source.panel_w,
        wear_per_kwh=_wear_per_kwh(source),
    )


def _wear_per_kwh(source: PowerSource) -> Decimal | None:
    """Return price / (cycles x usable energy): what a kilowatt-hour wears off the battery, where the owner gave both."""
    if source.battery_price is None or not source.battery_cycles or not source.capacity_wh:
        return None
    return wear_per_kwh(source.battery_price, source.battery_cycles, source.capacity_wh, source.reserve_pct)


def meter_facts(meter: Meter) -> MeterFacts:
    """Return what an edition keeps of a meter."""
    return MeterFacts(meter.name, meter.place, meter.resolution_wh, meter.accuracy_pct)


def _priced_at(source: PowerSource, run: Run, day: date) -> tuple[TariffFacts | None, str]:
    """Return what a kilowatt-hour costs on a day, or why a tariff does not say it: a price that is over is no price."""
    tariff = source.tariff
    if tariff is None:
        return None, ""
    if tariff.valid_to is not None and tariff.valid_to < day:
        return None, f"the tariff {tariff.name} ended on {tariff.valid_to.day} {tariff.valid_to:%B %Y}"
    if tariff.valid_from > day:
        return None, f"the tariff {tariff.name} begins on {tariff.valid_from.day} {tariff.valid_from:%B %Y}"
    return tariff_facts(tariff, source, run, day), ""
