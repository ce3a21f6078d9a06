"""What a fuel costs that brings the same food to the boil."""

from fractions import Fraction

import pytest

from costing.domain.facts import FuelPrice
from costing.domain.fuels import burnt
from energy.estimates.domain.means import Fuel, Means, Spent
from tests.costing.domain.making import quote

PROPANE = Fuel("propane", "propane", 46.35, "lower heating value")
BURNER = Means("propane", "a gas burner", 0.3, 0.5, "common practice", fuel=PROPANE)


def test_grams_times_the_price_of_a_gram():
    """A cartridge of 230 g for 6.90: three cents a gram."""
    price = FuelPrice("propane", Fraction("0.03"), quote("6.90", 230))
    (one,) = burnt([Spent(BURNER, 200, 300, 14.5, 24.0), Spent(Means("plate", "a plate", 0.5, 0.7, ""), 100, 200)], [price])
    assert (one.label, one.cost, one.cost + one.off[1]) == ("a gas burner", Fraction("0.435"), Fraction("0.72"))


@pytest.mark.parametrize("fuels", [[], [FuelPrice("butane", Fraction(1), quote())]])
def test_a_fuel_without_a_price_has_no_cost(fuels):
    assert burnt([Spent(BURNER, 200, 300, 14.5, 24.0)], fuels) == ()
