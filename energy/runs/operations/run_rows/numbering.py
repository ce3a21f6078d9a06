"""The order of a run's stages: numbered by time, whatever came or went."""

from __future__ import annotations

from collections.abc import Sequence

from django.db.models import F, QuerySet

from energy.models import Run, Stage

_OUT_OF_THE_WAY = 10_000


def number_stages(run: Run, gone: QuerySet[Stage], come: Sequence[Stage]) -> bool:
    """Take stages out and put stages in, and number all of them by time; return whether anything changed."""
    changed = bool(gone.delete()[0]) or bool(come)
    if not changed:
        return False
    last = max(run.stages.values_list("position", flat=True), default=-1)
    for place, stage in enumerate(come, start=1):
        stage.position = last + place
    Stage.objects.bulk_create(come)
    ordered = sorted(run.stages.all(), key=lambda stage: (stage.starts_at, str(stage.event or ""), stage.position))
    if [stage.position for stage in ordered] != list(range(len(ordered))):
        run.stages.update(position=F("position") + _OUT_OF_THE_WAY)
        for place, stage in enumerate(ordered):
            Stage.objects.filter(pk=stage.pk).update(position=place)
    return True
