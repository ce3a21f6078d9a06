"""Electricity as a line of the sheet."""

from decimal import Decimal
from fractions import Fraction

import pytest

from costing.domain.electricity import Electricity, KwhPrice
from kitchen.domain.remark import remark

OWN = remark("own_price")


@pytest.mark.parametrize(("wall_wh", "price"), [(-1.0, "0.3"), (1.0, "-0.3")])
def test_nothing_below_zero(wall_wh, price):
    with pytest.raises(ValueError, match="below zero"):
        _ = Electricity(wall_wh, KwhPrice(Decimal(price), OWN)).cost


def test_the_energy_counts_at_its_decimal_value():
    assert Electricity(0.1, KwhPrice(Decimal(1), OWN)).cost == Fraction(1, 10000)


def test_no_cost_without_both_energy_and_price():
    price = KwhPrice(Decimal("0.3"), OWN)
    assert Electricity(wall_wh=340.0).cost is None
    assert Electricity(price=price).cost is None
    assert Electricity(340.0, price).cost == Fraction("0.102")


def test_what_is_missing_is_named_the_energy_first():
    assert Electricity().why_no_cost_of(None) == remark("not_measured")
    assert Electricity().why_no_cost_of(340.0) == remark("no_kwh_price")
    assert Electricity(no_price="The tariff is over.").why_no_cost_of(340.0) == "The tariff is over."
