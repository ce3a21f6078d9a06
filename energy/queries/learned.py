"""What the runs of a source teach about its inverter."""

from __future__ import annotations

from django.db.models import Model

from energy.domain.learned import BothEnds, Learned, learned_efficiency
from energy.models import PowerSource
from energy.queries.runs import does_count, run_summary


def learned_of(thing: Model | None) -> Learned | None:
    """Return the efficiency that a source's runs teach; None without a battery or a counting run at both ends. One query."""
    if not isinstance(thing, PowerSource) or thing.pk is None or not thing.capacity_wh:
        return None
    cooks = []
    for run in thing.runs.filter(ended_at__isnull=False):
        summary = run_summary(run)
        fall_pct = None if summary is None else summary.charge_fall_pct
        at_both = summary is not None and summary.known and summary.method != "charge" and summary.place == "socket"
        if summary is not None and at_both and fall_pct and does_count(run):
            cooks.append(BothEnds(summary.energy_wh, summary.uncertainty_wh, fall_pct, summary.total_s))
    return learned_efficiency(cooks, capacity_wh=thing.capacity_wh, idle_w=thing.idle_w, step_pct=thing.display_step_pct)
