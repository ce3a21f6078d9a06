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


def test_packs_that_are_sold_only_together_are_bought_together():
    six = quote("5.40", 400, packs=6, sold="pack")
    (item,) = till_items([Bought("chickpeas", six, Fraction(800), Fraction(400), "g")])
    assert (item.packs, item.cost, item.left) == (6, Fraction("5.4"), 1600)
    (singly,) = till_items([Bought("chickpeas", quote("5.40", 400, packs=6, sold="singly"), Fraction(800), Fraction(400), "g")])
    assert (singly.packs, singly.cost, singly.left) == (2, Fraction("1.8"), 0)


def test_what_is_sold_loose_is_weighed_out():
    (item,) = till_items([Bought("onion", quote("1.99", 1, "kg", sold="loose"), Fraction(532), Fraction(1000), "g")])
    assert (item.cost, item.left) == (Fraction("1.99") * Fraction("0.532"), 0)


@given(st.lists(amounts, min_size=1, max_size=4), amounts, st.integers(1, 12), st.sampled_from(["pack", "singly", "loose"]))
def test_the_till_never_takes_less_than_what_is_used(needed, pack, packs, sold):
    seen = quote("2.40", packs=packs, sold=sold)
    (item,) = till_items([Bought("lentils", seen, amount, pack) for amount in needed])
    assert item.cost >= sum(needed) / pack * Fraction("2.40") / packs
    assert item.left >= 0
