"""The meal's energy from the wall and the price of a kilowatt-hour, taken from the recipe's energy facts."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from costing.domain.electricity import Electricity, KwhPrice
from energy.domain.facts import EnergyFacts, TariffFacts
from energy.domain.meal import meal_energy


def choose_price(
    own: Decimal | None, tariff: TariffFacts | None, currency: str, *, own_currency: str = "", no_price: str = ""
) -> tuple[KwhPrice | None, str]:
    """Return the price of a kilowatt-hour, or None with the reason: the reader's own price first, else the source's tariff.

    Parameters
    ----------
    own : Decimal or None
        What the reader pays. [own_currency/kWh]
    tariff : TariffFacts or None
        The tariff that the recipe's power source is charged on.
    currency : str
        The sheet's currency (ISO 4217 code); a price in another one is not used.
    own_currency : str
        The currency of the reader's own price; empty where it is the sheet's.
    no_price : str
        Why there is no tariff, where the energy facts say it.

    Examples
    --------
    >>> meadow = TariffFacts("Club meadow", "EUR", Decimal("0.31"))
    >>> choose_price(Decimal("0.20"), meadow, "EUR")[0].per_kwh, choose_price(None, meadow, "EUR")[0].words
    (Decimal('0.20'), 'tariff Club meadow')
    >>> choose_price(None, meadow, "USD")[1]
    'its tariff is in EUR, which does not add to USD'
    """
    if own is not None and own_currency not in ("", currency):
        return None, f"your price is in {own_currency}, which does not add to {currency}"
    if own is not None:
        return KwhPrice(own, "your own price"), ""
    if tariff is None:
        return None, no_price or "no price for a kilowatt-hour is known"
    if tariff.currency != currency:
        return None, f"its tariff is in {tariff.currency}, which does not add to {currency}"
    return KwhPrice(tariff.price_per_kwh, f"tariff {tariff.name}"), ""


def electricity_for(
    energy: EnergyFacts | None,
    servings: int,
    *,
    kit: Mapping[str, Any],
    currency: str,
    own_currency: str = "",
    cooks: bool = True,
    portion: Fraction = Fraction(1),
    batches: int = 1,
) -> Electricity:
    """Return the electricity of a number of servings from a recipe's energy facts.

    Parameters
    ----------
    energy : EnergyFacts or None
        None where no cook has been measured.
    servings : int, >= 1
        What is asked for.
    kit : mapping
        The reader's own circumstances, as the energy card understands them; ``price_per_kwh`` is their own price. [currency/kWh]
    currency : str
        The sheet's currency.
    own_currency : str
        The currency of the price in the kit; empty where it is the sheet's.
    cooks : bool
        Whether the dish is cooked at all; one that is not needs no electricity.
    portion : Fraction > 0
        Size of one serving, as a multiple of the written one. [-]
    batches : int >= 1
        Potfuls, one after the other. [-]
    """
    own = kit.get("price_per_kwh")
    own_price = None if own is None else Decimal(str(own))
    if energy is None:
        price, reason = choose_price(own_price, None, currency, own_currency=own_currency)
        return Electricity(price=price, reason="no cook of it has been measured yet", needed=cooks, no_price=reason)
    price, reason = choose_price(own_price, energy.tariff, currency, own_currency=own_currency, no_price=energy.no_price)
    meal = meal_energy(energy, servings, kit, portion=portion, batches=batches)
    return Electricity(meal.wall_wh, price, meal.standing == "estimated", reason, no_price=reason)


def wall_energy_wh(energy: EnergyFacts | None, servings: int) -> float | None:
    """Return what a number of servings takes from the wall, or None where no cook has been measured. [Wh]"""
    return None if energy is None else meal_energy(energy, servings, {}).wall_wh
