"""From measured runs to the energy card's facts: which runs count together, and their averages."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from statistics import fmean

from energy.domain.facts import (
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
from energy.domain.heat_model import CookedOnce, heat_model
from energy.domain.ladder import refit, stage_corners
from energy.domain.repeats import Repeats, average
from energy.domain.sources import load_from_battery_wh
from energy.domain.summary import RunSummary, StageSummary
from energy.domain.uncertainty import expanded, together
from energy.domain.words import format_percent, format_watts

EFFICIENCY_SPREAD = 0.035
"""How far an inverter's efficiency may be from what is written for it: half of the usual 85 to 92 of every 100 Wh."""


@dataclass(frozen=True)
class MeasuredRun:
    """One run with everything that tells what it was measured on; ``counts`` is the owner's verdict."""

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

    Returns
    -------
    EnergyFacts or None
        None where no run counts.

    Notes
    -----
    Only like is averaged with like: the runs that count are grouped by appliance and servings; the group at the recipe's own
    servings, then the largest, then the newest makes the figures. The others are listed and say why they do not count. A run
    measured at the battery is brought to the socket with the source's inverter efficiency and idle draw; how far that efficiency
    may be off (evenly spread over ``EFFICIENCY_SPREAD``) goes into its uncertainty. Stages are matched by
    their order and kind; where a run's stages differ, only its total counts, and the stages of the others are scaled to the
    mean total. The ladder is that of the run nearest the mean, stretched so that it meets the mean stages.
    """
    at_socket = [at_the_socket(run) for run in runs]
    group = _group(at_socket, servings)
    if not group:
        return None
    newest = max(group, key=lambda run: run.day)
    total = average([run.summary.energy_wh for run in group], fmean(run.summary.uncertainty_wh for run in group))
    alike = _alike(group)
    nearest = min(alike, key=lambda run: abs(run.summary.energy_wh - total.mean))
    stages = _stages(alike, total, whole=len(alike) == len(group))
    highest = max(group, key=lambda run: run.summary.peak_w or 0.0).summary
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
        source=newest.source,
        meter=newest.meter,
        other_sources=tuple(other_sources),
        tariff=tariff,
        heat=heat_model([_cooked_once(run) for run in alike], stages),
        sizes=_sizes(at_socket, newest.appliance.name),
        elsewhere=_elsewhere(at_socket, newest.appliance.name),
    )


def _cooked_once(run: MeasuredRun) -> CookedOnce:
    pressed = run.appliance.kind == "pressure_cooker" and any(stage.kind == "hold" for stage in run.summary.stages)
    pressure_kpa = (run.appliance.pressure_kpa or 0.0) if pressed else 0.0
    return CookedOnce(run.summary.heat, run.altitude_m, pressure_kpa, run.ambient_c, run.food_start_c is not None)


def _sizes(runs: Sequence[MeasuredRun], appliance: str) -> tuple[SizeFacts, ...]:
    """Return what each number of servings took on one appliance; nothing where only one was cooked."""
    sizes: dict[int, list[RunSummary]] = {}
    for run in runs:
        if run.usable and run.appliance.name == appliance:
            sizes.setdefault(run.servings, []).append(run.summary)
    if len(sizes) < 2:
        return ()
    return tuple(_size(servings, cooked) for servings, cooked in sorted(sizes.items()))


def _elsewhere(runs: Sequence[MeasuredRun], appliance: str) -> tuple[ElsewhereFacts, ...]:
    """Return what the recipe took on other cookers, each with its own number of servings."""
    groups: dict[tuple[str, int], list[MeasuredRun]] = {}
    for run in runs:
        if run.usable and run.appliance.name != appliance:
            groups.setdefault((run.appliance.name, run.servings), []).append(run)
    found = []
    for (name, servings), cooked in sorted(groups.items()):
        size = _size(servings, [run.summary for run in cooked])
        kind = cooked[0].appliance.kind
        found.append(ElsewhereFacts(name, kind, servings, size.energy_wh, size.uncertainty_wh, size.runs, size.total_s))
    return tuple(found)


def _size(servings: int, cooked: Sequence[RunSummary]) -> SizeFacts:
    energy = average([summary.energy_wh for summary in cooked], fmean(summary.uncertainty_wh for summary in cooked))
    return SizeFacts(servings, energy.mean, energy.half_interval, len(cooked), fmean(summary.total_s for summary in cooked))


def at_the_socket(run: MeasuredRun) -> MeasuredRun:
    """Return the run as a meter at the socket would have shown it."""
    summary = run.summary
    if summary.place != "battery" or not summary.known:
        return run
    efficiency, idle_w = run.source.inverter_efficiency, run.source.idle_w
    inverts = efficiency < 1 or idle_w > 0

    def load_wh(battery_wh: float, span_s: float) -> float:
        return load_from_battery_wh(battery_wh, span_s, inverter_efficiency=efficiency, idle_w=idle_w)

    spread = EFFICIENCY_SPREAD if inverts else 0.0

    def unsure_wh(meter_wh: float, at_socket_wh: float) -> float:
        return together(meter_wh * efficiency, expanded(at_socket_wh * spread / efficiency / math.sqrt(3)))

    def load_w(battery_w: float | None) -> float | None:
        return None if battery_w is None else max((battery_w - idle_w) * efficiency, 0.0)

    def stage_at_socket(stage: StageSummary) -> StageSummary:
        energy_wh = load_wh(stage.energy_wh, stage.span_s)
        mean_w = energy_wh * 3600 / stage.span_s if stage.span_s > 0 else 0.0
        return replace(
            stage,
            energy_wh=energy_wh,
            mean_w=mean_w,
            peak_w=load_w(stage.peak_w),
            uncertainty_wh=unsure_wh(stage.uncertainty_wh, energy_wh),
        )

    note = (
        f"Measured at the battery; what reached the socket is worked out with an inverter of {format_percent(efficiency * 100)}, "
        f"give or take {format_percent(EFFICIENCY_SPREAD * 100)}, and {format_watts(idle_w)} for itself."
    )
    energy_wh = load_wh(summary.energy_wh, summary.total_s)
    moved = replace(
        summary,
        place="socket",
        energy_wh=energy_wh,
        uncertainty_wh=unsure_wh(summary.uncertainty_wh, energy_wh),
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


def _stages(alike: Sequence[MeasuredRun], total: Repeats, *, whole: bool) -> tuple[StageEnergy, ...]:
    """Return the averaged stages; scaled to the mean total where not every run went through these stages."""
    rows = list(zip(*(run.summary.stages for run in alike), strict=True))
    sum_wh = sum(fmean(stage.energy_wh for stage in row) for row in rows)
    scale = 1.0 if whole or sum_wh <= 0 else total.mean / sum_wh
    return tuple(_stage(row, scale) for row in rows)


def _ladder(summary: RunSummary, stages: Sequence[StageEnergy]) -> tuple[tuple[float, ...], ...]:
    if not stages:
        return summary.ladder
    points = [(point[0], point[1]) for point in summary.ladder]
    return refit(points, stage_corners(summary.stages), stage_corners(stages))


def _stage(row: Sequence[StageSummary], scale: float) -> StageEnergy:
    energy = average([stage.energy_wh * scale for stage in row], fmean(stage.uncertainty_wh for stage in row))
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
    summary = run.summary
    return RunFacts(
        day=run.day,
        energy_wh=summary.energy_wh,
        uncertainty_wh=summary.uncertainty_wh,
        peak_w=summary.peak_w,
        total_s=summary.total_s,
        counts=counted,
        method=summary.method,
        appliance=run.appliance.name,
        source=run.source.name,
        meter=run.meter.name,
        flags=summary.flags,
        verdict_at=run.verdict_at,
        verdict_reason=_why_not(run, counted, group) or run.verdict_reason,
        ladder=summary.ladder,
        revision=run.revision,
        servings=run.servings,
        peak_seen=summary.peak_seen,
        notes=tuple(note for note in summary.notes if note.startswith("Measured at the battery")),
    )


def _why_not(run: MeasuredRun, counted: bool, group: MeasuredRun) -> str:
    """Return why a run does not go into these figures, where neither its verdict nor its flags say it."""
    if counted:
        return ""
    if not run.counts:
        return "" if run.verdict_reason or run.summary.flags else "Left out by the cook."
    if not run.summary.known:
        return "Too little was read."
    if run.appliance.name != group.appliance.name:
        return f"Cooked on another appliance than {group.appliance.name}."
    return f"Cooked for {run.servings}; the figures are for {group.servings}."
