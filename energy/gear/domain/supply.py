"""What feeds the cooker: the source that was measured on, or the reader's own battery and inverter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from energy.facts import EnergyFacts, SourceFacts
from energy.gear.domain.sources import Verdict, charge_unsure, hook_up_verdict, inverter_unsure, will_it_run
from energy.kinds import meter_place
from kitchen.domain.remark import Remark, Said, remark

OWN_INVERTER_EFFICIENCY = 0.88
OWN_IDLE_W = 10.0
OWN_CHARGE_EFFICIENCY = 0.90
OWN_RESERVE_PCT = 10.0
"""What is assumed of a reader's own battery: common practice, and said beside every figure made with it."""

NEARLY_STEADY = 0.90
"""From this share of the peak on, a stage's mean tells that the peak lasts for moments only."""


@dataclass(frozen=True)
class Supply:
    """What feeds the cooker; ``capacity_wh`` is None without a battery, ``own`` says that it is the reader's.

    ``metered`` says that the figures were read on this very battery: ``battery`` on its watt-hours, ``charge`` on its charge;
    ``wh_per_pct`` is what one per cent of its charge gave at the socket, with its uncertainty (95 %), where cooks showed it.
    """

    name: Said
    own: bool
    capacity_wh: float | None
    reserve_pct: float
    inverter_efficiency: float
    idle_w: float
    charge_efficiency: float
    verdict: Verdict
    notes: tuple[Remark, ...] = ()
    wh_per_pct: float | None = None
    wh_per_pct_uncertainty: float = 0.0
    metered: str = ""

    @property
    def inverter_unsure(self) -> float:
        """How unsure its inverter's efficiency is, as a share of it (95 %); nothing where there is no inverter. [-]"""
        return inverter_unsure(self.inverter_efficiency, self.idle_w)

    @property
    def charge_unsure(self) -> float:
        """How unsure it is what one per cent of its charge holds, as a share of that (95 %). [-]"""
        return charge_unsure(self.wh_per_pct, self.wh_per_pct_uncertainty)

    @property
    def came_through_inverter(self) -> bool:
        """Whether the figures at the socket were worked out from this battery's watt-hours with its inverter's efficiency."""
        return bool(self.metered) and not (self.metered == "charge" and self.wh_per_pct)


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
    battery_wh, inverter_w = _above_zero(kit, "battery_wh"), _above_zero(kit, "inverter_w")
    asked_w, notes = _asked_w(facts)

    def verdict_at(power_w: float, sustained_w: float | None = None) -> Verdict:
        return _verdict(facts.source, power_w, sustained_w, own=battery_wh is not None, inverter_w=inverter_w)

    verdict = verdict_at(asked_w, _sustained_w(facts, asked_w))
    rated_w = facts.appliance.rated_w
    if verdict.word in ("runs", "tight") and verdict_at(rated_w).word == "no":
        verdict = replace(verdict, turned_up_w=rated_w)
    if battery_wh is None:
        return replace(source_supply(facts.source, verdict, notes), metered=_metered(facts))
    assumed = remark(
        "your_battery_assumed",
        inverter_pct=OWN_INVERTER_EFFICIENCY * 100,
        idle_w=OWN_IDLE_W,
        charging_pct=OWN_CHARGE_EFFICIENCY * 100,
        reserve_pct=OWN_RESERVE_PCT,
    )
    return Supply(
        name=remark("your_battery"),
        own=True,
        capacity_wh=battery_wh,
        reserve_pct=OWN_RESERVE_PCT,
        inverter_efficiency=OWN_INVERTER_EFFICIENCY,
        idle_w=OWN_IDLE_W,
        charge_efficiency=OWN_CHARGE_EFFICIENCY,
        verdict=verdict,
        notes=(*notes, assumed),
    )


def source_supply(source: SourceFacts, verdict: Verdict, notes: tuple[Remark, ...] = ()) -> Supply:
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
        wh_per_pct=source.wh_per_pct,
        wh_per_pct_uncertainty=source.wh_per_pct_uncertainty,
    )


def _metered(facts: EnergyFacts) -> str:
    """Return on what of the battery itself the runs that count were read; empty for the socket, and where they differ."""
    methods = {run.method for run in facts.runs if run.counts}
    if methods == {"charge"}:
        return "charge"
    at_battery = not meter_place(facts.meter.place).at_socket and "charge" not in methods
    return "battery" if at_battery else ""


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
        return will_it_run(peak_w, inverter_w, name=remark("your_inverter"))
    if own:
        return Verdict("unknown", remark("inverter_not_said"))
    return source_verdict(source, peak_w, sustained_w)


def _asked_w(facts: EnergyFacts) -> tuple[float, tuple[Remark, ...]]:
    """Return the watts that a source must give, and a note where no display showed them."""
    if facts.peak_seen and facts.peak_w is not None:
        return facts.peak_w, ()
    rated_w = facts.appliance.rated_w
    if facts.peak_w is not None and facts.peak_w >= rated_w:
        return facts.peak_w, ()
    return rated_w, (remark("rating_for_peak", rated_w=rated_w),)


def _sustained_w(facts: EnergyFacts, peak_w: float) -> float | None:
    """Return the highest mean of a stage whose element stays on, where the peak is hardly above it: only then is the peak brief.

    An element that ticks draws its peak for longer than the seconds that a surge rating is for.
    """
    if not facts.peak_seen:
        return None
    held_w = max((stage.mean_w for stage in facts.stages if not stage.cycling), default=0.0)
    return held_w if NEARLY_STEADY * peak_w <= held_w <= peak_w else None


def _above_zero(kit: Mapping[str, Any], name: str) -> float | None:
    """Return a number of the kit where it is given and above zero."""
    value = kit.get(name)
    return float(value) if value not in (None, "") and float(value) > 0 else None
