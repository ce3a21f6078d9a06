"""Two cookers on one source at once: the sum of their peaks against its rating, and from when on they get along."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from energy.domain.facts import EnergyFacts, SourceFacts, StageEnergy
from energy.domain.sources import TIGHT_PCT, hook_up_w
from energy.domain.words import format_minutes, format_percent, format_watts


def source_limit_w(source: SourceFacts, inverter_w: float | None) -> tuple[float | None, str]:
    """Return what a source gives all the time [W] and its name in a sentence: the inverter, a rating, or volts x amps."""
    if inverter_w:
        return inverter_w, "your inverter"
    if source.continuous_w is not None:
        return source.continuous_w, source.name
    return (hook_up_w(source.volts, source.amps) if source.volts and source.amps else None), source.name


def side_by_side(facts: EnergyFacts, beside_w: float, limit_w: float | None, name: str) -> str:
    """Return whether a second cooker runs beside this one, and if not, from which stage on it does.

    Parameters
    ----------
    facts : EnergyFacts
        The measured cook, with its peak and its stages.
    beside_w : float, > 0
        What the other cooker draws at most. [W]
    limit_w : float or None
        What the source gives all the time. [W]
    name : str
        How a sentence calls the source.

    Returns
    -------
    str
        One or two sentences.

    Notes
    -----
    Peaks add up, since nothing keeps two elements from being on at once. Above 90 % of the rating it is called tight. The second
    one may start with the first stage from which on every stage's highest watts leave it room.
    """
    peak_w = facts.peak_w if facts.peak_w is not None and facts.peak_seen else max(facts.appliance.rated_w, facts.peak_w or 0.0)
    together = f"Beside a cooker of {format_watts(beside_w)}: {format_watts(peak_w)} and {format_watts(beside_w)} make "
    total = f"{together}{format_watts(peak_w + beside_w)}"
    if not limit_w:
        return f"{total}. Whether that runs is not known: no rating in watts is known for {name}."
    share_pct = 100 * (peak_w + beside_w) / limit_w
    of = f"{format_percent(share_pct)} of the {format_watts(limit_w)} that {name} gives"
    if share_pct < TIGHT_PCT:
        return f"{total}, {of}: both run at once."
    word = "tight" if share_pct <= 100 else "too much"
    return f"{total}, {of}: {word}. {_staggered(facts.stages, peak_w, beside_w, limit_w)}"


def _staggered(stages: Sequence[StageEnergy], peak_w: float, beside_w: float, limit_w: float) -> str:
    """Return from when on a second cooker may start."""
    room_w = limit_w * TIGHT_PCT / 100 - beside_w
    starts_s = [0.0, *accumulate(stage.span_s for stage in stages)]
    for number in range(1, len(stages)):
        if all(_highest_w(stage, peak_w) <= room_w for stage in stages[number:]):
            kind = stages[number].label or stages[number].kind.replace("_", " ")
            later = format_minutes(starts_s[number])
            return f"Start the other one {later} later, when this one comes to “{kind}”: then both have room."
    if room_w < 0 or beside_w > limit_w * TIGHT_PCT / 100:
        return "The other one has no room even alone."
    return "Cook one after the other: the element of this one draws its full watts in its last heating stage, too."


def _highest_w(stage: StageEnergy, peak_w: float) -> float:
    """Return the highest watts of a stage: as read, else the cook's peak wherever anything was drawn. [W]"""
    if stage.peak_w is not None:
        return stage.peak_w
    return peak_w if stage.mean_w > 0 else 0.0
