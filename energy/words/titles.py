"""What a drawing says in a sentence, and what a stage is called on it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from energy.facts import StageEnergy
from energy.runs.domain.curve import Trace
from energy.tariffs.domain.hours import MONTHS, Hours
from energy.words.figure_words import capitalized, listed, spelled
from energy.words.figures import NOTHING_WH, about_wh, down_to, format_minutes, to_step
from energy.words.remarks import Language, sentence
from kitchen.domain.stages import STAGE_KINDS

_MOST = 0.8
"""The stages that are named take this much together, at least."""

_NAMED = 3
_LONGEST_NAME = 16


def _measured(stage: StageEnergy) -> str:
    return about_wh(stage.energy_wh, stage.uncertainty_wh)


@dataclass(frozen=True)
class Fineness:
    """How fine the figures of a drawing are: as fine as those that are printed beside it.

    Attributes
    ----------
    step_wh : float
        What the watt-hours of its title and of its points are rounded to. [Wh]
    down : bool
        Whether they are the least of more, and rounded down.
    rounded_s : callable
        A span as it is printed. [s]
    stage_wh : callable
        What a stage takes, in words.
    """

    step_wh: float = 1.0
    down: bool = False
    rounded_s: Callable[[float], float] = float
    stage_wh: Callable[[StageEnergy], str] = _measured

    def energy(self, energy_wh: float) -> str:
        """Return watt-hours as they are printed."""
        return to_step(down_to(energy_wh, self.step_wh) if self.down else energy_wh, self.step_wh)


def stage_name(stage: StageEnergy) -> str:
    """Return the stage's own label where it is short, else its kind's."""
    kind = STAGE_KINDS[stage.kind].label if stage.kind in STAGE_KINDS else stage.kind
    return stage.label if 0 < len(stage.label) <= _LONGEST_NAME else kind


def batch_name(number: int, language: Language) -> str:
    """Return what one of several batches is called."""
    return sentence(language, "batch_number", number=number)


def unnamed_words(stages: Sequence[StageEnergy], fine: Fineness, language: Language, *, batches: int = 1) -> str:
    """Return which stages have no name on a drawing, and how long they take; of batches, the row of each. Empty where all have.

    Examples
    --------
    >>> still = StageEnergy("rest", "", 0, 240, 0, None, 0, False)
    >>> [unnamed_words([still], Fineness(), "en", batches=n).replace(chr(160), " ") for n in (1, 2)]
    ['Too narrow for a label: rest 4 min.', 'In each batch: rest.']
    """
    if not stages:
        return ""
    if batches > 1:
        return sentence(language, "in_each_batch", stages=", ".join(map(stage_name, stages)))
    told = (f"{stage_name(stage)} {format_minutes(fine.rounded_s(stage.span_s))}" for stage in stages)
    return sentence(language, "no_room_for_label", stages=", ".join(told))


def strip_title(stages: Sequence[StageEnergy], fine: Fineness, language: Language) -> str:
    """Return the result in a sentence: the few stages that take most of the energy."""
    stages = [stage for stage in stages if stage.energy_wh >= NOTHING_WH]
    whole = fine.energy(sum(map(_energy_wh, stages)))
    most = _the_most(stages, _energy_wh)
    if len(most) > _NAMED:
        first = max(stages, key=_energy_wh)
        figures = {"count": len(stages), "stage": stage_name(first), "most": fine.energy(first.energy_wh)}
        return sentence(language, "spread_out", whole=whole, **figures)
    part = sentence(language, "all_of", whole=whole)
    if len(most) < len(stages):
        part = sentence(language, "part_of", part=fine.energy(sum(map(_energy_wh, most))), whole=whole)
    return sentence(language, "one_takes" if len(most) == 1 else "they_take", stages=_named(most, language), part=part)


def what_costs_what(stages: Sequence[StageEnergy], language: Language) -> str:
    """Return which stages cost the energy and how much of the time they take; empty where all of them do, or nothing was drawn.

    Examples
    --------
    >>> hot = StageEnergy("come_up", "", 120, 600, 720, None, 2, False)
    >>> still = StageEnergy("rest", "", 0, 1200, 0, None, 0, False)
    >>> what_costs_what([hot, still], "en").replace(chr(160), " ")
    'Come up takes 100 % of the energy and 33 % of the time.'
    """
    total_wh, total_min = sum(map(_energy_wh, stages)), sum(map(_minutes, stages))
    if total_wh < NOTHING_WH or total_min <= 0:
        return ""
    most = _the_most(stages, _energy_wh)
    if len(most) == len(stages) or len(most) > _NAMED:
        return ""
    energy_pct, time_pct = (100 * sum(map(size, most)) / total for size, total in ((_energy_wh, total_wh), (_minutes, total_min)))
    code = "one_costs" if len(most) == 1 else "they_cost"
    return sentence(language, code, stages=_named(most, language), energy_pct=energy_pct, time_pct=time_pct)


def ladder_title(points: Sequence[Sequence[float]], fine: Fineness, language: Language) -> str:
    """Return the result in a sentence: how much after how long, and how long nothing more was drawn."""
    if not points:
        return sentence(language, "nothing_read")
    end_s, total_wh = points[-1][0], points[-1][1]
    reached_s = next(point[0] for point in points if point[1] >= total_wh - max(0.005 * total_wh, 0.05))
    return sentence(
        language,
        "climbed" if end_s - reached_s < 60 else "climbed_then_still",
        energy=fine.energy(total_wh),
        span=spelled(fine.rounded_s(reached_s), language),
        rest=spelled(fine.rounded_s(end_s - reached_s), language),
    )


def ladders_title(ends: Sequence[tuple[str, float, float]], language: Language) -> str:
    """Return the result in a sentence: each run's letter, minutes and watt-hours. [-, s, Wh]"""
    told = [
        sentence(language, "runs_climb", letter=letter, energy=to_step(energy_wh, 1.0), span=spelled(at_s, language))
        for letter, at_s, energy_wh in ends
    ]
    return f"{'; '.join(told)}."


def curve_title(trace: Trace, peak: str, language: Language) -> str:
    """Return the result in a sentence: the peak and when, how often the element came on, and where nothing was read."""
    after = "from_the_start" if trace.peak_s < 30 else "first_after"
    when = sentence(language, after, span=spelled(trace.peak_s, language))
    more = sentence(language, "came_on_times", times=trace.switch_ons) if trace.switch_ons > 1 else ""
    if (unread_s := _unread_s(trace)) > 0:
        more += sentence(language, "unread", span_s=unread_s)
    return sentence(language, "peak_at" if peak else "peak_untold", peak=peak, when=when, more=more)


def week_title(hours: Hours, month: int, language: Language) -> str:
    """Return when it is cheapest on an ordinary Monday of a month, in a sentence."""
    runs = [(start, end, band) for start, end, band in hours.week(month)[0] if band is not None]
    least = min(band.price_per_kwh for _, _, band in runs)
    cheap = [(clock(start), clock(end)) for start, end, band in runs if band.price_per_kwh == least]
    windows = [sentence(language, "from_to", least=start, most=end) for start, end in cheap]
    return sentence(language, "ordinary_week", month=MONTHS[month - 1], windows=sentence(language, "and").join(windows))


def clock(day_min: int) -> str:
    """Return a minute of the day as a clock shows it.

    Examples
    --------
    >>> clock(65), clock(1440)
    ('01:05', '24:00')
    """
    return f"{day_min // 60:02d}:{day_min % 60:02d}"


def _unread_s(trace: Trace) -> float:
    """Return how long nothing was read between the pieces. [s]"""
    ends = [(piece.line[0][0], piece.line[-1][0]) for piece in trace.pieces]
    return sum(after[0] - before[1] for before, after in pairwise(ends))


def _the_most(stages: Sequence[StageEnergy], size: Callable[[StageEnergy], float]) -> list[StageEnergy]:
    """Return the largest stages that take most together, in the order of the cook."""
    by_size = sorted(range(len(stages)), key=lambda index: -size(stages[index]))
    enough = _MOST * sum(map(size, stages))
    count = next((n for n in range(1, len(stages)) if sum(size(stages[one]) for one in by_size[:n]) >= enough), len(stages))
    return [stages[index] for index in sorted(by_size[:count])]


def _named(stages: Sequence[StageEnergy], language: Language) -> str:
    return capitalized(listed([stage_name(stage) for stage in stages], language))


def _energy_wh(stage: StageEnergy) -> float:
    return stage.energy_wh


def _minutes(stage: StageEnergy) -> float:
    return stage.span_s / 60
