"""The meal's energy from the wall, and whose price counts."""

from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

import pytest

from costing.domain.wall import electricity_for, electricity_of_side
from energy.estimates.domain.meal import meal_energy
from energy.facts import TariffFacts
from kitchen.domain.remark import remark
from tests.costing.domain.energy_facts import energy_facts
from tests.energy.estimates.domain.test_estimating import balanced


def electricity(facts, servings=4, kit=MappingProxyType({}), **more):
    """The electricity of a meal, worked out for the same kit."""
    return electricity_for(meal_energy(facts, servings, kit), kit=kit, currency="EUR", **more)


def test_the_wall_gives_more_than_the_socket():
    found = electricity(energy_facts())
    assert found.wall_wh == pytest.approx(250)
    assert float(found.cost) == pytest.approx(0.075)
    assert not found.estimated


def test_other_servings_are_estimated():
    found = electricity(energy_facts(), 8)
    assert found.estimated
    assert found.wall_wh > 250


@pytest.mark.parametrize("typed", [Decimal("0.50"), 0.5, "0.50"])
def test_the_readers_own_price_counts_first(typed):
    found = electricity(energy_facts(), 4, {"price_per_kwh": typed})
    assert found.price.per_kwh == Fraction(1, 2)
    assert found.price.source == remark("own_price")


def test_a_tariff_in_another_currency_is_not_added():
    francs = TariffFacts("Hut", "CHF", Decimal("0.25"))
    found = electricity(energy_facts(tariff=francs))
    assert found.cost is None
    assert found.no_price == remark("tariff_in_currency", own="CHF", currency="EUR")


def test_no_tariff_and_no_run_are_told_apart():
    assert electricity(energy_facts(tariff=None)).no_price == remark("no_kwh_price")
    assert electricity_for(None, kit={}, currency="EUR").wall_wh is None
    assert not electricity_for(None, kit={}, currency="EUR", cooks=False).needed


def test_wall_energy_of_a_side():
    assert electricity_of_side(None, 4).wall_wh is None
    assert electricity_of_side(energy_facts(), 4).wall_wh == pytest.approx(250)


def test_a_meal_that_takes_at_least_so_much_costs_at_least_so_much():
    assert electricity(balanced(), 6, {"altitude_m": 2000}).at_least
    assert not electricity(balanced(), 12).at_least


def test_a_tariff_that_is_over_says_so_and_costs_nothing():
    over, why = energy_facts(tariff=None), "the tariff Hut ended on 30 June 2026"
    found = electricity(over, no_tariff=why)
    assert (found.cost, found.no_price) == (None, why)
    assert electricity(over, 4, {"price_per_kwh": Decimal("0.2")}).cost is not None


def test_a_readers_price_in_another_currency_is_not_added():
    kit = {"price_per_kwh": Decimal("0.2")}
    found = electricity(energy_facts(), 4, kit, own_currency="USD")
    assert (found.cost, found.no_price) == (None, remark("own_price_in_currency", own="USD", currency="EUR"))
    assert electricity(energy_facts(), 4, kit, own_currency="EUR").cost is not None
