from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain import record
from kitchen.domain.money import CurrencyMismatch, Money, format_money, round_half_up, total

cents = st.decimals(min_value=-10000, max_value=10000, places=2)


def test_thirds_add_up_to_the_whole():
    third = Money(Decimal("1.00"), "EUR") / 3
    assert third + third + third == Money(1, "EUR")
    assert third.rounded() == Decimal("0.33")


def test_two_currencies_never_add_or_compare():
    with pytest.raises(CurrencyMismatch, match="EUR and USD"):
        Money(1, "EUR") + Money(1, "USD")
    with pytest.raises(CurrencyMismatch):
        total([Money(1, "USD")], "EUR")
    with pytest.raises(CurrencyMismatch):
        assert Money(1, "EUR") < Money(2, "USD")


@pytest.mark.parametrize("make", [lambda: Money(0.1, "EUR"), lambda: Money(1, "EUR") * 0.5, lambda: Money(1, "EUR") / 2.0])
def test_a_float_is_refused(make):
    with pytest.raises(TypeError, match="float"):
        make()


@pytest.mark.parametrize(
    ("amount", "places", "rounded"),
    [("0.005", 2, "0.01"), ("0.0049", 2, "0.00"), ("-0.005", 2, "-0.01"), ("2.5", 0, "3"), ("1.0005", 3, "1.001")],
)
def test_halves_go_away_from_zero(amount, places, rounded):
    assert round_half_up(Decimal(amount), places) == Decimal(rounded)


@given(st.lists(cents, max_size=20))
def test_a_sum_is_exact_and_rounded_once(amounts):
    added = total([Money(amount, "EUR") for amount in amounts], "EUR")
    assert added.exact == sum(map(Fraction, amounts), Fraction(0))
    assert added.rounded() == sum(amounts, Decimal(0))


@given(st.fractions(min_value=-1000, max_value=1000), st.integers(0, 4))
def test_rounding_is_never_off_by_more_than_half_a_step(amount, places):
    assert abs(Fraction(round_half_up(amount, places)) - amount) <= Fraction(1, 2 * 10**places)


@pytest.mark.parametrize(
    ("amount", "currency", "words"),
    [
        ("1234.5", "EUR", "€1,234.50"),
        ("0.0426", "EUR", "€0.04"),
        ("-3", "USD", "-$3.00"),
        ("7", "CHF", "7.00 CHF"),
        ("7.4", "JPY", "¥7"),
        ("1.2345", "KWD", "1.235 KWD"),
    ],
)
def test_written_as_people_write_it(amount, currency, words):
    assert format_money(Decimal(amount), currency) == words


def test_the_code_stands_after_the_number_in_words():
    assert Money(Decimal("1.125"), "EUR").words() == "1.13 EUR"


def test_travels_as_a_record_and_comes_back_exact():
    third = Money(Fraction(1, 3), "EUR")
    assert record.write(third) == {"amount": "1/3", "currency": "EUR"}
    assert record.read(Money, record.write(third)) == third
    with pytest.raises(record.UnreadableRecord, match=r"Money\.amount: 'much' is not an exact amount"):
        record.read(Money, {"amount": "much", "currency": "EUR"})
