"""What was different when several runs were cooked, and what was the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from energy.kinds import meter_place
from energy.models import Run
from energy.words import ENGLISH, sentence
from energy.words.figure_words import uncapitalized


@dataclass(frozen=True)
class Condition:
    """One circumstance that differs, in words for each run, with the run's letter."""

    name: str
    values: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class ConditionTable:
    """The circumstances that differ, and those that are the same in all runs, each in words."""

    differing: tuple[Condition, ...]
    same: tuple[str, ...]


def conditions(runs: Sequence[Run], letters: str) -> ConditionTable:
    """Return what differs between runs that were fetched with their revision and gear. No query."""
    told = [_circumstances(run) for run in runs]
    differing, same, not_noted = [], [], sentence(ENGLISH, "not_noted")
    for name in told[0]:
        values = [one[name] for one in told]
        if len(set(values)) > 1:
            differing.append(Condition(name, tuple(zip(letters, values, strict=False))))
        elif values[0]:
            same.append(f"{uncapitalized(name)} {values[0]}")
    return ConditionTable(
        tuple(Condition(one.name, tuple((letter, words or not_noted) for letter, words in one.values)) for one in differing),
        tuple(same),
    )


def _circumstances(run: Run) -> dict[str, str]:
    placed = "meter_at_socket" if meter_place(run.meter.place).at_socket else "meter_on_battery"
    found = {
        "condition_revision": f"{run.revision.number}",
        "condition_appliance": run.appliance.name,
        "condition_source": run.source.name,
        "condition_meter": sentence(ENGLISH, placed, name=run.meter.name),
        "condition_servings": f"{run.servings}",
        "condition_air": _celsius(run.ambient_c),
        "condition_food": _celsius(run.food_start_c),
        "condition_altitude": f"{run.altitude_m:,}\u00a0m",
    }
    return {sentence(ENGLISH, code): words for code, words in found.items()}


def _celsius(temp_c: float | None) -> str:
    return "" if temp_c is None else f"{temp_c:g}\u00a0°C"
