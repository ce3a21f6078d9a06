"""What waits for a cook, in words; most are in the doctests."""

from decimal import Decimal
from fractions import Fraction

import pytest

from costing.domain.causes import Cause
from costing.domain.electricity import Electricity, KwhPrice
from costing.domain.facts import CostLine
from costing.domain.sheet import ServingCost, make_sheet
from costing.words import ENGLISH
from costing.words.waiting import cause_words, changed_words, headline_words, stale_words
from kitchen.domain.remark import remark
from tests.costing.domain.making import facts, line, quote

CUMIN = CostLine("cumin", kind="no_price", reason=remark("no_price"))
PRICE = KwhPrice(Decimal("0.30"), remark("own_price"))


@pytest.mark.parametrize(
    ("lines", "electricity", "said"),
    [
        ([line()], Electricity(340.0, PRICE), "each serving, prices of October 2026"),
        ([line()], Electricity(340.0, PRICE, estimated=True), "each serving, energy estimated, prices of October 2026"),
        ([line(), CUMIN], Electricity(340.0, PRICE), "each serving at least, prices of October 2026"),
        ([line()], Electricity(340.0, estimated=True), "each serving at least, prices of October 2026"),
    ],
)
def test_the_headline_says_what_its_figure_lacks(lines, electricity, said):
    assert headline_words(make_sheet(facts(*lines), 4, electricity), ENGLISH) == said


def test_a_changed_price_is_said_with_both_costs():
    now = ServingCost(Fraction("0.468"), "EUR", at_least=False)
    before = ServingCost(Fraction("0.44"), "EUR", at_least=True)
    said = "Stew: ingredients of a serving: at least €0.44 in edition 2, €0.47 now. Publish it again."
    assert changed_words("Stew", 2, (before, now), (), ENGLISH) == said
    never = "Stew: ingredients of a serving: nothing known in edition 2, €0.47 now. Publish it again."
    assert changed_words("Stew", 2, (None, now), (), ENGLISH) == never


def test_the_price_that_moved_is_named():
    then, now = quote("2.00"), quote("2.40")
    why = [Cause("price", "lentils", Fraction(3, 100), then, now), Cause("coverage", "cumin", Fraction(-1, 100))]
    assert cause_words(why, "EUR", ENGLISH) == [
        "lentils, €2.00 for 1000 g at Mill Lane, 14 October 2026 then, €2.40 for 1000 g at Mill Lane, 14 October 2026 now: "
        "€0.03 more",
        "cumin, which is not counted any more: €0.01 less",
    ]


def test_up_to_four_old_prices_are_named():
    assert stale_words(["cumin", "oil", "onion", "rice"], ENGLISH) == "Prices older than 180 days: cumin, oil, onion and rice."
