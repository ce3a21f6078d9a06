"""Reads that help to record a cook: what the method suggests, and what was used last time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from itertools import groupby
from typing import Any
from uuid import UUID

from django.db.models import Q
from django.utils import timezone

from energy.models import Appliance, Meter, PowerSource, Reading, Run
from energy.runs.domain.samples import FIGURES, Sample
from energy.runs.domain.sheet import PlannedStage
from energy.runs.queries.table_samples import kept_sample, samples_in
from energy.words import ENGLISH, sentence
from energy.words.figures import format_minutes
from kitchen.domain.stages import STAGE_KINDS
from kitchen.models import Recipe, Revision
from kitchen.queries import the_site


@dataclass(frozen=True)
class StageProposal(PlannedStage):
    """A stage that the method suggests; ``about_min`` is its minute by the times in the steps, None where they give none."""

    @property
    def label(self) -> str:
        """The stage in the trade's words."""
        return STAGE_KINDS[self.kind].label


def newest_revision(recipe: Recipe) -> Revision | None:
    """Return the newest revision of a recipe, locked or not. One query."""
    return recipe.revisions.select_related("recipe").order_by("-number").first()


def stage_proposals(revision: Revision) -> list[StageProposal]:
    """Return the stages of a revision's method in their order, with the minute at which each should begin. One query."""
    proposals: list[StageProposal] = []
    minute: Decimal | None = Decimal(0)
    steps = [step for step in revision.steps.order_by("position") if step.stage]
    for kind, group in groupby(steps, key=lambda step: step.stage):
        spans = [step.minutes for step in group if step.minutes is not None]
        planned_min = sum(spans, Decimal(0)) if spans else None
        proposals.append(StageProposal(kind, minute, planned_min))
        minute = None if minute is None or planned_min is None else minute + planned_min
    return proposals


def first_words(recipe: Recipe, revision: Revision, user: Any, now: datetime) -> dict[str, Any]:
    """Return what the recorder starts with: today, the revision's servings, and the gear of the last run. A few queries.

    The gear is that of this recipe's last run, else of this cook's last one, else whatever there is only one of.
    """
    return {
        "day": now.date(),
        "servings": revision.servings,
        "revision": revision.pk,
        "altitude_m": the_site().altitude_m,
        **_usual_gear(recipe, user),
    }


def _usual_gear(recipe: Recipe, user: Any) -> dict[str, int]:
    last = Run.objects.filter(revision__recipe=recipe).order_by("-recorded_at", "-pk").first()
    last = last or Run.objects.filter(operator=user).order_by("-recorded_at", "-pk").first()
    if last is not None:
        return {"appliance": last.appliance_id, "source": last.source_id, "meter": last.meter_id}
    found = {"appliance": Appliance, "source": PowerSource, "meter": Meter}
    only = {name: list(model._default_manager.values_list("pk", flat=True)[:2]) for name, model in found.items()}
    return {name: keys[0] for name, keys in only.items() if len(keys) == 1}


def doubtful_times(run: Run, now: datetime) -> list[str]:
    """Return what is odd about when a run was, a sentence each: in the future, or while another cook ran there. One query."""
    told = [sentence(ENGLISH, "in_the_future")] if max(run.started_at, run.ended_at or run.started_at) > now else []
    others = Run.objects.filter(appliance=run.appliance_id, started_at__lt=run.ended_at or now).exclude(pk=run.pk)
    other = others.filter(Q(ended_at__gt=run.started_at) | Q(ended_at=None, started_at__gt=run.started_at)).first()
    if other is not None:
        day = timezone.localtime(other.started_at)
        told.append(sentence(ENGLISH, "two_on_one_cooker", cooker=run.appliance.name, day=day, clock=f"{day:%H:%M}"))
    return told


def counter_readings(run: Run, but: Reading | None = None) -> list[Sample]:
    """Return the readings of a run that show its counter, in order, without one of them. One query."""
    readings = run.readings.filter(energy_wh__isnull=False).order_by("at")
    if but is not None:
        readings = readings.exclude(pk=but.pk)
    return list(samples_in(readings, run.started_at))


def readings_beside(run: Run, key: UUID | None) -> list[Sample]:
    """Return the counter's readings that a new one is held against; none for one that is kept and only sent again."""
    sent_again = key is not None and run.readings.filter(pk=key).exists()
    return [] if sent_again else counter_readings(run)


@dataclass(frozen=True)
class AtThePot:
    """A run that goes on: for how long, in which stage, what comes next by the method. Empty words say nothing."""

    minutes: str = ""
    stage: str = ""
    since: str = ""
    next_kind: str = ""
    next_label: str = ""


def elapsed_s(run: Run, now: datetime) -> float | None:
    """Return what "now" means while a run goes on; nothing once it has ended, or before it begins. [s]"""
    span_s = (now - run.started_at).total_seconds()
    return span_s if run.ended_at is None and span_s >= 0 else None


def at_the_pot(run: Run, now: datetime) -> AtThePot:
    """Return what somebody at the pot needs to see. Two queries."""
    span_s = elapsed_s(run, now)
    marked = list(run.stages.order_by("position"))
    proposals = stage_proposals(run.revision)
    following = next((proposal.kind for proposal in proposals[len(marked) :]), "")
    return AtThePot(
        minutes="" if span_s is None else format_minutes(span_s),
        stage=str(marked[-1]) if marked else "",
        since=_moment_words(run, marked[-1].starts_at) if marked else "",
        next_kind=following,
        next_label=STAGE_KINDS[following].label if following else "",
    )


def _moment_words(run: Run, moment: datetime) -> str:
    return sentence(ENGLISH, "moment", at_s=(moment - run.started_at).total_seconds())


def typed_stages(run: Run) -> list[dict[str, Any]]:
    """Return a run's stages as rows of a form, in their order. One query."""
    return [
        {
            "minute": (stage.starts_at - run.started_at).total_seconds(),
            "kind": stage.kind,
            "label": stage.label,
            "attended": stage.attended,
            "key": stage.pk,
        }
        for stage in run.stages.order_by("position")
    ]


def typed_reading(reading: Reading) -> dict[str, Any]:
    """Return a reading as a form shows it."""
    sample = kept_sample(reading, reading.run.started_at)
    return {**dict(zip(FIGURES, sample.figures, strict=True)), "minute": sample.at_s}
