"""What holds of every sheet: lines add to the total, more servings never cost less, the till takes at least what is used."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from costing.domain.electricity import Electricity, KwhPrice
from costing.domain.lines import cost_line
from costing.domain.sheet import make_sheet
from kitchen.domain.facts import FoodFacts, LineFacts, MadeFacts
from kitchen.domain.remark import remark
from tests.costing.domain.making import DAY, book, facts, offer

FOODS = ("rice", "oil", "onion", "salt")
RULES = ("proportional", "seasoning", "simmer", "fixed", "batch")
prices = st.decimals("0.05", "30", places=2)
packs = st.tuples(st.integers(1, 3000), st.integers(1, 6), st.sampled_from(["pack", "singly", "loose"]))
shelf = st.fixed_dictionaries({food: st.tuples(prices, packs) for food in FOODS})
plain = st.tuples(st.sampled_from(FOODS), st.integers(1, 900), st.sampled_from(RULES), st.booleans())
stock = st.one_of(st.none(), st.tuples(st.lists(plain, min_size=1, max_size=3), st.fractions("1/50", 3, max_denominator=50)))


def line_of(food, amount, rule, optional):
    exact = Fraction(amount)
    return LineFacts(food, exact, exact, "g", food, rule=rule, optional=optional, food=FoodFacts(food))


def sheet_facts(on_shelf, lines, made, allowance=0):
    offers = {
        food: [offer(price, pack, packs=several, sold=sold, day=DAY - timedelta(1))]
        for food, (price, (pack, several, sold)) in on_shelf.items()
    }
    told = [line_of(*one) for one in lines]
    if made is not None:
        behind, share = made
        whole = MadeFacts("stock", "Stock", 1, 4, share=share, lines=tuple(line_of(*one) for one in behind))
        told.append(LineFacts("stock", Fraction(1), Fraction(1), "portion", "stock", made=whole))
    return facts(*(cost_line(one, book(offers)) for one in told), allowance_pct=Decimal(allowance))


@given(shelf, st.lists(plain, min_size=1, max_size=5), stock, st.integers(1, 60), st.sampled_from([0, 5]))
def test_lines_add_to_the_total(on_shelf, lines, made, servings, allowance):
    power = Electricity(310.0, KwhPrice(Decimal("0.314"), remark("own_price")))
    sheet = make_sheet(sheet_facts(on_shelf, lines, made, allowance), servings, power)
    used = sum((one.cost for one in sheet.lines), Fraction(0))
    assert sheet.total == used * (1 + Fraction(allowance, 100)) + power.cost
    assert sheet.per_serving * servings == sheet.total


@given(shelf, st.lists(plain, min_size=1, max_size=5), stock, st.integers(1, 60), st.integers(1, 60))
def test_more_servings_never_cost_less(on_shelf, lines, made, fewer, more):
    held = sheet_facts(on_shelf, lines, made)
    least, most = sorted((fewer, more))
    small, large = (make_sheet(held, servings, Electricity(needed=False)) for servings in (least, most))
    assert small.ingredients <= large.ingredients
    assert small.till_cost <= large.till_cost


@given(shelf, st.lists(plain, min_size=1, max_size=5), stock, st.integers(1, 60))
def test_the_till_takes_at_least_what_is_used(on_shelf, lines, made, servings):
    sheet = make_sheet(sheet_facts(on_shelf, lines, made), servings, Electricity(needed=False))
    assert sheet.till_cost >= sheet.ingredients
