"""What follows from the presses on a run desk: readings, stages, moments, pauses and the end, in whatever order they came."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from energy.runs.domain.samples import FIGURES, Sample

KINDS = ("reading", "stage", "moment", "pause", "resume", "finish")

DOUBLE_TAP_S = 10.0
"""A stage of the same kind and name that begins this soon after the last one is the same tap. [s]"""


@dataclass(frozen=True)
class Press:
    """One press: the name that the phone gave it, what it is, when it was, and what was said with it.

    ``skew_s`` is how far the phone's clock stood ahead of the server's, ``replaces`` the name of a press that this one corrects.
    """

    id: UUID
    kind: str
    at: datetime
    said: Mapping[str, Any] = field(default_factory=dict)
    skew_s: float | None = None
    replaces: UUID | None = None


Pause = tuple[datetime, datetime | None]


@dataclass(frozen=True)
class Projection:
    """All that follows from the presses of one run.

    ``rows`` are the presses that make a row of their own, by their names: readings, moments, and stages that are no double tap.
    ``ended_at`` is None while it goes on.
    """

    rows: Mapping[UUID, Press] = field(default_factory=dict)
    pauses: tuple[Pause, ...] = ()
    ended_at: datetime | None = None


def project(presses: Iterable[Press]) -> Projection:
    """Return what follows from the presses that stand.

    Parameters
    ----------
    presses : iterable of Press
        Each once, in any order: only the moment of a press counts, and its name where two share a moment.

    Returns
    -------
    Projection
        The run ends with its latest finish; a reading after that is kept and does not move the end. A pause lasts to the next
        "went on", else to the end.

    Examples
    --------
    >>> noon = datetime(2026, 10, 14, 12)
    >>> pressed = [Press(UUID(int=n), kind, noon + timedelta(minutes=minute)) for n, kind, minute in
    ...     ((1, "resume", 8), (2, "pause", 5), (3, "finish", 30), (4, "finish", 28))]
    >>> follows = project(pressed)
    >>> [(begin.minute, end.minute) for begin, end in follows.pauses], follows.ended_at.minute
    ([(5, 8)], 30)
    """
    ordered = sorted(presses, key=lambda press: (press.at, str(press.id)))
    ended_at = max((press.at for press in ordered if press.kind == "finish"), default=None)
    own = [press for press in ordered if press.kind in ("reading", "moment")] + _stages(ordered)
    return Projection({press.id: press for press in own}, _pauses(ordered, ended_at), ended_at)


def sample_of(press: Press, started_at: datetime) -> Sample:
    """Return the reading that a press says, its moment counted from the start of the run.

    Raises
    ------
    TypeError, ValueError
        If a figure is no number, or none that a display can show.

    Examples
    --------
    >>> noon = datetime(2026, 10, 14, 12)
    >>> sample_of(Press(UUID(int=1), "reading", noon + timedelta(minutes=2), {"energy_wh": 12}), noon).figures
    (12.0, None, None)
    """
    figures = {name: float(press.said[name]) for name in FIGURES if press.said.get(name) is not None}
    at_s = (press.at - started_at).total_seconds()
    return Sample(at_s, **figures, note=press.said.get("note", ""), origin="desk", id=press.id)


def _stages(ordered: list[Press]) -> list[Press]:
    """Return the stages that begin; a double tap begins one."""
    kept: list[Press] = []
    for press in ordered:
        if press.kind == "stage" and not (kept and _is_same_tap(kept[-1], press)):
            kept.append(press)
    return kept


def _is_same_tap(last: Press, press: Press) -> bool:
    same = (last.said["stage"], last.said.get("label", "")) == (press.said["stage"], press.said.get("label", ""))
    return same and press.at - last.at < timedelta(seconds=DOUBLE_TAP_S)


def _pauses(ordered: list[Press], ended_at: datetime | None) -> tuple[Pause, ...]:
    """Return from when to when it was paused, within the run; None where it is paused still."""
    pauses: list[Pause] = []
    began: datetime | None = None
    for press in ordered:
        if press.kind == "pause" and began is None:
            began = press.at
        elif press.kind == "resume" and began is not None:
            pauses.append((began, press.at))
            began = None
    if began is not None:
        pauses.append((began, ended_at))
    return tuple(_until(pause, ended_at) for pause in pauses if ended_at is None or pause[0] < ended_at)


def _until(pause: Pause, ended_at: datetime | None) -> Pause:
    began, went_on = pause
    return (began, went_on if ended_at is None or went_on is None else min(went_on, ended_at))
