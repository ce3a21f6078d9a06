"""What a strip says in a sentence: which stages take most of the energy, or of the time."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from energy.charts.lettering import grouped, stage_name
from energy.domain.facts import StageEnergy
from energy.domain.words import NOTHING_WH, format_percent

_MOST = 0.8
"""The stages that are named take this much together, at least."""

_NAMED = 3


def strip_title(stages: Sequence[StageEnergy], by: str, step_wh: float) -> str:
    """Return the result in a sentence: the few stages that take most of the energy (``by="energy"``) or of the minutes."""
    step = step_wh if by == "energy" else 1.0
    size, unit = (_energy_wh, "watt-hours") if by == "energy" else (_minutes, "minutes")
    total = sum(map(size, stages))
    most = _the_most(stages, size)
    if len(most) > _NAMED:
        first = max(stages, key=size)
        return (
            f"{grouped(total, step)} {unit} over {len(stages)} stages, the most of them in one: "
            f"{stage_name(first)}, {grouped(size(first), step)}."
        )
    take = "takes" if len(most) == 1 else "take"
    whole = grouped(total, step)
    part = f"{grouped(sum(map(size, most)), step)} of {whole}" if len(most) < len(stages) else f"all {whole}"
    return f"{_named(most)} {take} {part} {unit}."


def what_costs_what(stages: Sequence[StageEnergy]) -> str:
    """Return which stages cost the energy and how much of the time they take; empty where all of them do, or nothing was drawn.

    Examples
    --------
    >>> hot = StageEnergy("come_up", "", 120, 600, 720, None, 2, False)
    >>> still = StageEnergy("rest", "", 0, 1200, 0, None, 0, False)
    >>> what_costs_what([hot, still]).replace(chr(160), " ")
    'Come up takes 100 % of the energy and 33 % of the time.'
    """
    total_wh, total_min = sum(map(_energy_wh, stages)), sum(map(_minutes, stages))
    if total_wh < NOTHING_WH or total_min <= 0:
        return ""
    most = _the_most(stages, _energy_wh)
    if len(most) == len(stages) or len(most) > _NAMED:
        return ""
    energy_pct, time_pct = (100 * sum(map(size, most)) / total for size, total in ((_energy_wh, total_wh), (_minutes, total_min)))
    take = "takes" if len(most) == 1 else "take"
    return f"{_named(most)} {take} {format_percent(energy_pct)} of the energy and {format_percent(time_pct)} of the time."


def _the_most(stages: Sequence[StageEnergy], size: Callable[[StageEnergy], float]) -> list[StageEnergy]:
    """Return the largest stages that take most together, in the order of the cook."""
    by_size = sorted(range(len(stages)), key=lambda index: -size(stages[index]))
    enough = _MOST * sum(map(size, stages))
    count = next((n for n in range(1, len(stages)) if sum(size(stages[one]) for one in by_size[:n]) >= enough), len(stages))
    return [stages[index] for index in sorted(by_size[:count])]


def _named(stages: Sequence[StageEnergy]) -> str:
    names = [stage_name(stage) for stage in stages]
    words = " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
    return f"{words[:1].upper()}{words[1:]}"


def _energy_wh(stage: StageEnergy) -> float:
    return stage.energy_wh


def _minutes(stage: StageEnergy) -> float:
    return stage.span_s / 60
