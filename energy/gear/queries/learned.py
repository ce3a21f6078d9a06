"""What the runs of a source teach about its battery."""

from __future__ import annotations

from energy.estimates.domain.combine import read_at_both_ends
from energy.gear.domain.learned import GivenPerPct, given_per_pct
from energy.models import PowerSource
from energy.runs.queries.runs import does_count, run_summary


def learned_of(source: PowerSource) -> GivenPerPct | None:
    """Return what one per cent of a source's charge gives; None without a battery or a counting run at both ends. One query."""
    if source.pk is None or not source.capacity_wh:
        return None
    counted = [run_summary(run) for run in source.runs.filter(ended_at__isnull=False) if does_count(run)]
    cooks = [cook for summary in counted if (cook := read_at_both_ends(summary))]
    efficiency, step_pct = source.inverter_efficiency, source.display_step_pct
    return given_per_pct(cooks, inverter_efficiency=efficiency, idle_w=source.idle_w, step_pct=step_pct)
