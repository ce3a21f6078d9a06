"""What was different when several runs were cooked, and what was the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from energy.models import Run

_PLACES = {"socket": "at the socket", "battery": "on the battery’s display"}


@dataclass(frozen=True)
class Condition:
    """One circumstance that differs, in words for each run, with the run's letter."""

    name: str
    values: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Conditions:
    """The circumstances that differ, and those that are the same in all runs, each in words."""

    differing: tuple[Condition, ...]
    same: tuple[str, ...]


def conditions(runs: Sequence[Run], letters: str) -> Conditions:
    """Return what differs between runs that were fetched with their revision and gear. No query."""
    told = [_told(run) for run in runs]
    differing, same = [], []
    for name in told[0]:
        values = [one[name] for one in told]
        if len(set(values)) > 1:
            differing.append(Condition(name, tuple(zip(letters, values, strict=False))))
        elif values[0]:
            same.append(f"{name[:1].lower()}{name[1:]} {values[0]}")
    return Conditions(
        tuple(Condition(one.name, tuple((letter, words or "not noted") for letter, words in one.values)) for one in differing),
        tuple(same),
    )


def _told(run: Run) -> dict[str, str]:
    return {
        "Revision": f"{run.revision.number}",
        "Appliance": run.appliance.name,
        "Source": run.source.name,
        "Meter": f"{run.meter.name}, {_PLACES.get(run.meter.place, run.meter.place)}",
        "Servings": f"{run.servings}",
        "Air": _celsius(run.ambient_c),
        "Food at the start": _celsius(run.food_start_c),
        "Altitude": f"{run.altitude_m:,}\u00a0m",
    }


def _celsius(temp_c: float | None) -> str:
    return "" if temp_c is None else f"{temp_c:g}\u00a0°C"
