"""The energy of one meal: for the servings somebody asks for, from the source or the kit that they have."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from energy.domain.facts import StageEnergy
from energy.domain.sources import Verdict


@dataclass(frozen=True)
class MealEnergy:
    """What a meal takes, at the socket, from the battery and at the wall.

    Attributes
    ----------
    standing : str
        ``measured`` at the servings that were cooked, ``estimated`` at any other; ``standing_words`` says from what.
    load_wh, uncertainty_wh : float
        At the socket; half of a 95 % interval, or for an estimate half of its range. [Wh]
    low_wh, high_wh : float
        What the next cook may need. [Wh]
    battery_wh, share_pct, meals_per_charge
        Out of the battery, in per cent of its charge, and whole meals from one charge above its reserve; None without a battery.
    verdict : Verdict or None
        Whether the source, or the reader's inverter, runs the cooker.
    wall_wh : float
        What charging takes at the wall, or the load itself on a hook-up or house mains. [Wh]
    electricity_cost : Fraction or None
        Exact; None where no price is known.
    far_words : str
        A sentence where the servings lie far from what was measured, else empty.
    notes : tuple of str
        What was assumed.
    """

    servings: int
    base_servings: int
    standing: str
    standing_words: str
    load_wh: float
    uncertainty_wh: float
    low_wh: float
    high_wh: float
    per_serving_wh: float
    per_serving_uncertainty_wh: float
    peak_w: float | None
    cooking_s: float
    attended_s: float
    total_s: float
    stages: tuple[StageEnergy, ...]
    ladder: tuple[tuple[float, ...], ...]
    source_name: str
    own_kit: bool
    capacity_wh: float | None
    reserve_pct: float
    battery_wh: float | None
    share_pct: float | None
    meals_per_charge: int | None
    verdict: Verdict | None
    wall_wh: float
    price_per_kwh: Fraction | None
    currency: str
    electricity_cost: Fraction | None
    far_words: str = ""
    notes: tuple[str, ...] = ()
