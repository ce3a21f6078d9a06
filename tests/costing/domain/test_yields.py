"""Yields: bought, edible, and which test counts."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.domain.yields import (
    YieldTest,
    bought_amount,
    choose_yield,
    cooking_yield,
    edible_amount,
    edible_price,
    yield_of_refuse,
    yield_percent,
)
from kitchen.domain.remark import remark

amounts = st.fractions(min_value="1/1000", max_value=100000)
percents = st.decimals("0.01", "100", places=2)


@given(amounts, percents)
def test_buying_and_trimming_undo_each_other_exactly(amount, percent):
    bought = bought_amount(amount, percent)
    assert bought >= amount
    assert edible_amount(bought, percent) == amount
    assert yield_percent(amount, bought) == Fraction(percent)


@given(amounts, amounts, percents)
def test_cost_is_the_same_by_bought_or_by_edible_weight(amount, price, percent):
    assert bought_amount(amount, percent) * price == amount * edible_price(price, percent)


@pytest.mark.parametrize("percent", [Decimal(0), Decimal(-1), Decimal("100.01")])
def test_a_yield_out_of_range_is_refused(percent):
    with pytest.raises(ValueError, match="yield"):
        bought_amount(Fraction(1), percent)


@pytest.mark.parametrize(("edible", "bought"), [(0, 1), (2, 1), (-1, 1)])
def test_more_left_than_bought_is_refused(edible, bought):
    with pytest.raises(ValueError, match="left"):
        yield_percent(Fraction(edible), Fraction(bought))


@pytest.mark.parametrize("refuse", [-1.0, 100.0])
def test_refuse_out_of_range_is_refused(refuse):
    with pytest.raises(ValueError, match="refuse"):
        yield_of_refuse(refuse)


def test_refuse_keeps_its_decimals():
    assert yield_of_refuse(12.5) == Decimal("87.5")


def test_the_longest_named_preparation_wins():
    tests = [YieldTest("peeled", Decimal(85)), YieldTest("peeled and diced", Decimal(80)), YieldTest("boned", Decimal(50))]
    assert choose_yield(tests, 0, "Peeled and diced").percent == 80
    assert choose_yield(tests, 10, "diced, then peeled").percent == 80
    assert choose_yield(tests, 10, "sliced").percent == 90


def test_a_test_of_another_preparation_never_counts():
    wedges = [YieldTest("wedges with skin", Decimal(96), "own test")]
    assert choose_yield(wedges, 25, "peeled").percent == 75
    assert choose_yield(wedges, 25).percent == 75
    assert choose_yield(wedges, 25, "cut into wedges, with skin").percent == 96


def test_what_food_weighs_cooked_is_a_factor_of_its_own():
    rice = [YieldTest("", Decimal(280), "own test", "cook")]
    assert cooking_yield(rice, "cooked").percent == 280
    assert choose_yield(rice, 0, "cooked").percent == 100
    assert cooking_yield([YieldTest("", Decimal(90))], "cooked") is None


def test_the_source_is_named():
    assert choose_yield([], 10).source == remark("refuse_in_table")
    assert choose_yield([], 0).source == ""
    assert choose_yield([YieldTest("", Decimal(70), "3 kg, 2 October")], 10).source == "3 kg, 2 October"
    assert choose_yield([YieldTest("", Decimal(70))], 10).source == remark("own_test")
    assert choose_yield([YieldTest("boned", Decimal(50))], 10, "boned").source == remark("own_test_after", preparation="boned")
