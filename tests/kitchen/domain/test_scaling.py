from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.rules import RULES
from kitchen.domain.scaling import factor, scale, seasoning_factor

amounts = st.fractions(min_value=Fraction(1, 16), max_value=5000, max_denominator=64)
multiples = st.fractions(min_value=Fraction(1, 50), max_value=50, max_denominator=50)


@given(amounts, multiples)
def test_there_and_back_is_exact(amount, k):
    there = scale(amount, amount, "proportional", k)
    assert scale(there.low, there.high, "proportional", 1 / k).low == amount


@given(amounts, st.sampled_from(RULES))
def test_nothing_changes_at_the_written_servings(amount, rule):
    same = scale(amount, amount * 2, rule, Fraction(1), evaporated=Fraction(3))
    assert (same.low, same.high) == (amount, amount * 2)


@given(amounts, multiples, st.sampled_from(RULES), st.booleans())
def test_the_low_end_never_passes_the_high_end(amount, k, rule, hot):
    scaled = scale(amount, amount * 3, rule, k, hot=hot, evaporated=Fraction(20), batches=2)
    assert 0 < scaled.low <= scaled.high


@given(multiples, multiples)
def test_more_food_never_takes_less_seasoning(one, other):
    small, large = sorted((one, other))
    assert seasoning_factor(small) <= seasoning_factor(large) <= large
    assert seasoning_factor(large, hot=True) <= seasoning_factor(large)


def test_servings_may_be_decimals_and_fractions():
    assert factor(4, Decimal("6")) == Fraction(3, 2)
    assert factor(Fraction(1, 2), 2) == 4


@pytest.mark.parametrize("numbers", [(0, 4), (4, 0), (-1, 4), (4, 4, 0, 100), (4, 4, 100, -5)])
def test_servings_of_nothing_are_refused(numbers):
    with pytest.raises(ValueError, match="above zero"):
        factor(*numbers)


def test_one_portion_size_alone_says_nothing():
    with pytest.raises(ValueError, match="both before and after"):
        factor(4, 8, old_portion_g=100)


def test_each_batch_is_seasoned_as_a_pot_of_its_own():
    salt = scale(Fraction(1), Fraction(2), "seasoning", Fraction(8), batches=8)
    assert (salt.low, salt.high) == (8, 16)
    assert scale(Fraction(1), Fraction(1), "seasoning", Fraction(8), batches=2).low == 2 * seasoning_factor(Fraction(4))


def test_a_batch_line_counts_the_pots():
    assert scale(Fraction(1), Fraction(1), "batch", Fraction(3), batches=2).low == 2


def test_a_fixed_line_stays():
    assert scale(Fraction(1), Fraction(1), "fixed", Fraction(3)).low == 1


def test_a_closed_pot_gets_the_liquid_it_needs():
    scaled = scale(Fraction(400), Fraction(1200), "proportional", Fraction(1, 4), least=Fraction(250))
    assert (scaled.low, scaled.high) == (250, 300)


def test_a_simmering_pan_cannot_lose_more_than_it_holds():
    assert scale(Fraction(100), Fraction(100), "simmer", Fraction(2), evaporated=Fraction(250)).low == 100


@pytest.mark.parametrize(
    ("rule", "k", "batches", "sentence"),
    [("twice", 1, 1, "not a scaling rule"), ("fixed", 0, 1, "above zero"), ("fixed", 1, 0, "at least one batch")],
)
def test_nonsense_is_refused_in_words(rule, k, batches, sentence):
    with pytest.raises(ValueError, match=sentence):
        scale(Fraction(1), Fraction(1), rule, Fraction(k), batches=batches)
