"""One table of what follows from presses: the server's arithmetic, its tables and the phone's script are all held to it.

A case is what arrives, in the order of arrival, and what must follow, whatever was kept before what. ``at_s`` counts from the
start; an arrival that is ``withdrawn`` takes the press of its name back.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

from energy.runs.domain.desk import Press

_TABLE = json.loads(Path(__file__).with_name("desk_cases.json").read_text("utf-8"))
_NOTHING = {"stages": [], "readings": [], "moments": [], "pauses": [], "paused": False, "ended_at_s": None, "last": {}}
_BESIDE = ("id", "kind", "at_s", "replaces", "withdrawn")

STARTED = datetime.fromisoformat(_TABLE["started_at"])
CASES: list[dict[str, Any]] = [{**case, "follows": {**_NOTHING, **case["follows"]}} for case in _TABLE["cases"]]


def uuid_of(number: int) -> UUID:
    return UUID(f"00000000-0000-4000-8000-{number:012x}")


def instant(at_s: float) -> datetime:
    return STARTED + timedelta(seconds=at_s)


def seconds(moment: datetime | None) -> float | None:
    return None if moment is None else (moment - STARTED).total_seconds()


def press_of(arrival: dict[str, Any]) -> Press:
    said = {name: value for name, value in arrival.items() if name not in _BESIDE}
    return Press(uuid_of(arrival["id"]), arrival["kind"], instant(arrival["at_s"]), said)


def gone(arrivals: Sequence[dict[str, Any]]) -> set[int]:
    """Return the names that were taken back or corrected."""
    return {
        one["id"] if one.get("withdrawn") else one["replaces"] for one in arrivals if one.get("withdrawn") or "replaces" in one
    }


def standing(arrivals: Sequence[dict[str, Any]]) -> list[Press]:
    """Return the presses that stand once these have arrived, by moment and name."""
    taken = gone(arrivals)
    presses = [press_of(one) for one in arrivals if not one.get("withdrawn") and one["id"] not in taken]
    return sorted(presses, key=lambda press: (press.at, str(press.id)))


def numbers(names: Sequence[object]) -> list[int]:
    """Return the numbers that names in the table stand for."""
    return [int(str(name)[-12:], 16) for name in names]
