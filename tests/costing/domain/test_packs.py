"""What people type about prices."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.domain.packs import Pack, pack_words, parse_pack, parse_price, price_words


@pytest.mark.parametrize(
    ("typed", "pack"),
    [
        ("2 x 500 g", Pack(Fraction(500), "g", 2)),
        ("2x400g", Pack(Fraction(400), "g", 2)),
        ("3 × 1,5 L", Pack(Fraction(3, 2), "L", 3)),
        ("  1 kg ", Pack(Fraction(1), "kg")),
        ("12", Pack(Fraction(12))),
        ("12 pieces", Pack(Fraction(12))),
        ("1 bunch", Pack(Fraction(1), "bunch")),
        ("6 x 2", Pack(Fraction(2), "", 6)),
        ("½ lb", Pack(Fraction(1, 2), "lb")),
        ("0.5 kg", Pack(Fraction(1, 2), "kg")),
        ("a bag", Pack(Fraction(1), "bag")),
        ("bunch", Pack(Fraction(1), "bunch")),
        ("2 dozen", Pack(Fraction(24))),
        ("half a dozen", Pack(Fraction(6))),
        ("1 tin", Pack(Fraction(1), "can")),
        ("6 x 400 g tins", Pack(Fraction(400), "g", 6)),
        ("3 tins of 400 g", Pack(Fraction(400), "g", 3)),
        ("2 kg bag", Pack(Fraction(2), "kg")),
        ("bag (2 kg)", Pack(Fraction(2), "kg")),
        ("tray of 30", Pack(Fraction(30))),
        ("case of 12 x 1 L", Pack(Fraction(1), "L", 12)),
    ],
)
def test_packs_as_typed(typed, pack):
    assert parse_pack(typed) == pack


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("", "is not a pack"),
        ("a", "is not a pack"),
        ("2-3 kg", "is not a pack"),
        ("0,0 kg", "more than nothing"),
        ("500 g flour", "not a unit"),
        ("-5 g", "is not a pack"),
        ("0", "more than nothing"),
        ("0 x 500 g", "more than nothing"),
        ("2000 x 1 g", "at most 1000"),
        ("500 smidgens", "not a unit"),
        ("500 👩‍🍳", "not a unit"),
        ("x" * 5000, "is not a pack"),
    ],
)
def test_bad_packs_get_a_short_sentence(typed, sentence):
    with pytest.raises(ValueError, match=sentence) as refused:
        parse_pack(typed)
    assert len(str(refused.value)) < 160


@pytest.mark.parametrize(
    ("typed", "price", "currency"),
    [
        ("3.49", "3.49", "EUR"),
        ("3,49", "3.49", "EUR"),
        ("0", "0", "EUR"),
        ("€ 3.49", "3.49", "EUR"),
        ("£2", "2", "GBP"),
        ("CHF 4.20", "4.20", "CHF"),
        ("4.20 usd", "4.20", "USD"),
        ("0.1234", "0.1234", "EUR"),
    ],
)
def test_prices_as_typed(typed, price, currency):
    assert parse_price(typed, "EUR") == (Decimal(price), currency)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("three", "in figures"),
        ("-1", "below zero"),
        ("NaN", "in figures"),
        ("inf", "in figures"),
        ("1,234", "two ways"),
        ("1.234,50", "in figures"),
        ("0.12345", "four decimals"),
        ("99999999", "cannot be kept"),
        ("1e9", "cannot be kept"),
        ("", "in figures"),
        ("٣٫٤٩", "in figures"),
        ("9" * 400, "cannot be kept"),
    ],
)
def test_bad_prices_get_a_short_sentence(typed, sentence):
    with pytest.raises(ValueError, match=sentence) as refused:
        parse_price(typed, "EUR")
    assert len(str(refused.value)) < 160


@given(
    st.fractions(min_value="1/64", max_value=9999, max_denominator=64),
    st.sampled_from(["", "g", "L", "bunch"]),
    st.integers(1, 99),
)
def test_a_pack_in_words_reads_back(amount, unit, packs):
    assert parse_pack(pack_words(amount, unit, packs)) == Pack(amount, unit, packs)


@given(st.decimals(0, 9999, places=4))
def test_a_price_in_words_reads_back(price):
    assert parse_price(price_words(price, "CHF", "EUR"), "EUR") == (price, "CHF")
