"""The energy of one meal: for the servings somebody asks for, from the source or the kit that they have."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from energy.estimates.domain.circumstances import Circumstances
from energy.estimates.domain.drawn import Draw, draw_from
from energy.estimates.domain.estimating import Balance, estimate
from energy.estimates.domain.proportion import Estimate
from energy.facts import EnergyFacts, SourceFacts
from energy.gear.domain.supply import supply_for

_WHOLE = Fraction(1)


@dataclass(frozen=True)
class MealEnergy:
    """What a meal takes: at the socket, from what feeds it, and in money.

    Attributes
    ----------
    facts : EnergyFacts
        What was measured.
    batches : int
        Potfuls, one after the other; the figures of ``estimate`` are those of all of them.
    estimate : Estimate
        At the socket: as measured at the servings that were cooked, estimated at any other.
    balance : Balance or None
        The heat balance that an estimate comes from.
    draw : Draw
        From the source that it was measured on, or from the reader's kit.
    price_per_kwh : Fraction or None
        In ``currency``; None where no price is known.
    """

    facts: EnergyFacts
    servings: int
    batches: int
    estimate: Estimate
    balance: Balance | None
    draw: Draw
    price_per_kwh: Fraction | None
    currency: str

    @property
    def measured(self) -> bool:
        """Whether just this was measured; else it is estimated."""
        return self.estimate.standing == "measured"

    @property
    def per_serving_wh(self) -> float:
        """At the socket, for one serving. [Wh]"""
        return self.estimate.energy_wh / self.servings

    def from_source(self, source: SourceFacts) -> Draw:
        """Return what the same meal draws from a source of the kitchen's own; one that it was not measured on was not read."""
        supply = supply_for(replace(self.facts, source=source), {})
        return draw_from(supply if source == self.facts.source else replace(supply, metered=""), self.estimate)


def meal_energy(
    facts: EnergyFacts, servings: int, kit: Mapping[str, Any], *, currency: str = "", portion: Fraction = _WHOLE, batches: int = 1
) -> MealEnergy:
    """Return the energy of a meal for a number of servings and a reader's circumstances.

    Parameters
    ----------
    facts : EnergyFacts
        What was measured.
    servings : int, >= 1
        How many eat.
    kit : mapping
        Any of ``battery_wh``, ``inverter_w``, ``price_per_kwh``: the reader's own battery [Wh], inverter [W] and price;
        ``food_start_c``, ``ambient_c``, ``altitude_m``: how cold and how high it is [C, C, m]; absent or None where not given.
    currency : str
        The currency of a price in the kit; the tariff's where it is empty.
    portion : Fraction > 0
        Size of one serving, as a multiple of the one that was measured. [-]
    batches : int >= 1
        Equal potfuls, cooked one after the other. [-]

    Returns
    -------
    MealEnergy

    Raises
    ------
    ValueError
        If the servings or the batches are fewer than one.

    Notes
    -----
    For the food that was measured, in one batch and as cold, the figures are the measured ones. Anything else is estimated (see
    ``estimating.estimate``). Will it run: the peak that a display showed; where none did, the appliance's rated power if that is
    higher.
    """
    made, balance = estimate(facts, servings, portion=portion, batches=batches, other=circumstances_of(kit))
    price, in_currency = _price(facts, kit, currency)
    draw = draw_from(supply_for(facts, kit), made)
    return MealEnergy(facts, servings, batches, made, balance, draw, price_per_kwh=price, currency=in_currency)


def circumstances_of(kit: Mapping[str, Any]) -> Circumstances:
    """Return how cold and how high it is, as far as a kit says so."""
    return Circumstances(kit.get("food_start_c"), kit.get("ambient_c"), kit.get("altitude_m"))


def _price(facts: EnergyFacts, kit: Mapping[str, Any], currency: str) -> tuple[Fraction | None, str]:
    """Return the reader's price, else the tariff's, and its currency."""
    own = kit.get("price_per_kwh")
    if own is not None:
        return Fraction(Decimal(str(own))), currency or (facts.tariff.currency if facts.tariff else "")
    return (Fraction(facts.tariff.price_per_kwh), facts.tariff.currency) if facts.tariff else (None, currency)
