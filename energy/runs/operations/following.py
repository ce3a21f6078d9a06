"""Whether the figures of runs still follow from what the tables say of them."""

from __future__ import annotations

import json
from collections.abc import Iterator

from energy.models import Run
from energy.runs.operations.working_out import work_out


def runs_that_no_longer_follow() -> Iterator[Run]:
    """Yield the runs that have ended whose kept figures differ from those worked out now, as they are kept; one at a time.

    A run that goes on is worked out with its next press, and one that is behind when somebody looks.
    """
    ended = Run.objects.filter(ended_at__isnull=False, behind=False)
    for key in list(ended.order_by("pk").values_list("pk", flat=True)):
        run = ended.select_related("revision__recipe", "appliance", "source", "meter").filter(pk=key).first()
        if run is None:
            continue
        kept = json.dumps([run.summary, run.flags], sort_keys=True)
        work_out(run)
        if json.dumps([run.summary, run.flags], sort_keys=True) != kept:
            run.refresh_from_db()
            yield run
