"""Working out a run's figures, and the owner's verdict on it."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from django.db import transaction

from energy.domain.curve import trace_of
from energy.domain.metering import Limits, MeterSpec, Sample, StageSpan, summarise
from energy.models import PowerSource, Run
from energy.queries import heat_need_of
from energy.queries.samples import samples_of
from kitchen.domain import record


class NeedsReason(ValueError):
    """A flagged run was to count without a reason."""


def refresh_summary(*, run: Run) -> None:
    """Work out the run's figures and what looks wrong in it from what the tables say now, and keep both with the run.

    What its drawings show beside its climb stands in the summary under ``trace``: lists of runs pass it over.
    """
    gathered = samples_of(run)
    samples = gathered.samples
    source, spans = run.source, _spans(run, samples)
    cooked = None if run.ended_at is None else heat_need_of(run, [span.kind for span in spans])
    summary = summarise(
        samples,
        spans,
        MeterSpec(run.meter.resolution_wh, run.meter.accuracy_pct, run.meter.place),
        limits=Limits(run.appliance.rated_w, source.name, _continuous_w(source), source.surge_w, cooked),
        capacity_wh=source.capacity_wh,
        display_step_pct=source.display_step_pct,
    )
    starts_s = min([span.start_s for span in spans] or [sample.at_s for sample in samples], default=0.0)
    trace = trace_of(samples, starts_s, starts_s + summary.total_s)
    run.summary = {**record.write(replace(summary, notes=(*summary.notes, *gathered.notes))), "trace": record.write(trace)}
    run.flags, run.behind = list(summary.flags), False
    run.save(update_fields=["summary", "flags", "behind"])


@transaction.atomic
def judge_run(*, run: Run, verdict: str, reason: str = "") -> None:
    """Say whether a run counts: ``counts``, ``accepted`` or ``left_out``.

    Raises
    ------
    NeedsReason
        If a flagged run is to count without being accepted, or accepted without a reason.
    """
    if verdict == "counts" and run.flags:
        raise NeedsReason("A flagged run counts only when it is accepted with a reason.")
    if verdict == "accepted" and not reason.strip():
        raise NeedsReason("Accepting a flagged run needs a reason.")
    run.verdict, run.verdict_reason = verdict, reason.strip()
    run.save(update_fields=["verdict", "verdict_reason"])


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
