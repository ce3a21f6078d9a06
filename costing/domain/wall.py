"""The meal's energy from the wall and the price of a kilowatt-hour, taken from the recipe's energy card."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from costing.domain.electricity import NO_KWH_PRICE, Electricity, KwhPrice
from energy.estimates.domain.meal import MealEnergy, meal_energy
from energy.facts import EnergyFacts, TariffFacts
from kitchen.domain.remark import Said, remark


def choose_price(
    own: Decimal | None, tariff: TariffFacts | None, currency: str, *, own_currency: str = "", no_price: Said = NO_KWH_PRICE
) -> tuple[KwhPrice | None, Said]:
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
    no_price : Remark or str
        Why there is no tariff, where the energy facts say it.

    Examples
    --------
    >>> meadow = TariffFacts("Club meadow", "EUR", Decimal("0.31"))
    >>> choose_price(Decimal("0.20"), meadow, "EUR")[0].per_kwh, choose_price(None, meadow, "EUR")[0].source
    (Decimal('0.20'), Remark(code='tariff', values={'name': 'Club meadow'}))
    >>> choose_price(None, meadow, "USD")[1]
    Remark(code='tariff_in_currency', values={'own': 'EUR', 'currency': 'USD'})
    """
    if own is not None and own_currency not in ("", currency):
        return None, remark("own_price_in_currency", own=own_currency, currency=currency)
    if own is not None:
        return KwhPrice(own, remark("own_price")), ""
    if tariff is None:
        return None, no_price
    if tariff.currency != currency:
        return None, remark("tariff_in_currency", own=tariff.currency, currency=currency)
    return KwhPrice(tariff.price_per_kwh, remark("tariff", name=tariff.name)), ""


def electricity_for(
    meal: MealEnergy | None,
    *,
    kit: Mapping[str, Any],
    currency: str,
    own_currency: str = "",
    cooks: bool = True,
    no_tariff: Said = "",
) -> Electricity:
    """Return the electricity of a meal.

    Parameters
    ----------
    meal : MealEnergy or None
        The energy of what is asked for; None where no cook has been measured.
    kit : mapping
        The reader's own circumstances, as the energy card understands them; ``price_per_kwh`` is their own price. [currency/kWh]
    currency : str
        The sheet's currency.
    own_currency : str
        The currency of the price in the kit; empty where it is the sheet's.
    cooks : bool
        Whether the dish is cooked at all; one that is not needs no electricity.
    no_tariff : Remark or str
        Why the source has no tariff, where the energy card says it; else empty.
    """
    own = kit.get("price_per_kwh")
    own_price = None if own is None else Decimal(str(own))
    tariff = None if meal is None else meal.facts.tariff
    price, why = choose_price(own_price, tariff, currency, own_currency=own_currency, no_price=no_tariff or NO_KWH_PRICE)
    if meal is None:
        return Electricity(price=price, needed=cooks, no_price=why)
    wall, at_least = meal.draw.wall_wh, meal.estimate.at_least
    off_wh = (0.0, 0.0) if at_least else (wall.value - wall.low, wall.high - wall.value)
    return Electricity(wall.value, price, not meal.measured, no_price=why, at_least=at_least, off_wh=off_wh)


def electricity_of_side(energy: EnergyFacts | None, servings: int, *, cooks: bool = True) -> Electricity:
    """Return what a number of a side's servings takes from the wall; the price is the main dish's."""
    return electricity_for(None if energy is None else meal_energy(energy, servings, {}), kit={}, currency="", cooks=cooks)
