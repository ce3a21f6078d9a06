"""From the tables to the energy card's facts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal

from django.utils import timezone

from energy.cards.grounds import apart_words
from energy.estimates.domain.combine import MeasuredRun, combine_runs
from energy.estimates.queries import usual_in_kitchen
from energy.facts import ApplianceFacts, EnergyFacts, MadeEnergy, MeterFacts, SourceFacts, TariffFacts
from energy.gear.domain.filling import food_in_pot_g
from energy.gear.domain.recovery import wear_per_kwh
from energy.gear.queries.lists import card_sources
from energy.models import Appliance, Meter, PowerSource, Run, Tariff
from energy.runs.queries.heat import cooked_lines
from energy.runs.queries.runs import does_count, finished_runs, measured_revisions, run_summary
from energy.tariffs.queries.pricing import tariff_facts
from energy.words import ENGLISH, words_of
from energy.words.figure_words import range_wh, times_measured
from energy.words.figures import format_wh
from energy.words.helping import what_would_help
from kitchen.domain import record
from kitchen.domain.facts import MadeFacts
from kitchen.domain.remark import Said, remark
from kitchen.domain.since_cooked import since_cooked
from kitchen.models import Edition, Revision
from kitchen.queries.as_known import as_known
from kitchen.queries.collecting import line_facts, lines_of, with_facts
from kitchen.words.since_cooked import since_cooked_words

MOST_OTHER_SOURCES = 4


def energy_facts(revision: Revision, *, at: datetime, known_at: datetime | None = None) -> EnergyFacts | None:
    """Return what was measured on this revision, else on an earlier one that has runs which count; else None.

    ``known_at`` leaves out runs that ended later, and takes sources and tariffs as they stood then; verdicts are today's.
    """
    chosen = _measured_on(revision, known_at)
    if chosen is None:
        return None
    measured, changed_since = chosen
    runs = finished_runs(measured, by=known_at)
    _feed_as_known(runs, known_at)
    told = [fact for run in runs if (fact := measured_run(run, measured))]
    facts = combine_runs(told, servings=revision.servings, usual=usual_in_kitchen(revision.recipe))
    if facts is None:
        return None
    source = next(run.source for run in reversed(runs) if run.source.name == facts.source.name)
    tariff, no_price = _priced_at(source, runs[-1], timezone.localdate(at))
    return replace(
        facts,
        other_sources=tuple(source_facts(other) for other in card_sources(source, MOST_OTHER_SOURCES)),
        tariff=tariff,
        no_price=no_price,
        made=_made_before(revision),
        food_g=food_in_pot_g(cooked_lines(revision.pk), facts.appliance.kind),
        earlier_revision=None if measured.pk == revision.pk else measured.number,
        changed_since=changed_since,
    )


def _made_before(revision: Revision) -> tuple[MadeEnergy, ...]:
    """Return what was made before for the lines of a revision, as the editions say that make them. One query."""
    made = [(line.made_of, line_facts(line).made) for line in lines_of(revision.pk) if line.made_of and not line.made_now]
    return tuple(_made(edition, facts) for edition, facts in made if facts is not None)


def _made(edition: Edition, made: MadeFacts) -> MadeEnergy:
    held = edition.facts.get("cards", {}).get("energy")
    if held is None:
        return record.taken(MadeEnergy, made, energy_wh=None, uncertainty_wh=0.0, total_s=None, attended_s=None)
    return record.taken(MadeEnergy, record.read(EnergyFacts, held), title=made.title, servings=made.servings, share=made.share)


def _feed_as_known(runs: list[Run], at: datetime | None) -> None:
    """Let the runs name their sources, and these their tariffs, as they stood at a moment. At most three queries."""
    if at is None:
        return
    sources = {source.pk: source for source in as_known([run.source for run in runs], PowerSource, at)}
    tariffs = {tariff.pk: tariff for tariff in as_known(list(Tariff.objects.all()), Tariff, at)}
    for run in runs:
        run.source = sources.get(run.source_id, run.source)
        run.source.tariff = tariffs.get(run.source.tariff_id) if run.source.tariff_id else None


def _measured_on(revision: Revision, by: datetime | None) -> tuple[Revision, str | None] | None:
    """Return the revision whose runs are shown, and what changed since.

    Runs of this revision come first; then those of the newest earlier one with the same food, liquid and stages, so that going
    back to an old revision finds its runs again; then those of the newest earlier one.
    """
    measured = measured_revisions(revision, by=by)
    if not measured or measured[0].pk == revision.pk:
        return (measured[0], None) if measured else None
    asked = Revision.objects.filter(pk__in=[revision.pk, *(one.pk for one in measured)])
    facts = {held.pk: facts for held, facts in with_facts(asked)}
    told = [(one, since_cooked(facts[one.pk], facts[revision.pk])) for one in measured]
    chosen, since = next((pair for pair in told if not pair[1].differs), told[0])
    return chosen, since_cooked_words(since, ENGLISH)


@dataclass(frozen=True)
class ChosenFigure:
    """What ticked runs would make: the mean of n with its half interval, and what the next cook may need. [Wh]

    ``aside`` says of a run that is ticked and yet not in the mean, by its number, why.
    """

    energy: str
    runs: str
    next_range: str
    apart: str
    aside: Mapping[int, str]


def figure_of(ticked: Mapping[Run, bool], revision: Revision) -> ChosenFigure | None:
    """Return the figure that the ticked runs would make, without keeping anything; None where none of them can. One query."""
    told = {run: fact for run in ticked if (fact := measured_run(run, revision))}
    chosen = [replace(fact, counts=ticked[run]) for run, fact in told.items()]
    facts = combine_runs(chosen, servings=revision.servings, usual=usual_in_kitchen(revision.recipe))
    if facts is None:
        return None
    return ChosenFigure(
        format_wh(facts.energy_wh, facts.uncertainty_wh),
        times_measured(facts.counted_runs, ENGLISH),
        range_wh(facts.next_low_wh, facts.next_high_wh, ENGLISH),
        apart_words(facts),
        {
            run.pk: words_of(one.verdict_reason, ENGLISH)
            for run, one in zip(told, facts.runs, strict=True)
            if ticked[run] and not one.counts
        },
    )


def helping_words(run: Run) -> tuple[str, ...]:
    """Return what would make the figures surer that this run goes into; nothing where it goes into none. Two queries."""
    revision = run.revision
    told = [fact for one in finished_runs(revision) if (fact := measured_run(one, revision))]
    facts = combine_runs(told, servings=revision.servings, usual=usual_in_kitchen(revision.recipe))
    return what_would_help(facts, ENGLISH) if facts is not None and does_count(run) else ()


def measured_run(run: Run, revision: Revision) -> MeasuredRun | None:
    """Return a run as it is averaged with others, or None while nothing was worked out."""
    summary = run_summary(run)
    if summary is None:
        return None
    return record.taken(
        MeasuredRun,
        run,
        summary=summary,
        day=run.started_at,
        counts=does_count(run),
        appliance=appliance_facts(run.appliance),
        source=source_facts(run.source),
        meter=meter_facts(run.meter),
        display_step_pct=run.source.display_step_pct,
        revision=revision.number,
    )


def appliance_facts(appliance: Appliance) -> ApplianceFacts:
    """Return what an edition keeps of an appliance."""
    return record.taken(ApplianceFacts, appliance)


def source_facts(source: PowerSource) -> SourceFacts:
    """Return what an edition keeps of a power source."""
    return record.taken(SourceFacts, source, wear_per_kwh=_wear_per_kwh(source))


def _wear_per_kwh(source: PowerSource) -> Decimal | None:
    """Return price / (cycles x usable energy): what a kilowatt-hour wears off the battery, where the owner gave both."""
    if source.battery_price is None or not source.battery_cycles or not source.capacity_wh:
        return None
    return wear_per_kwh(source.battery_price, source.battery_cycles, source.capacity_wh, source.reserve_pct)


def meter_facts(meter: Meter) -> MeterFacts:
    """Return what an edition keeps of a meter."""
    return record.taken(MeterFacts, meter)


def _priced_at(source: PowerSource, run: Run, day: date) -> tuple[TariffFacts | None, Said]:
    """Return what a kilowatt-hour costs on a day, or why a tariff does not say it: a price that is over is no price."""
    tariff = source.tariff
    if tariff is None:
        return None, ""
    if tariff.valid_to is not None and tariff.valid_to < day:
        return None, remark("tariff_ended", name=tariff.name, on=tariff.valid_to.isoformat())
    if tariff.valid_from > day:
        return None, remark("tariff_begins", name=tariff.name, on=tariff.valid_from.isoformat())
    return tariff_facts(tariff, source, run, day), ""
