"""One line: what it costs, or why that is not known."""

from datetime import timedelta
from decimal import Decimal
from fractions import Fraction

import pytest

from costing.domain.lines import cost_line, is_tap_water
from costing.domain.quotes import QuoteRule
from costing.domain.yields import YieldTest
from kitchen.domain.facts import FoodFacts, LineFacts
from kitchen.domain.remark import remark
from tests.costing.domain.making import DAY, book, offer

IN_OTHERS = remark("price_in_currencies", currencies="CHF USD", currency="EUR")
ONION = FoodFacts("onion", g_per_each=110.0)


def onions(low=2, high=None, unit="", **kwargs):
    low = None if low is None else Fraction(low)
    return LineFacts("2 onions", low, low if high is None else Fraction(high), unit, "onions", food=ONION, **kwargs)


def test_amount_over_yield_times_the_unit_price():
    costed = cost_line(onions(), book({"onion": [offer("1.50")]}, refuse={"onion": 12.0}))
    assert costed.cost == Fraction(220) / Fraction("0.88") * Fraction("0.0015")
    assert costed.bought == 250
    assert (costed.base, costed.pack, costed.yield_pct) == ("g", 1000, 88)
    assert costed.quote.shop == "Mill Lane"


def test_the_owners_test_counts_before_the_table():
    tested = {"onion": [YieldTest("", Decimal(80), "our test")]}
    costed = cost_line(onions(), book({"onion": [offer("1.50")]}, yields=tested, refuse={"onion": 12.0}))
    assert (costed.bought, costed.yield_source) == (275, "our test")


def test_whole_pieces_are_bought_by_the_piece_without_the_yield():
    costed = cost_line(onions(), book({"onion": [offer("0.50", 1, "")]}, refuse={"onion": 12.0}))
    assert (costed.cost, costed.bought, costed.base) == (1, 2, "each")


def test_a_range_is_costed_at_its_middle():
    costed = cost_line(onions(2, 3), book({"onion": [offer("0.50", 1, "")]}))
    assert costed.cost == Fraction("1.25")


def test_a_dear_quote_and_a_cheap_one_follow_the_rule():
    seen = [offer("9", day=DAY), offer("2", day=DAY - timedelta(3)), offer("3", day=DAY - timedelta(5))]
    costed = cost_line(onions(unit="kg"), book({"onion": seen}, rule=QuoteRule("median", 3)))
    assert costed.cost == 6


@pytest.mark.parametrize(
    ("line", "offers", "kind", "reason"),
    [
        (onions(), [], "no_price", remark("no_price")),
        (onions(), [offer(day=DAY + timedelta(2))], "no_price", remark("no_price")),
        (onions(), [offer(currency="USD"), offer(currency="CHF")], "no_price", IN_OTHERS),
        (onions(None), [offer()], "unclear", remark("no_amount")),
        (onions(None), [], "no_price", remark("no_price")),
        (onions(unit="cup"), [offer()], "unclear", remark("needs_density", own="mL", base="g", missing="mL")),
        (LineFacts("a good handful", name="a good handful"), [], "unclear", remark("no_food")),
        (onions(None, to_taste=True), [offer()], "to_taste", ""),
    ],
)
def test_a_line_without_a_cost_says_why(line, offers, kind, reason):
    costed = cost_line(line, book({"onion": offers}))
    assert costed.cost is None
    assert costed.kind == kind
    assert costed.reason == reason
    assert costed.left_out == (kind in {"no_price", "unclear"})


def test_a_price_in_the_kitchens_currency_counts_before_a_newer_one_in_another():
    costed = cost_line(onions(), book({"onion": [offer("5", currency="CHF"), offer("1", day=DAY - timedelta(30))]}))
    assert costed.quote.price == 1


def test_an_amount_that_is_also_to_taste_is_counted():
    assert cost_line(onions(to_taste=True), book({"onion": [offer()]})).kind == "priced"


def test_a_free_food_costs_nothing_and_is_counted():
    costed = cost_line(onions(), book({"onion": [offer("0")]}))
    assert (costed.kind, costed.cost) == ("priced", 0)


def test_water_from_the_tap_stands_apart_unless_it_has_a_price():
    water = LineFacts("1 L water", Fraction(1), Fraction(1), "L", "water", food=FoodFacts("water, tap"))
    assert cost_line(water, book({})).kind == "tap"
    assert cost_line(water, book({"water, tap": [offer("0.40", 5, "L")]})).cost == Fraction("0.08")
    assert not is_tap_water(LineFacts("rose water", name="rose water"))
    assert not is_tap_water(LineFacts("watermelon", name="watermelon"))


def test_an_old_quote_is_used_and_marked():
    costed = cost_line(onions(), book({"onion": [offer(day=DAY - timedelta(200))]}))
    assert costed.quote.stale
    assert costed.cost is not None
