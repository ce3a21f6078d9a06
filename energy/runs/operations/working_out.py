"""Working out a run's figures: at once, or, while very much comes in, every few seconds and when somebody looks."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

from energy.models import PowerSource, Run
from energy.runs.domain.curve import trace_of
from energy.runs.domain.file_came import came_of_rows, doubts_of_rows
from energy.runs.domain.metering import Limits, MeterSpec, Sample, StageSpan, summarise
from energy.runs.domain.scrutiny import said
from energy.runs.domain.standing import idle_after, idle_note, without_pauses
from energy.runs.queries.heat import cooking_minutes, heat_need_of
from energy.runs.queries.samples import samples_of
from kitchen.domain import record

MANY = 2_000
EVERY = timedelta(seconds=10)


def work_out(run: Run) -> None:
    """Let a held run say its figures, and what looks wrong in it, from what the tables say now.

    What its drawings show beside its climb stands in the summary under ``trace``: lists of runs pass it over.
    """
    gathered = samples_of(run)
    samples = gathered.samples
    files = list(run.files.values_list("came", "confirmed"))
    came = came_of_rows((row for row, _ in files), run.started_at) if gathered.own_watts else None
    source, spans = run.source, _spans(run, samples)
    cooked = None if run.ended_at is None else heat_need_of(run, [span.kind for span in spans])
    method_s = None if run.ended_at is None else cooking_minutes(run.revision) * 60
    summary = summarise(
        samples,
        spans,
        MeterSpec(run.meter.resolution_wh, run.meter.accuracy_pct, run.meter.place),
        limits=Limits(run.appliance.rated_w, source.name, _continuous_w(source), source.surge_w, cooked, method_s),
        capacity_wh=source.capacity_wh,
        display_step_pct=source.display_step_pct,
        came=came,
    )
    summary = without_pauses(summary, spans, _pauses(run, spans))
    told = None if run.ended_at is None else idle_note(idle_after(sorted(samples, key=_at_s), _since(run, run.ended_at)))
    starts_s = min([span.start_s for span in spans] or [sample.at_s for sample in samples], default=0.0)
    trace = trace_of(samples, starts_s, starts_s + summary.total_s, came=came)
    notes = (*summary.notes, *gathered.notes, *said(told))
    flags = (*summary.flags, *doubts_of_rows(files))
    run.summary = {**record.write(replace(summary, notes=notes, flags=flags)), "trace": record.write(trace)}
    run.flags, run.behind = run.summary["flags"], False


def work_out_soon(run: Run, at: datetime) -> None:
    """Work a held run's figures out; those of a running cook with very many readings at most every ten seconds.

    Between two times the run is marked ``behind``, and whoever looks at it has the rest worked out.
    """
    lately = run.summed_at is not None and timedelta() <= at - run.summed_at < EVERY
    if run.ended_at is None and lately and _readings(run) > MANY:
        run.behind = True
        return
    work_out(run)
    run.summed_at = at


def _readings(run: Run) -> int:
    """Return how many readings the run's figures were made of, as far as they tell."""
    coverage = (run.summary or {}).get("coverage") or {}
    return int(coverage.get("readings", 0))


def _at_s(sample: Sample) -> float:
    return sample.at_s


def _since(run: Run, moment: datetime) -> float:
    return float((moment - run.started_at).total_seconds())


def _pauses(run: Run, spans: list[StageSpan]) -> list[tuple[float, float]]:
    """Return a run's pauses from its start on; one that goes on lasts to the end of the last stage. [s]"""
    last_s = max((span.end_s for span in spans), default=0.0)
    return [
        (_since(run, datetime.fromisoformat(since)), last_s if until is None else _since(run, datetime.fromisoformat(until)))
        for since, until in run.pauses
    ]


def _spans(run: Run, samples: list[Sample]) -> list[StageSpan]:
    """Return the stages; each lasts until the next, the last one until the run's end (or the last reading of a running one)."""
    stages = list(run.stages.order_by("position"))
    if not stages:
        return []
    starts = [(stage.starts_at - run.started_at).total_seconds() for stage in stages]
    if run.ended_at is not None:
        end_s = (run.ended_at - run.started_at).total_seconds()
    else:
        end_s = max([*starts, *(sample.at_s for sample in samples)])
    return [
        StageSpan(stage.kind, stage.label, start_s, until_s, stage.attended)
        for stage, (start_s, until_s) in zip(stages, pairwise([*starts, end_s]), strict=True)
    ]


def _continuous_w(source: PowerSource) -> float | None:
    """Return what the source gives all the time: its rating, else volts times amps of its fuse."""
    if source.continuous_w is not None:
        return source.continuous_w
    return source.volts * source.amps if source.volts and source.amps else None
