"""Time that stands apart from the cooking: pauses inside a run, and what goes on drawing after its end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from energy.runs.domain.samples import Sample, StageSpan
from energy.runs.domain.summary import RunSummary
from kitchen.domain.remark import Remark, remark
from kitchen.domain.stages import STAGE_KINDS

PauseSpan = tuple[float, float]

SHORTEST_IDLE_S = 30.0


@dataclass(frozen=True)
class Idle:
    """What was drawn after the end: for how long, how much, and that an hour. [s, Wh, W]"""

    span_s: float
    energy_wh: float

    @property
    def mean_w(self) -> float:
        """Mean power. [W]"""
        return self.energy_wh * 3600 / self.span_s


def without_pauses(summary: RunSummary, stages: Sequence[StageSpan], pauses: Sequence[PauseSpan]) -> RunSummary:
    """Return a summary whose cooking and attended minutes leave the pauses out; the total keeps them, and a note says so.

    The energy of a pause counts: it was drawn.

    Examples
    --------
    >>> stages = [StageSpan("come_up", "", 0, 1200, True)]
    >>> whole = RunSummary("counter", "socket", 200, 3, 600, 700, True, 1200, 1200, 1200)
    >>> without = without_pauses(whole, stages, [(300, 600)])
    >>> without.cooking_s, without.attended_s, without.total_s
    (900, 900, 1200)
    """
    inside = [(max(start_s, 0.0), end_s) for start_s, end_s in pauses if end_s > start_s]
    if not inside:
        return summary
    cooking = sum(_shared_s(stage, inside) for stage in stages if _cooks(stage))
    attended = sum(_shared_s(stage, inside) for stage in stages if stage.attended)
    paused_s = sum(_shared_s(stage, inside) for stage in stages)
    if paused_s <= 0:
        return summary
    return replace(
        summary,
        cooking_s=max(summary.cooking_s - cooking, 0.0),
        attended_s=max(summary.attended_s - attended, 0.0),
        notes=(*summary.notes, remark("paused", span_s=paused_s)),
    )


def idle_after(samples: Sequence[Sample], end_s: float) -> Idle | None:
    """Return what went on drawing after the end, by the counter, else by the watts; None where nobody read half a minute of it.

    Examples
    --------
    >>> after = idle_after([Sample(0, 0), Sample(600, 100), Sample(1200, 102)], 600)
    >>> after.energy_wh, after.mean_w
    (2, 12.0)
    """
    counted = [(one.at_s, one.energy_wh) for one in samples if one.energy_wh is not None and one.at_s >= end_s]
    if len(counted) >= 2 and counted[-1][0] - counted[0][0] >= SHORTEST_IDLE_S:
        return Idle(counted[-1][0] - counted[0][0], max(counted[-1][1] - counted[0][1], 0.0))
    drawn = [(one.at_s, one.power_w) for one in samples if one.power_w is not None and one.at_s >= end_s]
    if len(drawn) >= 2 and drawn[-1][0] - drawn[0][0] >= SHORTEST_IDLE_S:
        pairs = pairwise(drawn)
        energy_wh = sum((w0 + w1) / 2 * (t1 - t0) for (t0, w0), (t1, w1) in pairs) / 3600
        return Idle(drawn[-1][0] - drawn[0][0], energy_wh)
    return None


def idle_note(idle: Idle | None) -> Remark | None:
    """Return what is told of the time after the end; None where nothing is known."""
    if idle is None:
        return None
    if idle.energy_wh <= 0:
        return remark("nothing_after", span_s=idle.span_s)
    return remark("drew_after", mean_w=idle.mean_w, energy_wh=idle.energy_wh, span_s=idle.span_s)


def _shared_s(stage: StageSpan, pauses: Sequence[PauseSpan]) -> float:
    return sum(max(min(stage.end_s, end_s) - max(stage.start_s, start_s), 0.0) for start_s, end_s in pauses)


def _cooks(stage: StageSpan) -> bool:
    return stage.kind not in STAGE_KINDS or STAGE_KINDS[stage.kind].cooks
