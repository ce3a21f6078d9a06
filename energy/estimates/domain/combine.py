"""From measured runs to the energy card's facts: which runs count together, and their averages."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from statistics import fmean

from energy.estimates.domain.heat_model import CookedOnce, heat_model
from energy.estimates.domain.powers import at_two_powers
from energy.estimates.domain.repeats import FIRST_SPREAD, Repeats, UsualSpread, average
from energy.facts import (
    ApplianceFacts,
    ElsewhereFacts,
    EnergyFacts,
    MeterFacts,
    RunFacts,
    SizeFacts,
    SourceFacts,
    StageEnergy,
    TariffFacts,
)
from energy.gear.domain.learned import BothEnds, given_per_pct
from energy.gear.domain.sources import (
    INVERTER_SPREAD,
    charge_unsure,
    inverter_unsure,
    load_from_battery_wh,
)
from energy.heat.need import gauge_kpa
from energy.kinds import meter_place
from energy.runs.domain.ladder import refit, stage_corners
from energy.runs.domain.summary import RunSummary, StageSummary
from energy.runs.domain.uncertainty import expanded, together
from kitchen.domain import record
from kitchen.domain.remark import Remark, Said, remark

_BROUGHT = "brought_to_socket"
_SHARED = {"accuracy", "inverter", "charge"}


@dataclass(frozen=True)
class MeasuredRun:
    """One run with everything that tells what it was measured on; ``counts`` is the owner's verdict.

    ``display_step_pct`` is the smallest step of the battery's charge display. [%]
    """

    summary: RunSummary
    day: datetime
    servings: int
    counts: bool
    appliance: ApplianceFacts
    source: SourceFacts
    meter: MeterFacts
    verdict_reason: str = ""
    verdict_at: datetime | None = None
    revision: int = 0
    altitude_m: float = 0.0
    ambient_c: float | None = None
    food_start_c: float | None = None
    display_step_pct: float = 1.0

    @property
    def usable(self) -> bool:
        """Whether it counts and its energy is known."""
        return self.counts and self.summary.known


def combine_runs(
    runs: Sequence[MeasuredRun],
    *,
    servings: int | None = None,
    other_sources: Sequence[SourceFacts] = (),
    tariff: TariffFacts | None = None,
    usual: UsualSpread = FIRST_SPREAD,
) -> EnergyFacts | None:
    """Return the energy card's facts from the measured runs of a recipe.

    Parameters
    ----------
    runs : sequence of MeasuredRun
        All runs, counting or not.
    servings : int, optional
        How many the recipe is written for: runs at that number are preferred.
    other_sources : sequence of SourceFacts
        Further sources to show a meal from.
    tariff : TariffFacts, optional
        What a kilowatt-hour costs.
    usual : UsualSpread
        How much cooks of one recipe differ in this kitchen.

    Returns
    -------
    EnergyFacts or None
        None where no run counts.

    Notes
    -----
    Only like is averaged with like: the runs that count are grouped by appliance and servings; the group at the recipe's own
    servings, then the largest, then the newest makes the figures. The others are listed and say why they do not count. A run
    measured at the battery is brought to the socket with the source's inverter efficiency and idle draw; how far that efficiency
    and the label of a battery whose charge was read may be off goes into its uncertainty. Runs read at both ends say what one per
    cent of the charge gives, where that is surer than what is known of the source. Stages are matched by
    their order and kind; where a run's stages differ, only its total counts, and the stages of the others are scaled to the
    mean total. The ladder is that of the run nearest the mean, stretched so that it meets the mean stages.
    """
    at_socket = [at_the_socket(run) for run in runs]
    group = _group(at_socket, servings)
    if not group:
        return None
    newest = max(group, key=lambda run: run.day)
    total = _averaged([run.summary for run in group], usual)
    alike = _alike(group)
    nearest = min(alike, key=lambda run: abs(run.summary.energy_wh - total.mean))
    stages = _stages(alike, total, usual, whole=len(alike) == len(group))
    highest = max(group, key=lambda run: run.summary.peak_w or 0.0).summary
    heat = heat_model([_cooked_once(run) for run in alike], stages, heating_w=_heating_w(highest, newest.appliance))
    return EnergyFacts(
        servings=newest.servings,
        energy_wh=total.mean,
        uncertainty_wh=total.half_interval,
        next_low_wh=total.next_low,
        next_high_wh=total.next_high,
        peak_w=highest.peak_w,
        peak_seen=highest.peak_seen,
        cooking_s=fmean(run.summary.cooking_s for run in group),
        attended_s=fmean(run.summary.attended_s for run in group),
        total_s=fmean(run.summary.total_s for run in group),
        stages=stages,
        ladder=_ladder(nearest.summary, stages),
        runs=tuple(_run_facts(run, counted=run in group, group=newest) for run in at_socket),
        appliance=newest.appliance,
        source=_as_it_showed(newest.source, group),
        meter=newest.meter,
        other_sources=tuple(other_sources),
        tariff=tariff,
        heat=replace(heat, powers=at_two_powers([run.summary.stages for run in alike], heat.until)),
        sizes=_sizes(at_socket, newest.appliance.name, usual),
        elsewhere=_elsewhere(at_socket, newest.appliance.name, usual),
        usual_spread=(usual.relative, usual.degrees),
    )


def _cooked_once(run: MeasuredRun) -> CookedOnce:
    kinds = [stage.kind for stage in run.summary.stages]
    pressure_kpa = gauge_kpa(run.appliance.kind, run.appliance.pressure_kpa, kinds)
    return CookedOnce(run.summary.heat, run.altitude_m, pressure_kpa, run.ambient_c, run.food_start_c is not None)


def _heating_w(summary: RunSummary, appliance: ApplianceFacts) -> float:
    """Return the watts of the heater: the peak that a display showed, else what its plate says. [W]"""
    return summary.peak_w if summary.peak_seen and summary.peak_w else appliance.rated_w


def _sizes(runs: Sequence[MeasuredRun], appliance: str, usual: UsualSpread) -> tuple[SizeFacts, ...]:
    """Return what each number of servings took on one appliance; nothing where only one was cooked."""
    sizes: dict[int, list[RunSummary]] = {}
    for run in runs:
        if run.usable and run.appliance.name == appliance:
            sizes.setdefault(run.servings, []).append(run.summary)
    if len(sizes) < 2:
        return ()
    return tuple(_size(servings, cooked, usual) for servings, cooked in sorted(sizes.items()))


def _elsewhere(runs: Sequence[MeasuredRun], appliance: str, usual: UsualSpread) -> tuple[ElsewhereFacts, ...]:
    """Return what the recipe took on other cookers, each with its own number of servings."""
    groups: dict[tuple[str, int], list[MeasuredRun]] = {}
    for run in runs:
        if run.usable and run.appliance.name != appliance:
            groups.setdefault((run.appliance.name, run.servings), []).append(run)
    found = []
    for (name, servings), cooked in sorted(groups.items()):
        size = _size(servings, [run.summary for run in cooked], usual)
        kind = cooked[0].appliance.kind
        found.append(ElsewhereFacts(name, kind, servings, size.energy_wh, size.uncertainty_wh, size.runs, size.total_s))
    return tuple(found)


def _averaged(summaries: Sequence[RunSummary], usual: UsualSpread) -> Repeats:
    """Return the mean of whole runs: what the meter's class and the inverter leave open is the same in all of them."""
    shared_wh = fmean(shared_uncertainty_wh(summary) for summary in summaries)
    own_wh = fmean(math.sqrt(max(one.uncertainty_wh**2 - shared_uncertainty_wh(one) ** 2, 0.0)) for one in summaries)
    return average([summary.energy_wh for summary in summaries], shared_wh, own_wh, usual)


def shared_uncertainty_wh(summary: RunSummary) -> float:
    """Return the part of a run's expanded uncertainty that its repeats share; all of it where the parts were not kept. [Wh]"""
    if not summary.parts:
        return summary.uncertainty_wh
    return expanded(together(*(size for part, size in summary.parts.items() if part in _SHARED)))


def _size(servings: int, cooked: Sequence[RunSummary], usual: UsualSpread) -> SizeFacts:
    energy = _averaged(cooked, usual)
    return SizeFacts(servings, energy.mean, energy.half_interval, len(cooked), fmean(summary.total_s for summary in cooked))


def read_at_both_ends(summary: RunSummary | None) -> BothEnds | None:
    """Return what a cook says that was metered at the socket and read on the charge display; None for any other."""
    if summary is None or summary.method not in ("counter", "watts") or not meter_place(summary.place).at_socket:
        return None
    fall_pct = summary.charge_fall_pct
    return BothEnds(summary.energy_wh, summary.uncertainty_wh, fall_pct, summary.total_s) if fall_pct and fall_pct > 0 else None


def _as_it_showed(source: SourceFacts, group: Sequence[MeasuredRun]) -> SourceFacts:
    """Return the source with what one per cent of its charge gave in these cooks, where that is surer than what is known."""
    ours = [run for run in group if run.source.name == source.name]
    cooks = [cook for run in ours if (cook := read_at_both_ends(run.summary))]
    if not cooks or source.capacity_wh is None:
        return source
    efficiency, step_pct = source.inverter_efficiency, max(run.display_step_pct for run in ours)
    given = given_per_pct(cooks, inverter_efficiency=efficiency, idle_w=source.idle_w, step_pct=step_pct)
    inverter = 0.0 if source.wh_per_pct else inverter_unsure(efficiency, source.idle_w)
    known = math.hypot(inverter, charge_unsure(source.wh_per_pct, source.wh_per_pct_uncertainty))
    if given is None or given.uncertainty_wh / given.wh > known:
        return source
    return replace(source, wh_per_pct=given.wh, wh_per_pct_uncertainty=given.uncertainty_wh)


def at_the_socket(run: MeasuredRun) -> MeasuredRun:
    """Return the run as a meter at the socket would have shown it."""
    summary, source = run.summary, run.source
    if summary.place != "battery" or not summary.known:
        return run
    efficiency, idle_w = source.inverter_efficiency, source.idle_w
    inverts = efficiency < 1 or idle_w > 0
    by_charge = summary.method == "charge"
    given = source.wh_per_pct if by_charge and source.capacity_wh else None
    worth = given * 100 / (source.capacity_wh or 1.0) / efficiency if given else 1.0
    inverter = 0.0 if given else inverter_unsure(efficiency, idle_w) / 2
    charge = charge_unsure(given, source.wh_per_pct_uncertainty) / 2 if by_charge else 0.0

    def load_wh(battery_wh: float, span_s: float) -> float:
        return load_from_battery_wh(battery_wh * worth, span_s, inverter_efficiency=efficiency, idle_w=idle_w)

    def shared_wh(at_socket_wh: float, span_s: float) -> dict[str, float]:
        through_wh = at_socket_wh + efficiency * idle_w * span_s / 3600
        return {"inverter": at_socket_wh * inverter, "charge": through_wh * charge}

    def unsure_wh(meter_wh: float, at_socket_wh: float, span_s: float) -> float:
        return together(meter_wh * worth * efficiency, *map(expanded, shared_wh(at_socket_wh, span_s).values()))

    def load_w(battery_w: float | None) -> float | None:
        return None if battery_w is None else max((battery_w * worth - idle_w) * efficiency, 0.0)

    def stage_at_socket(stage: StageSummary) -> StageSummary:
        energy_wh = load_wh(stage.energy_wh, stage.span_s)
        mean_w = energy_wh * 3600 / stage.span_s if stage.span_s > 0 else 0.0
        return replace(
            stage,
            energy_wh=energy_wh,
            mean_w=mean_w,
            peak_w=load_w(stage.peak_w),
            uncertainty_wh=unsure_wh(stage.uncertainty_wh, energy_wh, stage.span_s),
        )

    note = remark(_BROUGHT, efficiency_pct=efficiency * 100, spread_pct=INVERTER_SPREAD * 100, idle_w=idle_w)
    energy_wh = load_wh(summary.energy_wh, summary.total_s)
    moved = replace(
        summary,
        place="socket",
        energy_wh=energy_wh,
        uncertainty_wh=unsure_wh(summary.uncertainty_wh, energy_wh, summary.total_s),
        parts={part: size * worth * efficiency for part, size in summary.parts.items()} | shared_wh(energy_wh, summary.total_s),
        peak_w=load_w(summary.peak_w),
        stages=tuple(stage_at_socket(stage) for stage in summary.stages),
        ladder=tuple((at_s, load_wh(energy_wh, at_s)) for at_s, energy_wh in summary.ladder),
        notes=(*summary.notes, note) if inverts else summary.notes,
    )
    return replace(run, summary=moved)


def _group(runs: Sequence[MeasuredRun], servings: int | None) -> list[MeasuredRun]:
    """Return the runs that are averaged: those of one appliance and one number of servings."""
    groups: dict[tuple[str, int], list[MeasuredRun]] = {}
    for run in runs:
        if run.usable:
            groups.setdefault((run.appliance.name, run.servings), []).append(run)
    if not groups:
        return []
    return max(groups.values(), key=lambda group: (group[0].servings == servings, len(group), max(run.day for run in group)))


def _kinds(run: MeasuredRun) -> tuple[str, ...]:
    return tuple(stage.kind for stage in run.summary.stages)


def _alike(group: Sequence[MeasuredRun]) -> list[MeasuredRun]:
    """Return the runs that went through the commonest row of stages; among equals the newest one's."""
    count = Counter(_kinds(run) for run in group)
    model = max(group, key=lambda run: (bool(_kinds(run)), count[_kinds(run)], run.day))
    return [run for run in group if _kinds(run) == _kinds(model)]


def _stages(alike: Sequence[MeasuredRun], total: Repeats, usual: UsualSpread, *, whole: bool) -> tuple[StageEnergy, ...]:
    """Return the averaged stages; scaled to the mean total where not every run went through these stages."""
    rows = list(zip(*(run.summary.stages for run in alike), strict=True))
    sum_wh = sum(fmean(stage.energy_wh for stage in row) for row in rows)
    scale = 1.0 if whole or sum_wh <= 0 else total.mean / sum_wh
    return tuple(_stage(row, scale, usual) for row in rows)


def _ladder(summary: RunSummary, stages: Sequence[StageEnergy]) -> tuple[tuple[float, ...], ...]:
    if not stages:
        return summary.ladder
    points = [(point[0], point[1]) for point in summary.ladder]
    return refit(points, stage_corners(summary.stages), stage_corners(stages))


def _stage(row: Sequence[StageSummary], scale: float, usual: UsualSpread) -> StageEnergy:
    """Return one stage's mean; its meter's uncertainty counts as shared, which is never too narrow."""
    energy = average([stage.energy_wh * scale for stage in row], fmean(stage.uncertainty_wh for stage in row), usual=usual)
    span_s = fmean(stage.span_s for stage in row)
    peaks = [stage.peak_w for stage in row if stage.peak_w is not None]
    return StageEnergy(
        kind=row[0].kind,
        label=next((stage.label for stage in reversed(row) if stage.label), ""),
        energy_wh=energy.mean,
        span_s=span_s,
        mean_w=energy.mean * 3600 / span_s if span_s > 0 else 0.0,
        peak_w=max(peaks, default=None),
        uncertainty_wh=energy.half_interval,
        attended=2 * sum(stage.attended for stage in row) >= len(row),
        cycling=2 * sum(stage.cycling for stage in row) >= len(row),
    )


def _run_facts(run: MeasuredRun, *, counted: bool, group: MeasuredRun) -> RunFacts:
    return record.taken(
        RunFacts,
        run.summary,
        day=run.day,
        counts=counted,
        appliance=run.appliance.name,
        source=run.source.name,
        meter=run.meter.name,
        verdict_at=run.verdict_at,
        verdict_reason=_why_not(run, counted, group) or run.verdict_reason,
        revision=run.revision,
        servings=run.servings,
        notes=tuple(note for note in run.summary.notes if isinstance(note, Remark) and note.code == _BROUGHT),
    )


def _why_not(run: MeasuredRun, counted: bool, group: MeasuredRun) -> Said:
    """Return why a run does not go into these figures, where neither its verdict nor its flags say it."""
    if counted:
        return ""
    if not run.counts:
        return "" if run.verdict_reason or run.summary.flags else remark("left_out_by_cook")
    if not run.summary.known:
        return remark("too_little_read")
    if run.appliance.name != group.appliance.name:
        return remark("on_another_appliance", name=group.appliance.name)
    return remark("for_other_servings", servings=run.servings, figures=group.servings)
