"""What feeds the cooker: the source that was measured on, or the reader's own battery and inverter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from energy.domain.facts import EnergyFacts, SourceFacts
from energy.domain.sources import Verdict, hook_up_verdict, will_it_run
from energy.domain.words import format_percent, format_watts

OWN_INVERTER_EFFICIENCY = 0.88
OWN_IDLE_W = 10.0
OWN_CHARGE_EFFICIENCY = 0.90
OWN_RESERVE_PCT = 10.0
"""What is assumed of a reader's own battery: common practice, and said beside every figure made with it."""

NEARLY_STEADY = 0.90
"""From this share of the peak on, a stage's mean tells that the peak lasts for moments only."""


@dataclass(frozen=True)
class Supply:
    """What feeds the cooker; ``capacity_wh`` is None without a battery, ``own`` says that it is the reader's."""

    name: str
    own: bool
    capacity_wh: float | None
    reserve_pct: float
    inverter_efficiency: float
    idle_w: float
    charge_efficiency: float
    verdict: Verdict
    notes: tuple[str, ...] = ()


def supply_for(facts: EnergyFacts, kit: Mapping[str, Any]) -> Supply:
    """Return what feeds the cooker for this reader, with the verdict whether it runs and what was assumed.

    Parameters
    ----------
    facts : EnergyFacts
        What was measured, and on which source.
    kit : mapping
        The reader's ``battery_wh`` and ``inverter_w``; absent, None or not above zero where not given.

    Returns
    -------
    Supply
    """
    battery_wh, inverter_w = _given(kit, "battery_wh"), _given(kit, "inverter_w")
    asked_w, notes = _asked_w(facts)

    def verdict_at(power_w: float, sustained_w: float | None = None) -> Verdict:
        return _verdict(facts.source, power_w, sustained_w, own=battery_wh is not None, inverter_w=inverter_w)

    verdict = verdict_at(asked_w, _sustained_w(facts, asked_w))
    rated_w = facts.appliance.rated_w
    if verdict.word in ("runs", "tight") and verdict_at(rated_w).word == "no":
        verdict = replace(verdict, words=f"{verdict.words} Turned up to the {format_watts(rated_w)} on its plate, it would not.")
    if battery_wh is None:
        return source_supply(facts.source, verdict, notes)
    assumed = (
        f"Your battery: the inverter is taken as {format_percent(OWN_INVERTER_EFFICIENCY * 100)} efficient and drawing "
        f"{format_watts(OWN_IDLE_W)} for itself, charging as {format_percent(OWN_CHARGE_EFFICIENCY * 100)} efficient, "
        f"with {format_percent(OWN_RESERVE_PCT)} kept in reserve."
    )
    return Supply(
        name="your battery",
        own=True,
        capacity_wh=battery_wh,
        reserve_pct=OWN_RESERVE_PCT,
        inverter_efficiency=OWN_INVERTER_EFFICIENCY,
        idle_w=OWN_IDLE_W,
        charge_efficiency=OWN_CHARGE_EFFICIENCY,
        verdict=verdict,
        notes=(*notes, assumed),
    )


def source_supply(source: SourceFacts, verdict: Verdict, notes: tuple[str, ...] = ()) -> Supply:
    """Return a source of the kitchen's own as a supply."""
    return Supply(
        name=source.name,
        own=False,
        capacity_wh=source.capacity_wh,
        reserve_pct=source.reserve_pct,
        inverter_efficiency=source.inverter_efficiency,
        idle_w=source.idle_w,
        charge_efficiency=source.charge_efficiency,
        verdict=verdict,
        notes=notes,
    )


def source_verdict(source: SourceFacts, peak_w: float | None, sustained_w: float | None = None) -> Verdict:
    """Return whether a source of the kitchen's own runs a cooker: by its ratings, or by the volts and amps of a hook-up.

    ``sustained_w`` is what it draws for minutes, where the peak is known to be brief; else the peak counts as lasting.
    """
    if source.continuous_w is None and source.volts and source.amps:
        return hook_up_verdict(peak_w, source.volts, source.amps, name=source.name)
    steady_w = peak_w if sustained_w is None else sustained_w
    return will_it_run(steady_w, source.continuous_w, peak_w=peak_w, surge_w=source.surge_w, name=source.name)


def _verdict(source: SourceFacts, peak_w: float, sustained_w: float | None, *, own: bool, inverter_w: float | None) -> Verdict:
    if inverter_w is not None:
        return will_it_run(peak_w, inverter_w, name="your inverter")
    if own:
        return Verdict("unknown", "Whether it runs is not known: say how many watts your inverter gives.")
    return source_verdict(source, peak_w, sustained_w)


def _asked_w(facts: EnergyFacts) -> tuple[float, tuple[str, ...]]:
    """Return the watts that a source must give, and a note where no display showed them."""
    if facts.peak_seen and facts.peak_w is not None:
        return facts.peak_w, ()
    rated_w = facts.appliance.rated_w
    if facts.peak_w is not None and facts.peak_w >= rated_w:
        return facts.peak_w, ()
    return rated_w, (f"No display showed the peak: the cooker's rated {format_watts(rated_w)} stand for it.",)


def _sustained_w(facts: EnergyFacts, peak_w: float) -> float | None:
    """Return the highest mean of a stage whose element stays on, where the peak is hardly above it: only then is the peak brief.

    An element that ticks draws its peak for longer than the seconds that a surge rating is for.
    """
    if not facts.peak_seen:
        return None
    held_w = max((stage.mean_w for stage in facts.stages if not stage.cycling), default=0.0)
    return held_w if NEARLY_STEADY * peak_w <= held_w <= peak_w else None


def _given(kit: Mapping[str, Any], name: str) -> float | None:
    """Return a number of the kit where it is given and above zero."""
    value = kit.get(name)
    return float(value) if value not in (None, "") and float(value) > 0 else None
