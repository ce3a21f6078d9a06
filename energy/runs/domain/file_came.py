"""How a file came, as it is kept beside its readings: plain JSON with instants, and back."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from energy.runs.domain.rhythm import Came, Hole
from kitchen.domain import record
from kitchen.domain.remark import Remark

Instant = Callable[[float], datetime]


def came_row(came: Came, doubts: Sequence[Remark], instant: Instant) -> dict[str, Any]:
    """Return what is kept of a file; ``instant`` says when a moment of the file was.

    Examples
    --------
    >>> from datetime import timedelta
    >>> noon = datetime.fromisoformat("2026-10-14T12:00:00+00:00")
    >>> came = Came(True, 10.0, ((60.0, 600.0),), "watts")
    >>> row = came_row(came, [], lambda at_s: noon + timedelta(seconds=at_s))
    >>> row["holes"], came_of_rows([row], noon) == came
    ([['2026-10-14T12:01:00+00:00', '2026-10-14T12:10:00+00:00']], True)
    """
    holes = [[instant(moment_s).isoformat() for moment_s in hole] for hole in came.holes]
    kept = {"held": came.held, "step_s": came.step_s, "method": came.method, "holes": holes}
    return {**kept, "doubts": [record.write(doubt) for doubt in doubts]}


def came_of_rows(rows: Iterable[Mapping[str, Any]], zero: datetime) -> Came | None:
    """Return how the files of a run came together, None where nothing is kept of any.

    Held or sampled is told where all of them agree; the longest interval counts.
    """
    told = [row for row in rows if row.get("method")]
    if not told:
        return None
    watts = [row for row in told if row.get("held") is not None]
    held = {row["held"] for row in watts}
    holes: list[Hole] = [
        ((datetime.fromisoformat(low) - zero).total_seconds(), (datetime.fromisoformat(high) - zero).total_seconds())
        for row in told
        for low, high in row.get("holes", ())
    ]
    methods = {row["method"] for row in told}
    step_s = max((float(row.get("step_s", 0.0)) for row in watts), default=0.0)
    return Came(held.pop() if len(held) == 1 else None, step_s, tuple(holes), methods.pop() if len(methods) == 1 else "")


def doubts_of_rows(rows: Iterable[tuple[Mapping[str, Any], bool]]) -> list[Remark]:
    """Return what is in doubt about files that nobody has confirmed."""
    return [record.read(Remark, doubt) for row, confirmed in rows if not confirmed for doubt in row.get("doubts", ())]
