"""Whether what is asked for fits the pot.

Rule: a litre of food for each kilogram that goes in (food is mostly water; what is light when dry swells), against the
appliance's own fill limit. Lines whose mass is not known are not in it, so the volume is "at least". Frying, baking and
roasting appliances have no mark to fill to. Two parts in a hundred above the limit are not worth a word: the volume is no surer.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil

from energy.domain.facts import ApplianceFacts
from energy.domain.in_the_pot import CookedLine, sort_lines
from energy.domain.kinds import APPLIANCE_KINDS

FILLED_TO_A_MARK = ("pressure_cooker", "rice_cooker", "slow_cooker", "kettle", "induction_plate")
_G_PER_L = 1000.0
_GRACE = 1.02


def food_in_pot_g(lines: Sequence[CookedLine], kind: str) -> float | None:
    """Return the mass that goes into the pot for the servings as written, at least; None where no mass is known. [g]"""
    taken, _ = sort_lines(lines, [], Fraction(1), kettle=kind == "kettle")
    return sum(food.mass_g for food in taken) or None


def overfull_words(food_g: float | None, k: Fraction, appliance: ApplianceFacts) -> str:
    """Return in words that ``k`` times the food is more than the appliance may hold; empty where it fits or nobody knows.

    Parameters
    ----------
    food_g : float or None
        What goes into the pot for the servings as written. [g]
    k : Fraction
        Servings asked for over servings written.
    appliance : ApplianceFacts
        Its capacity in litres and fill limit in percent.

    Examples
    --------
    >>> pot = ApplianceFacts("Pressure cooker, 4 L", "pressure_cooker", 700, capacity_l=4.0)
    >>> overfull_words(2180, Fraction(11, 6), pot).replace(chr(160), " ").partition(":")[0]
    'At least 4.0 L of food is more than the 2.7 L that a 4 L pressure cooker may hold'
    >>> overfull_words(2180, Fraction(7, 6), pot)
    ''
    """
    if food_g is None or appliance.capacity_l is None or appliance.kind not in FILLED_TO_A_MARK:
        return ""
    volume_l = food_g * float(k) / _G_PER_L
    limit_l = appliance.capacity_l * appliance.fill_limit_pct / 100
    if volume_l <= limit_l * _GRACE:
        return ""
    kind = "pot" if appliance.kind == "induction_plate" else dict(APPLIANCE_KINDS)[appliance.kind]
    vessel = f"{limit_l:.1f}\u00a0L that a {appliance.capacity_l:g}\u00a0L {kind} may hold"
    return (
        f"At least {volume_l:.1f}\u00a0L of food is more than the {vessel}: "
        f"cook it in {ceil(volume_l / limit_l)} batches or more. The figures here are as if it fitted."
    )
