"""Two cookers on one source at once: the sum of their peaks against its rating, and from when on they get along."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from energy.facts import EnergyFacts, SourceFacts, StageEnergy
from energy.gear.domain.sources import TIGHT_PCT, hook_up_w
from kitchen.domain.remark import Remark, Said, remark


def source_limit_w(source: SourceFacts, inverter_w: float | None) -> tuple[float | None, Said]:
    """Return what a source gives all the time [W] and its name: the inverter, a rating, or volts x amps."""
    if inverter_w:
        return inverter_w, remark("your_inverter")
    if source.continuous_w is not None:
        return source.continuous_w, source.name
    return (hook_up_w(source.volts, source.amps) if source.volts and source.amps else None), source.name


def side_by_side(facts: EnergyFacts, beside_w: float, limit_w: float | None) -> tuple[Remark, ...]:
    """Return whether a second cooker runs beside this one, and if not, from which stage on it does.

    Parameters
    ----------
    facts : EnergyFacts
        The measured cook, with its peak and its stages.
    beside_w : float, > 0
        What the other cooker draws at most. [W]
    limit_w : float or None
        What the source gives all the time. [W]

    Returns
    -------
    tuple of Remark
        One or two.

    Notes
    -----
    Peaks add up, since nothing keeps two elements from being on at once. Above 90 % of the rating it is called tight. The second
    one may start with the first stage from which on every stage's highest watts leave it room.
    """
    peak_w = facts.peak_w if facts.peak_w is not None and facts.peak_seen else max(facts.appliance.rated_w, facts.peak_w or 0.0)
    figures = {"beside_w": beside_w, "peak_w": peak_w, "together_w": peak_w + beside_w}
    if not limit_w:
        return (remark("beside_unknown", **figures),)
    share_pct = 100 * (peak_w + beside_w) / limit_w
    figures |= {"share_pct": share_pct, "limit_w": limit_w}
    if share_pct < TIGHT_PCT:
        return (remark("both_run", **figures),)
    tight = remark("both_tight" if share_pct <= 100 else "both_too_much", **figures)
    return tight, _staggered(facts.stages, peak_w, beside_w, limit_w)


def _staggered(stages: Sequence[StageEnergy], peak_w: float, beside_w: float, limit_w: float) -> Remark:
    """Return from when on a second cooker may start."""
    room_w = limit_w * TIGHT_PCT / 100 - beside_w
    starts_s = [0.0, *accumulate(stage.span_s for stage in stages)]
    for number in range(1, len(stages)):
        if all(_highest_w(stage, peak_w) <= room_w for stage in stages[number:]):
            kind = stages[number].label or stages[number].kind.replace("_", " ")
            return remark("start_other_later", span_s=starts_s[number], stage=kind)
    return remark("no_room_alone" if beside_w > limit_w * TIGHT_PCT / 100 else "one_after_other")


def _highest_w(stage: StageEnergy, peak_w: float) -> float:
    """Return the highest watts of a stage: as read, else the cook's peak wherever anything was drawn. [W]"""
    if stage.peak_w is not None:
        return stage.peak_w
    return peak_w if stage.mean_w > 0 else 0.0
