"""Why a serving costs another sum: the causes add up exactly, and their printed coins too."""

from datetime import timedelta
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from costing.domain.causes import causes, printed
from costing.domain.electricity import Electricity
from costing.domain.facts import CostLine
from costing.domain.lines import cost_line
from costing.domain.sheet import make_sheet
from costing.domain.yields import YieldTest
from kitchen.domain.facts import FoodFacts, LineFacts
from kitchen.domain.money import round_half_up
from tests.costing.domain.making import DAY, book, facts, line, offer, quote

prices = st.decimals("0.01", "30", places=2)
amounts = st.integers(1, 900)
percents = st.integers(40, 100)


def costed(food, amount, price, percent):
    asked = LineFacts(food, Fraction(amount), Fraction(amount), "g", food, food=FoodFacts(food))
    tests = {food: [YieldTest("", Decimal(percent))]}
    return cost_line(asked, book({food: [offer(price, day=DAY - timedelta(1))]}, yields=tests))


def each(held):
    return make_sheet(held, held.servings, Electricity(needed=False)).per_serving


sheets = st.lists(st.tuples(st.sampled_from(["rice", "oil", "onion", "salt"]), amounts, prices, percents), min_size=1, max_size=4)


@given(sheets, sheets, st.integers(1, 9), st.integers(1, 9), st.sampled_from([0, 5]))
def test_causes_add_up_to_the_difference(before, after, then_servings, now_servings, allowance_pct):
    then = facts(*(costed(*one) for one in before), servings=then_servings)
    now = facts(*(costed(*one) for one in after), servings=now_servings, allowance_pct=Decimal(allowance_pct))
    found = causes(then, now)
    assert sum((cause.each for cause in found), Fraction(0)) == each(now) - each(then)
    coins = sum((shown for _, shown in printed(found, "EUR")), Fraction(0))
    assert coins == round_half_up(each(now) - each(then), 2)


def test_a_line_that_has_a_price_now_is_named():
    cumin = CostLine("cumin", kind="no_price", food="cumin")
    (cause,) = causes(facts(line(), cumin), facts(line(), line("cumin", "0.40")))
    assert (cause.kind, cause.what, cause.each) == ("coverage", "cumin", Fraction("0.1"))


def test_what_parts_share_is_a_cause_of_its_own():
    lemon = {"quote": quote("0.50", 1, ""), "cost": "0.5", "bought": 1, "pack": 1}
    juice, zest = line("lemon", joint="lemon juice", **lemon), line("lemon", joint="lemon zest", **lemon)
    found = causes(facts(juice), facts(juice, zest))
    assert [(cause.kind, cause.each) for cause in found] == [("line", Fraction("0.125")), ("shared", Fraction("-0.125"))]
