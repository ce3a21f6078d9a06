"""Choosing quotes and what they cost by the unit."""

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.domain.quotes import Offer, QuoteRule, choose, in_currency, is_stale, pack_price, unit_price
from tests.costing.domain.making import DAY, offer


def chosen(seen, rule):
    """The offer that a line of one base unit takes, the newest first."""
    newest_first = sorted(seen, key=lambda one: one.day, reverse=True)
    return choose([(one, unit_price(one)[0]) for one in newest_first], rule)


def test_an_offer_holds_from_its_day_until_its_last():
    sale = offer(day=DAY - timedelta(3), last_day=DAY)
    assert [sale.holds_on(DAY + timedelta(days)) for days in (-4, -3, 0, 1)] == [False, True, True, False]
    assert offer(day=DAY).holds_on(DAY + timedelta(9000))


def test_of_two_on_one_day_the_first_given_counts():
    first, second = offer("1"), offer("2")
    assert chosen([first, second], QuoteRule()) is first


def test_nothing_can_be_used():
    assert choose([], QuoteRule("median")) is None


@pytest.mark.parametrize(("last", "expected"), [(2, "3"), (3, "3"), (4, "2")])
def test_median_is_a_price_somebody_saw(last, expected):
    prices = ["3", "9", "2", "1"]
    seen = [offer(price, day=DAY - timedelta(age)) for age, price in enumerate(prices)]
    assert chosen(seen, QuoteRule("median", last)).price == Decimal(expected)


def test_median_compares_by_the_unit_not_by_the_pack():
    seen = [offer("9", 5000, day=DAY), offer("2", 500, day=DAY - timedelta(1)), offer("3", 1000, day=DAY - timedelta(2))]
    assert chosen(seen, QuoteRule("median", 3)).price == 3


def test_a_shop_else_the_newest_anywhere():
    here, there = offer(shop="Mill Lane", day=DAY - timedelta(5)), offer(shop="Harrow", day=DAY)
    assert chosen([there, here], QuoteRule("shop", shop="Mill Lane")) is here
    assert chosen([there], QuoteRule("shop", shop="Mill Lane")) is there


def test_the_cheapest_is_looked_for_among_each_shops_newest():
    old, now, there = offer("1", day=DAY - timedelta(9)), offer("3", day=DAY), offer("2", shop="Harrow", day=DAY - timedelta(1))
    assert chosen([old, now, there], QuoteRule("cheapest")) is there


def test_stale_after_180_days():
    assert not is_stale(DAY - timedelta(180), DAY)
    assert is_stale(DAY - timedelta(181), DAY)


def test_two_currencies_do_not_mix():
    euro, franc = offer(), offer(currency="CHF")
    assert in_currency([franc, euro], "EUR") == [euro]


@pytest.mark.parametrize(("price", "pack", "packs"), [("-0.01", 1, 1), ("1", 0, 1), ("1", 1, 0)])
def test_an_offer_refuses_nonsense(price, pack, packs):
    with pytest.raises(ValueError, match=r"price|pack"):
        Offer("shop", date(2026, 1, 1), Decimal(price), Fraction(pack), "g", packs, "EUR")


def test_household_words_are_units_of_their_own():
    assert unit_price(offer("3", 2, "bunch")) == (Fraction(3, 2), "bunch")
    with pytest.raises(ValueError, match="not a unit"):
        unit_price(offer("3", 2, "smidgen"))


@given(
    price=st.decimals(0, 1000, places=4),
    pack=st.fractions(min_value="1/1000", max_value=10000),
    packs=st.integers(1, 100),
    unit=st.sampled_from(["g", "kg", "lb", "mL", "cup", "", "bunch"]),
)
def test_the_unit_price_times_the_packs_is_the_price(price, pack, packs, unit):
    from costing.domain.conversion import based

    seen = Offer("shop", DAY, price, pack, unit, packs, "EUR")
    each, base = unit_price(seen)
    assert each * based(pack, unit)[0] * packs == Fraction(price)
    assert base == based(pack, unit)[1]
    assert pack_price(seen) * packs == Fraction(price)
