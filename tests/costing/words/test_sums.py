"""Sums and amounts in words; most are in the doctests."""

from decimal import Decimal
from fractions import Fraction

import pytest

from costing.words import ENGLISH
from costing.words.sums import bought_words, price_seen_words, sum_words, unit_price_words


@pytest.mark.parametrize(
    ("amount", "base", "said"),
    [
        (Fraction(1, 3), "g", "0.333 g"),
        (Fraction(999), "g", "999 g"),
        (Fraction(12345), "g", "12.3 kg"),
        (Fraction(2), "bunch", "2 bunches"),
    ],
)
def test_amounts_to_buy(amount, base, said):
    assert bought_words(amount, base) == said


def test_money_without_cents():
    assert sum_words(Fraction(1, 3), "JPY", ENGLISH) == "under ¥1"
    assert sum_words(Fraction(120), "JPY", ENGLISH) == "¥120"
    assert price_seen_words(Decimal("120.0000"), "JPY") == "¥120"


def test_a_currency_without_a_sign_stands_after():
    assert unit_price_words(Fraction(1, 100), "g", "CHF", ENGLISH) == "10.00 CHF per kg"


def test_a_piece_that_costs_next_to_nothing_is_not_free():
    assert unit_price_words(Fraction(3, 1000), "each", "EUR", ENGLISH) == "under €0.01 a piece"
