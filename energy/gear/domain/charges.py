"""How many charges several meals take together, cooked one after the other. Pure."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

_NEARLY = 1e-9

Share = tuple[float, float | None] | None
"""What a meal takes of a full charge: the least and the most, None where nobody knows the most; None: nothing is known. [%]"""


@dataclass(frozen=True)
class Served:
    """On which charge a meal begins, the first being 1: at the earliest, and at the latest where that is known."""

    earliest: int
    latest: int | None


@dataclass(frozen=True)
class ChargesTaken:
    """How many charges meals take: ``most`` is None where nobody knows; then the fewest are the least of more.

    ``first_may`` is the first meal that may not fit on the first charge, ``first_sure`` the first that does not, by their places;
    None where there is none. ``beyond`` are the places of those that take more than one charge each, for sure.
    """

    fewest: int
    most: int | None
    served: tuple[Served, ...]
    first_may: int | None
    first_sure: int | None
    beyond: tuple[int, ...]


def charges_for(shares: Sequence[Share], reserve_pct: float = 0.0) -> ChargesTaken:
    """Return how many charges these meals take, in their order.

    Parameters
    ----------
    shares : sequence of (float, float or None) or None
        What each takes of a full charge, between two ends. [%]
    reserve_pct : float, 0 <= x < 100
        What stays in the battery. [%]

    Returns
    -------
    ChargesTaken

    Notes
    -----
    A meal that does not fit on what is left above the reserve begins on a full charge; one that is larger than a charge goes on
    to the next. With every share at its least these are the fewest charges, with every share at its most the most: to move any
    meal later never lets a later one begin earlier.

    Examples
    --------
    >>> found = charges_for([(30, 34), (40, 44), (20, 24)], reserve_pct=5)
    >>> (found.fewest, found.most), (found.first_may, found.first_sure)
    ((1, 2), (2, None))
    >>> found = charges_for([(30, 34), None, (80, None)], reserve_pct=10)
    >>> (found.fewest, found.most), (found.first_may, found.first_sure), found.served[2]
    ((2, None), (1, 2), Served(earliest=2, latest=None))
    """
    if not 0 <= reserve_pct < 100:
        raise ValueError("reserve_pct should lie between 0 and 100")
    room = 100 - reserve_pct
    least = _walk([0.0 if share is None else share[0] for share in shares], room)
    most = _walk([math.inf if share is None or share[1] is None else share[1] for share in shares], room)
    fewest, last = _begun(least[-1][1], room) if least else 0, most[-1][1] if most else 0.0
    return ChargesTaken(
        fewest=fewest,
        most=_begun(last, room) if math.isfinite(last) else None,
        served=tuple(map(_served, least, most)),
        first_may=_first_beyond(most, room),
        first_sure=_first_beyond(least, room),
        beyond=tuple(place for place, share in enumerate(shares) if share is not None and share[0] > room + _NEARLY),
    )


def _served(early: tuple[float, float], late: tuple[float, float]) -> Served:
    return Served(int(early[0]), int(late[0]) if math.isfinite(late[0]) else None)


def _walk(shares: Sequence[float], room: float) -> list[tuple[float, float]]:
    """Return for each meal the charge on which it begins, and how much has gone when it is done, counted in what charges give."""
    found: list[tuple[float, float]] = []
    gone = 0.0
    for share in shares:
        begun = _begun(gone, room) if math.isfinite(gone) else math.inf
        fits = share <= begun * room - gone + _NEARLY if math.isfinite(begun) else False
        charge, start = (max(begun, 1), gone) if fits else (begun + 1, begun * room)
        gone = start + share
        found.append((charge, gone))
    return found


def _begun(gone: float, room: float) -> int:
    return math.ceil(gone / room - _NEARLY)


def _first_beyond(walked: Sequence[tuple[float, float]], room: float) -> int | None:
    return next((place for place, (_, gone) in enumerate(walked) if gone > room + _NEARLY), None)
