"""What a power source says about a meal: its share of a charge, the pots of one charge, whether it runs. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from energy.domain.facts import SourceFacts
from energy.domain.kinds import SOURCE_KINDS
from energy.domain.meal import MealEnergy
from energy.domain.sources import Verdict
from energy.domain.words import about_wh, format_percent, format_watts, format_wh

_GAUGE_CELLS = 10
_WHOLE_PCT = 100.0


@dataclass(frozen=True)
class SourceLine:
    """One source's answer in words; ``cells`` are the gauge's, each ``used``, ``spare`` or empty.

    ``beyond`` says that one charge does not suffice; ``meals`` is empty where the reserve leaves no whole meal.
    """

    name: str
    kind: str
    share: str
    capacity: str
    meals: str
    reserve: str
    verdict: Verdict | None
    losses: str
    drawn: str
    cells: tuple[str, ...]
    own_kit: bool = False
    beyond: bool = False


def source_line(source: SourceFacts, meal: MealEnergy) -> SourceLine:
    """Return what a source says about a meal that is fed from it."""
    battery = meal.share_pct is not None
    about = "about " if meal.standing == "estimated" else ""
    return SourceLine(
        name=meal.source_name,
        kind="your kit" if meal.own_kit else dict(SOURCE_KINDS).get(source.kind, source.kind),
        share=f"{about}{format_percent(meal.share_pct)}" if meal.share_pct is not None else "",
        capacity=format_wh(meal.capacity_wh) if meal.capacity_wh else "",
        meals=_pots(meal),
        reserve=f"with {format_percent(meal.reserve_pct)} kept in reserve" if battery and meal.reserve_pct else "",
        verdict=meal.verdict,
        losses=losses_words(source) if battery and not meal.own_kit else "",
        drawn=f"{about}{about_wh(meal.battery_wh, meal.battery_uncertainty_wh)}" if meal.battery_wh is not None else "",
        cells=gauge(meal.share_pct, meal.reserve_pct) if meal.share_pct is not None else (),
        own_kit=meal.own_kit,
        beyond=meal.share_pct is not None and meal.share_pct > _WHOLE_PCT,
    )


def _pots(meal: MealEnergy) -> str:
    """Return the pots of one charge, as few and as many as the uncertainty leaves open; empty where there is not even one."""
    fewest, most = meal.meals_low or 0, meal.meals_high or 0
    pot = "meal" if meal.batches > 1 else "pot"
    if most == 0:
        return ""
    if fewest == 0:
        return f"1 {pot} at most" if most == 1 else f"{most:,} {pot}s at most"
    if fewest < most:
        return f"{fewest:,} to {most:,} {pot}s"
    return f"1 {pot}" if most == 1 else f"{most:,} {pot}s"


def losses_words(source: SourceFacts) -> str:
    """Return what an inverter loses, as a sentence."""
    idle = f", idle {format_watts(source.idle_w)}" if source.idle_w else ""
    return f"Inverter {format_percent(source.inverter_efficiency * 100)}{idle}."


def gauge(share_pct: float, reserve_pct: float) -> tuple[str, ...]:
    """Return the cells of a battery's gauge: used from the left, kept in reserve from the right.

    Examples
    --------
    >>> gauge(29, 10)
    ('used', 'used', 'used', '', '', '', '', '', '', 'spare')
    """
    used = min(_GAUGE_CELLS, max(1, round(share_pct / 100 * _GAUGE_CELLS)))
    spare = min(_GAUGE_CELLS - used, round(reserve_pct / 100 * _GAUGE_CELLS))
    return ("used",) * used + ("",) * (_GAUGE_CELLS - used - spare) + ("spare",) * spare


def print_line(source: SourceLine) -> str:
    """Return the one line about a source that a paper card has room for."""
    of = f"{source.share} of {source.capacity}"
    parts = []
    if source.beyond:
        parts.append(f"More than one charge: {of}.")
    elif source.meals:
        parts.append(f"{of[:1].upper()}{of[1:]}, {source.meals} a charge.")
    elif source.share:
        parts.append(f"{of[:1].upper()}{of[1:]}: no whole pot {source.reserve}.")
    if source.verdict is not None:
        parts.append(source.verdict.words)
    return " ".join(parts)
