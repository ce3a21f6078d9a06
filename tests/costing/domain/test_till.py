"""Whole packs at the till."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from costing.domain.bought import Bought
from costing.domain.till import till_items
from tests.costing.domain.making import quote

amounts = st.fractions(min_value="1/90", max_value=5000, max_denominator=97)


@given(st.lists(amounts, min_size=1, max_size=6), amounts)
def test_packs_hold_what_is_needed_and_never_a_whole_pack_more(needed, pack):
    seen = quote("2.40", packs=2)
    (item,) = till_items([Bought("lentils", seen, amount, pack) for amount in needed])
    assert item.packs * pack >= sum(needed)
    assert (item.packs - 1) * pack < sum(needed)
    assert item.cost == item.packs * Fraction("1.20")


def test_two_quotes_of_one_food_do_not_share_packs():
    one, other = quote("2.40"), quote("3.00")
    items = till_items([Bought("lentils", seen, Fraction(10), Fraction(100)) for seen in (one, other)])
    assert [item.packs for item in items] == [1, 1]
