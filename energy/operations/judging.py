"""Working out a run's figures, and the owner's verdict on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from itertools import pairwise

from django.db import transaction

from energy.domain.curve import trace_of
from energy.domain.metering import Limits, MeterSpec, Sample, StageSpan, summarise
from energy.domain.standing import idle_after, idle_note, without_pauses
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
    summary = without_pauses(summary, spans, _pauses(run, spans))
    told = "" if run.ended_at is None else idle_note(idle_after(sorted(samples, key=_at_s), _since(run, run.ended_at)))
    starts_s = min([span.start_s for span in spans] or [sample.at_s for sample in samples], default=0.0)
    trace = trace_of(samples, starts_s, starts_s + summary.total_s)
    notes = tuple(note for note in (*summary.notes, *gathered.notes, told) if note)
    run.summary = {**record.write(replace(summary, notes=notes)), "trace": record.write(trace)}
    run.flags, run.behind = list(summary.flags), False
    run.save(update_fields=["summary", "flags", "behind"])


@transaction.atomic
def judge_run(*, run: Run, verdict: str, reason: str = "", at: datetime | None = None) -> None:
    """Say whether a run counts: ``counts``, ``accepted`` or ``left_out``; ``at`` is when that was said.

    Raises
    ------
    NeedsReason
        If a flagged run is to count without being accepted, or accepted without a reason.
    """
    if verdict == "counts" and run.flags:
        raise NeedsReason("A flagged run counts only when it is accepted with a reason.")
    if verdict == "accepted" and not reason.strip():
        raise NeedsReason("Accepting a flagged run needs a reason.")
    run.verdict, run.verdict_reason, run.verdict_at = verdict, reason.strip(), at
    run.save(update_fields=["verdict", "verdict_reason", "verdict_at"])


@transaction.atomic
def choose_runs(*, verdicts: Mapping[Run, tuple[str, str]], at: datetime) -> int:
    """Give several runs their verdicts, all or none, and return how many changed.

    Raises
    ------
    NeedsReason
        As ``judge_run``; nothing is changed then.
    """
    changed = [(run, *said) for run, said in verdicts.items() if (run.verdict, run.verdict_reason) != (said[0], said[1].strip())]
    for run, verdict, reason in changed:
        judge_run(run=run, verdict=verdict, reason=reason, at=at)
    return len(changed)


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
