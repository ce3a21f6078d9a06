"""Electricity cost is exact, additive and refuses nonsense."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.tariffs.domain.prices import electricity_cost


@given(st.integers(0, 10**6), st.decimals(0, 5, places=5))
def test_tenths_of_a_watt_hour_are_exact(tenths, price):
    assert electricity_cost(tenths / 10, price) == Fraction(tenths, 10) * Fraction(price) / 1000


@pytest.mark.parametrize(("energy_wh", "price"), [(-1, Decimal(1)), (float("nan"), Decimal(1)), (1, Decimal(-1))])
def test_nonsense_is_refused(energy_wh, price):
    with pytest.raises(ValueError, match=r"energy_wh|price"):
        electricity_cost(energy_wh, price)
