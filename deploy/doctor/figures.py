"""Figures: summaries that no longer follow from their readings, editions that are not what was published, presses that wait."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from django.utils import timezone

from deploy.doctor.findings import Finding, ill, mind, well
from energy.models import DeskEvent, Run
from energy.runs.operations.following import runs_that_no_longer_follow
from energy.runs.operations.summing import refresh_summary
from kitchen.models import Edition
from kitchen.operations.publishing import digest_of

_LONG = timedelta(days=2)


def summaries() -> Iterator[Finding]:
    """Work out the figures of every run that has ended, and compare them with those that are kept."""
    differing = list(runs_that_no_longer_follow())
    if differing:
        words = f"The figures of {_count(len(differing), 'run')} no longer follow from their readings: {_named(differing)}."
        yield ill("Runs", words, "manage.py doctor --mend summaries")
    else:
        yield well("Runs", "The figures of every run that has ended follow from its readings.")


def mend_summaries() -> str:
    """Work the figures out again where they no longer follow, and return what was done in words."""
    mended = 0
    for run in runs_that_no_longer_follow():
        refresh_summary(run=run)
        mended += 1
    return f"The figures of {_count(mended, 'run')} were worked out again. Published editions keep theirs."


def editions() -> Iterator[Finding]:
    """Compare every edition with the digest that was taken when it was published."""
    rows = Edition.objects.order_by("pk").values_list("recipe__slug", "number", "facts", "digest")
    differing = [
        f"/r/{slug}/ edition {number}" for slug, number, facts, digest in rows.iterator(20) if digest_of(facts) != digest
    ]
    if differing:
        words = f"{_count(len(differing), 'edition')} no longer say what was published: {', '.join(differing[:5])}."
        yield ill("Editions", words, "manage.py restore --replace FILE, or publish these recipes again")
    else:
        yield well("Editions", "Every edition says what was published.")


def unsent() -> Iterator[Finding]:
    """Name the runs of which something seems to lie unsent on a phone."""
    going_on = list(Run.objects.filter(ended_at=None, started_at__lt=timezone.now() - _LONG).select_related("revision__recipe"))
    lacking = _runs_that_lack_a_photo()
    for run in going_on:
        words = f"{_named([run])} goes on since more than two days. Its last presses may lie unsent on a phone."
        yield mind("Desks", words, f"open /bench/runs/{run.pk}/desk/ on that phone, or finish it there")
    for run in lacking:
        words = f"{_named([run])} names a photo that has not come. It may lie unsent on a phone."
        yield mind("Desks", words, f"open /bench/runs/{run.pk}/desk/ on that phone")
    if not (going_on or lacking):
        yield well("Desks", "No run waits for presses or photos, as far as the server knows.")


def _runs_that_lack_a_photo() -> list[Run]:
    moments = DeskEvent.objects.filter(kind="moment", withdrawn_at=None, said__has_key="photo").values_list("run", "said__photo")
    named = {(run, photo) for run, photo in moments if photo}
    came = {(run, str(key)) for run, key in DeskEvent.objects.filter(kind="photo").values_list("run", "pk")}
    return list(Run.objects.filter(pk__in={run for run, _ in named - came}).select_related("revision__recipe").order_by("pk"))


def _named(runs: list[Run]) -> str:
    said = [f"{run.revision.recipe.title} of {run.started_at:%d %B %Y, %H:%M} (number {run.pk})" for run in runs[:5]]
    return "; ".join(said) + ("" if len(runs) <= 5 else f" and {len(runs) - 5} more")


def _count(number: int, kind: str) -> str:
    return f"{number:,} {kind}" if number == 1 else f"{number:,} {kind}s"
