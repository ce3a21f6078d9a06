"""What follows from the presses on a run desk: readings, stages, moments, pauses and the end, in whatever order they came."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

KINDS = ("reading", "stage", "moment", "pause", "resume", "finish")

DOUBLE_TAP_S = 10.0
"""A stage of the same kind and name that begins this soon after the last one is the same tap. [s]"""


@dataclass(frozen=True)
class Press:
    """One press that stands: the name that the phone gave it, what it is, when it was, and what was said with it."""

    id: UUID
    kind: str
    at: datetime
    said: Mapping[str, Any]


@dataclass(frozen=True)
class Logged:
    """A reading; at least one of its three figures is there. [Wh, W, %]"""

    id: UUID
    at: datetime
    energy_wh: float | None
    power_w: float | None
    charge_pct: float | None
    note: str


@dataclass(frozen=True)
class Begun:
    """A stage begins."""

    id: UUID
    at: datetime
    kind: str
    label: str


@dataclass(frozen=True)
class Noted:
    """A note or a photo; ``photo`` is the name under which the photo was sent."""

    id: UUID
    at: datetime
    text: str
    photo: str


Pause = tuple[datetime, datetime | None]


@dataclass(frozen=True)
class Desk:
    """All that follows from the presses of one run; ``ended_at`` is None while it goes on."""

    readings: frozenset[Logged] = frozenset()
    stages: frozenset[Begun] = frozenset()
    moments: frozenset[Noted] = frozenset()
    pauses: tuple[Pause, ...] = ()
    ended_at: datetime | None = None


def project(presses: Iterable[Press]) -> Desk:
    """Return what follows from the presses that stand.

    Parameters
    ----------
    presses : iterable of Press
        Each once, in any order: only the moment of a press counts, and its name where two share a moment.

    Returns
    -------
    Desk
        The run ends with its latest finish; a reading after that is kept and does not move the end. A pause lasts to the next
        "went on", else to the end.

    Examples
    --------
    >>> noon = datetime(2026, 10, 14, 12)
    >>> pressed = [Press(UUID(int=n), kind, noon + timedelta(minutes=minute), {}) for n, kind, minute in
    ...     ((1, "resume", 8), (2, "pause", 5), (3, "finish", 30), (4, "finish", 28))]
    >>> desk = project(pressed)
    >>> [(begin.minute, end.minute) for begin, end in desk.pauses], desk.ended_at.minute
    ([(5, 8)], 30)
    """
    ordered = sorted(presses, key=lambda press: (press.at, str(press.id)))
    ended_at = max((press.at for press in ordered if press.kind == "finish"), default=None)
    return Desk(
        readings=frozenset(_logged(press) for press in ordered if press.kind == "reading"),
        stages=_stages(ordered),
        moments=frozenset(_noted(press) for press in ordered if press.kind == "moment"),
        pauses=_pauses(ordered, ended_at),
        ended_at=ended_at,
    )


def _logged(press: Press) -> Logged:
    said = press.said
    energy_wh, power_w, charge_pct = (said.get(name) for name in ("energy_wh", "power_w", "charge_pct"))
    return Logged(press.id, press.at, _float(energy_wh), _float(power_w), _float(charge_pct), said.get("note", ""))


def _float(value: Any) -> float | None:
    return None if value is None else float(value)


def _noted(press: Press) -> Noted:
    return Noted(press.id, press.at, press.said.get("text", ""), press.said.get("photo", ""))


def _stages(ordered: list[Press]) -> frozenset[Begun]:
    """Return the stages that begin; a double tap begins one."""
    kept: list[Begun] = []
    for press in ordered:
        if press.kind != "stage":
            continue
        begun = Begun(press.id, press.at, press.said["stage"], press.said.get("label", ""))
        last = kept[-1] if kept else None
        twice = last is not None and (last.kind, last.label) == (begun.kind, begun.label)
        if last is None or not twice or begun.at - last.at >= timedelta(seconds=DOUBLE_TAP_S):
            kept.append(begun)
    return frozenset(kept)


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
