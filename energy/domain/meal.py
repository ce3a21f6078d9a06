"""The energy of one meal: for the servings somebody asks for, from the source or the kit that they have."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from energy.domain.circumstances import Circumstances
from energy.domain.estimating import Balance, estimate
from energy.domain.facts import EnergyFacts, StageEnergy
from energy.domain.proportion import Estimate
from energy.domain.sources import Verdict, draw_from_battery_wh, meals_per_charge, share_of_charge, wall_wh
from energy.domain.supply import Supply, supply_for
from energy.domain.tariffs import electricity_cost
from energy.domain.words import measured_words

_WHOLE = Fraction(1)


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
    meals_low, meals_high
        The fewest and the most whole meals that the uncertainty leaves open; the same number where it decides nothing.
    verdict : Verdict or None
        Whether the source, or the reader's inverter, runs the cooker.
    wall_wh : float
        What charging takes at the wall, or the load itself on a hook-up or house mains. [Wh]
    battery_uncertainty_wh, wall_uncertainty_wh
        The load's uncertainty carried on to battery and wall; the losses themselves are taken as given. [Wh]
    electricity_cost : Fraction or None
        Exact; None where no price is known.
    far_words : str
        A sentence where the servings lie far from what was measured, else empty.
    notes : tuple of str
        What was assumed.
    batches : int
        Potfuls, one after the other; energies and minutes are those of all of them, ``stages`` those of one.
    balance : Balance or None
        The heat balance that an estimate comes from; ``estimate_how`` is ``balance``, ``sizes`` or ``proportion``, and
        ``estimate_why`` says why no balance could be made.
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
    meals_low: int | None = None
    meals_high: int | None = None
    battery_uncertainty_wh: float = 0.0
    wall_uncertainty_wh: float = 0.0
    batches: int = 1
    balance: Balance | None = None
    estimate_how: str = ""
    estimate_why: str = ""


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
    ``estimating.estimate``). Battery: load / inverter efficiency + idle draw over the whole time; wall: that over the charging
    efficiency. Will it run: the peak that a display showed; where none did, the appliance's rated power if that is higher.
    """
    made, balance = estimate(facts, servings, portion=portion, batches=batches, other=circumstances_of(kit))
    supply = supply_for(facts, kit)
    battery_wh = _battery_wh(made, supply)
    price, in_currency = _price(facts, kit, currency)
    battery_u_wh = 0.0 if battery_wh is None else made.uncertainty_wh / supply.inverter_efficiency
    share_pct = share_of_charge(battery_wh, supply.capacity_wh) if battery_wh and supply.capacity_wh else None
    meals_low, meals, meals_high = _meals(battery_wh, battery_u_wh, supply)
    return MealEnergy(
        servings=servings,
        base_servings=facts.servings,
        standing=made.standing,
        standing_words=_standing_words(facts, made, batches),
        load_wh=made.energy_wh,
        uncertainty_wh=made.uncertainty_wh,
        low_wh=made.low_wh,
        high_wh=made.high_wh,
        per_serving_wh=made.energy_wh / servings,
        per_serving_uncertainty_wh=made.uncertainty_wh / servings,
        peak_w=facts.peak_w,
        cooking_s=made.cooking_s,
        attended_s=made.attended_s,
        total_s=made.total_s,
        stages=made.stages,
        ladder=made.ladder,
        source_name=supply.name,
        own_kit=supply.own,
        capacity_wh=supply.capacity_wh,
        reserve_pct=supply.reserve_pct,
        battery_wh=battery_wh,
        share_pct=share_pct,
        meals_per_charge=meals,
        verdict=supply.verdict,
        wall_wh=_wall_wh(made, battery_wh, supply),
        price_per_kwh=price,
        currency=in_currency,
        electricity_cost=None if price is None else electricity_cost(_wall_wh(made, battery_wh, supply), price),
        far_words=made.far_words,
        notes=supply.notes,
        meals_low=meals_low,
        meals_high=meals_high,
        battery_uncertainty_wh=battery_u_wh,
        batches=batches,
        balance=balance,
        estimate_how="" if made.standing == "measured" else made.how,
        estimate_why=made.why,
        wall_uncertainty_wh=made.uncertainty_wh if battery_wh is None else battery_u_wh / supply.charge_efficiency,
    )


def circumstances_of(kit: Mapping[str, Any]) -> Circumstances:
    """Return how cold and how high it is, as far as a kit says so."""
    return Circumstances(kit.get("food_start_c"), kit.get("ambient_c"), kit.get("altitude_m"))


def _wall_wh(made: Estimate, battery_wh: float | None, supply: Supply) -> float:
    """Return what it takes at the wall: to charge the battery again, or the load itself without one. [Wh]"""
    return made.energy_wh if battery_wh is None else wall_wh(battery_wh, supply.charge_efficiency)


def _meals(battery_wh: float | None, uncertainty_wh: float, supply: Supply) -> tuple[int | None, int | None, int | None]:
    """Return the fewest, the likeliest and the most whole meals of one charge; None without a battery or an energy."""
    if not battery_wh or not supply.capacity_wh:
        return None, None, None
    least_wh = max(battery_wh - uncertainty_wh, battery_wh / 2)
    fewest, meals, most = (
        meals_per_charge(wh, supply.capacity_wh, supply.reserve_pct) for wh in (battery_wh + uncertainty_wh, battery_wh, least_wh)
    )
    return fewest, meals, most


def _battery_wh(estimate: Estimate, supply: Supply) -> float | None:
    """Return what the meal takes out of the battery, None without one."""
    if supply.capacity_wh is None:
        return None
    return draw_from_battery_wh(
        estimate.energy_wh, estimate.total_s, inverter_efficiency=supply.inverter_efficiency, idle_w=supply.idle_w
    )


def _price(facts: EnergyFacts, kit: Mapping[str, Any], currency: str) -> tuple[Fraction | None, str]:
    """Return the reader's price, else the tariff's, and its currency."""
    own = kit.get("price_per_kwh")
    if own is not None:
        return Fraction(Decimal(str(own))), currency or (facts.tariff.currency if facts.tariff else "")
    return (Fraction(facts.tariff.price_per_kwh), facts.tariff.currency) if facts.tariff else (None, currency)


def _standing_words(facts: EnergyFacts, estimate: Estimate, batches: int) -> str:
    if estimate.standing == "measured":
        return measured_words(facts.counted_runs)
    runs = "one run" if facts.counted_runs == 1 else f"{facts.counted_runs} runs"
    together = f", in {batches} batches, one after the other" if batches > 1 else ""
    if estimate.how == "sizes":
        sizes = " and ".join(f"{size.servings}" for size in facts.sizes)
        return f"estimated from cooks for {sizes}{together}"
    from_what = "by the heat balance" if estimate.how == "balance" else "in proportion"
    return f"estimated {from_what} from {runs} for {facts.servings}{together}"
