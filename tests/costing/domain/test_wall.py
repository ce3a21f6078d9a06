"""The meal's energy from the wall, and whose price counts."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from costing.domain.wall import electricity_for, wall_energy_wh
from energy.domain.facts import TariffFacts
from tests.costing.domain.energy_facts import energy_facts


def test_the_wall_gives_more_than_the_socket():
    found = electricity_for(energy_facts(), 4, kit={}, currency="EUR")
    assert found.wall_wh == pytest.approx(250)
    assert float(found.cost) == pytest.approx(0.075)
    assert not found.estimated


def test_other_servings_are_estimated():
    found = electricity_for(energy_facts(), 8, kit={}, currency="EUR")
    assert found.estimated
    assert found.wall_wh > 250


@pytest.mark.parametrize("typed", [Decimal("0.50"), 0.5, "0.50"])
def test_the_readers_own_price_counts_first(typed):
    found = electricity_for(energy_facts(), 4, kit={"price_per_kwh": typed}, currency="EUR")
    assert found.price.per_kwh == Fraction(1, 2)
    assert found.price.words == "your own price"


def test_a_tariff_in_another_currency_is_not_added():
    francs = TariffFacts("Hut", "CHF", Decimal("0.25"))
    found = electricity_for(energy_facts(tariff=francs), 4, kit={}, currency="EUR")
    assert found.cost is None
    assert found.reason == "its tariff is in CHF, which does not add to EUR"


def test_no_tariff_and_no_run_each_have_their_sentence():
    assert electricity_for(energy_facts(tariff=None), 4, kit={}, currency="EUR").reason.startswith("no price")
    assert electricity_for(None, 4, kit={}, currency="EUR").reason.startswith("no cook")
    assert not electricity_for(None, 4, kit={}, currency="EUR", cooks=False).needed


def test_wall_energy_of_a_side():
    assert wall_energy_wh(None, 4) is None
    assert wall_energy_wh(energy_facts(), 4) == pytest.approx(250)


def test_a_tariff_that_is_over_says_so_and_costs_nothing():
    over = replace(energy_facts(tariff=None), no_price="the tariff Hut ended on 30 June 2026")
    found = electricity_for(over, 4, kit={}, currency="EUR")
    assert (found.cost, found.reason) == (None, "the tariff Hut ended on 30 June 2026")
    assert electricity_for(over, 4, kit={"price_per_kwh": Decimal("0.2")}, currency="EUR").cost is not None


def test_a_readers_price_in_another_currency_is_not_added():
    kit = {"price_per_kwh": Decimal("0.2")}
    found = electricity_for(energy_facts(), 4, kit=kit, currency="EUR", own_currency="USD")
    assert (found.cost, found.reason) == (None, "your price is in USD, which does not add to EUR")
    assert electricity_for(energy_facts(), 4, kit=kit, currency="EUR", own_currency="EUR").cost is not None
