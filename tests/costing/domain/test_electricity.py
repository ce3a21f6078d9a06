"""Electricity as a line of the sheet."""

from decimal import Decimal
from fractions import Fraction

import pytest

from costing.domain.electricity import Electricity, KwhPrice


@pytest.mark.parametrize(("wall_wh", "price"), [(-1.0, "0.3"), (1.0, "-0.3")])
def test_nothing_below_zero(wall_wh, price):
    with pytest.raises(ValueError, match="below zero"):
        _ = Electricity(wall_wh, KwhPrice(Decimal(price), "your own price")).cost


def test_the_energy_counts_at_its_decimal_value():
    assert Electricity(0.1, KwhPrice(Decimal(1), "your own price")).cost == Fraction(1, 10000)


def test_no_cost_without_both_energy_and_price():
    price = KwhPrice(Decimal("0.3"), "your own price")
    assert Electricity(wall_wh=340.0).cost is None
    assert Electricity(price=price).cost is None
    assert Electricity(340.0, price).cost == Fraction("0.102")
