"""A run's heat balance as its page shows it: in a sentence, in a small table, and what it leaves out."""

from __future__ import annotations

from dataclasses import dataclass

from energy.domain.heat_need import HeatBalance, HeatNeed
from energy.domain.in_the_pot import LeftOut
from energy.domain.words import format_percent, format_wh
from kitchen.domain.stages import STAGE_KINDS


@dataclass(frozen=True)
class HeatWords:
    """The balance in words: a sentence, rows of (what, how much), what is left out and why."""

    sentence: str
    rows: tuple[tuple[str, str], ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    rough: str = ""


def heat_words(heat: HeatBalance | None) -> HeatWords | None:
    """Return a run's heat balance in words, or None where there is none yet."""
    if heat is None:
        return None
    if heat.need.why_not:
        return HeatWords(heat.need.why_not, left_out=heat.need.left_out)
    rough = f"Roughly, from the water in it alone: {', '.join(heat.need.rough)}." if heat.need.rough else ""
    return HeatWords(_sentence(heat), _rows(heat), heat.need.left_out, rough)


def _sentence(heat: HeatBalance) -> str:
    need = heat.need
    pot = "food and pot" if need.vessel_wh else "the food"
    until = f"By the end of “{STAGE_KINDS[heat.until].label}” {pot} had taken {_at_least(need)}{format_wh(need.needed_wh)}"
    if heat.efficiency is None:
        return f"{until}; no energy was measured by then."
    where = "what is not counted here, the air and steam" if need.at_least else "the air and into steam"
    rest = f"; the rest went into {where}" if heat.efficiency < 1 else ""
    return f"{until} of the {_measured(heat)} measured: {_share(heat)}{rest}."


def _rows(heat: HeatBalance) -> tuple[tuple[str, str], ...]:
    need = heat.need
    pot = f"Pot, {_kilograms(need.vessel_g)}, {_way(need.vessel_start_c, need.end_c)}"
    rows = [
        (f"Food, {_kilograms(need.food_g)}, {_way(need.start_c, need.end_c)}", f"{_at_least(need)}{format_wh(need.food_wh)}"),
        *([(pot, format_wh(need.vessel_wh))] if need.vessel_wh else []),
        (f"Measured by the end of “{STAGE_KINDS[heat.until].label}”", _measured(heat)),
        *([("Efficiency", _share(heat))] if heat.efficiency is not None else []),
    ]
    return tuple(rows)


def _measured(heat: HeatBalance) -> str:
    """Return the energy; "at most" where it is that of the next reading."""
    return f"{'at most ' if heat.at_most else ''}{format_wh(heat.measured_wh)}"


def _share(heat: HeatBalance) -> str:
    at_least = "at least " if heat.at_most or heat.need.at_least else ""
    return f"{at_least}{format_percent((heat.efficiency or 0.0) * 100)}"


def _at_least(need: HeatNeed) -> str:
    return "at least " if need.at_least else ""


def _kilograms(mass_g: float) -> str:
    return f"{mass_g / 1000:.2f}\u00a0kg"


def _way(start_c: float, end_c: float) -> str:
    return f"from {start_c:.0f} to {end_c:.0f}\u00a0°C"
