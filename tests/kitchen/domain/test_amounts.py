from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from kitchen.domain.amounts import format_amount, format_decimal, format_range, parse_amount, read_number

amounts = st.builds(
    Fraction, st.integers(min_value=0, max_value=999_999), st.integers(min_value=1, max_value=99_999)
) | st.fractions(min_value=0, max_value=9999, max_denominator=64)


@given(amounts)
@example(Fraction(11, 2))
@example(Fraction(21, 4))
@example(Fraction(14, 13))
@example(Fraction(1, 1000))
def test_what_is_written_is_read_back_exactly(amount):
    assert parse_amount(format_amount(amount)) == amount


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("1 1/2", "3/2"),
        ("1½", "3/2"),
        ("1 ½", "3/2"),
        ("11/2", "3/2"),
        ("21/4", "9/4"),
        ("12/3", "5/3"),
        ("3/2", "3/2"),
        ("15/4", "15/4"),
        ("1-1/2", "3/2"),
        ("1⁄2", "1/2"),
        ("1.5", "3/2"),
        ("1,5", "3/2"),
        (".5", "1/2"),
        ("1,000", "1000"),
        ("1,250.5", "2501/2"),
        ("0,125", "1/8"),
        ("٣", "3"),
        ("⅞", "7/8"),
    ],
)
def test_every_way_of_typing_a_number(typed, value):
    assert parse_amount(typed) == Fraction(value)


@pytest.mark.parametrize("typed", ["", "some", "1/0", "-1", "2%", "1.2.3", "9" * 5000, "1e3", "½½", "NaN", "∞", "１/"])
def test_what_is_no_amount_gets_a_sentence(typed):
    with pytest.raises(ValueError, match="not_an_amount"):
        parse_amount(typed)


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_in_words(text):
    found = read_number(text.strip())
    if found is not None and found[1] == len(text.strip()):
        assert parse_amount(text) == found[0] >= 0
    else:
        with pytest.raises(ValueError, match="not_an_amount"):
            parse_amount(text)


def test_ranges_name_one_number_when_both_ends_are_the_same():
    assert format_range(Fraction(2), Fraction(5, 2)) == "2–2½"
    assert format_range(Fraction(2), Fraction(2)) == "2"


@pytest.mark.parametrize(
    ("amount", "digits", "words"),
    [("435/100", 3, "4.35"), ("1/3", 4, "0.3333"), ("123456", 3, "123456"), ("1/100000", 2, "0.00001"), ("2", 3, "2")],
)
def test_decimals_carry_no_more_digits_than_asked(amount, digits, words):
    assert format_decimal(Fraction(amount), digits) == words
