"""What an appliance may hold: its own limits for the kitchen's arithmetic of filling."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from energy.facts import ApplianceFacts
from energy.heat.in_the_pot import CookedLine, sort_lines
from energy.kinds import appliance_kind
from kitchen.domain.vessel import Vessel

_ML_PER_L = 1000.0


def food_in_pot_g(lines: Sequence[CookedLine], kind: str) -> float | None:
    """Return the mass that goes into the pot for the servings as written, at least; None where no mass is known. [g]"""
    taken, _ = sort_lines(lines, [], Fraction(1), kettle=appliance_kind(kind).water_only)
    return sum(food.mass_g for food in taken) or None


def vessel_of(appliance: ApplianceFacts) -> Vessel | None:
    """Return the vessel of an appliance; None for one without a mark to fill to, or whose capacity nobody noted.

    Examples
    --------
    >>> pot = vessel_of(ApplianceFacts("Pressure cooker, 4 L", "pressure_cooker", 700, capacity_l=4.0, min_liquid_ml=250))
    >>> pot.name.replace(chr(160), " "), pot.capacity_ml, pot.fill_limit, pot.foam_limit, pot.least_liquid_ml
    ('4 L pressure cooker', 4000.0, 0.67, 0.5, 250)
    >>> vessel_of(ApplianceFacts("Oven", "oven", 900, capacity_l=9.0)) is None
    True
    """
    kind = appliance_kind(appliance.kind)
    if appliance.capacity_l is None or not kind.vessel:
        return None
    fill_pct = appliance.fill_limit_pct
    foam_pct = appliance.foam_fill_limit_pct if kind.room_to_swell else fill_pct
    return Vessel(
        name=f"{appliance.capacity_l:g}\u00a0L {kind.vessel}",
        capacity_ml=appliance.capacity_l * _ML_PER_L,
        fill_limit=fill_pct / 100,
        foam_limit=min(fill_pct, foam_pct) / 100,
        least_liquid_ml=appliance.min_liquid_ml or 0,
        closed=kind.closed,
        liquid_only=kind.water_only,
    )
