"""Reads that estimates ask of the whole kitchen."""

from __future__ import annotations

from energy.estimates.domain.repeats import UsualSpread, usual_spread
from energy.models import Run
from energy.runs.queries.runs import COUNTS
from kitchen.models import Recipe

_MOST = 2_000


def usual_in_kitchen(recipe: Recipe) -> UsualSpread:
    """Return how much cooks of one recipe differ here, from all other recipes that were cooked more than once. One query.

    Like with like: one revision on one cooker for one number of servings by one meter; the newest 2,000 cooks. In steps of half a
    per cent and of one degree, so that a cook of one recipe does not move the figures of all others.
    """
    counted = Run.objects.filter(COUNTS, ended_at__isnull=False, summary__method__in=("counter", "watts", "charge"))
    others = counted.exclude(revision__recipe=recipe).order_by("-started_at")
    groups: dict[tuple[int, ...], list[float]] = {}
    for *alike, energy_wh in others.values_list("revision", "appliance", "servings", "meter", "summary__energy_wh")[:_MOST]:
        groups.setdefault(tuple(alike), []).append(energy_wh)
    found = usual_spread([group for group in groups.values() if len(group) > 1])
    return UsualSpread(max(round(found.relative * 200), 1) / 200, max(float(int(found.degrees)), 1.0))
