"""What waits for a cook, in words; most are in the doctests."""

from decimal import Decimal
from fractions import Fraction

import pytest

from costing.domain.electricity import Electricity, KwhPrice
from costing.domain.facts import CostLine
from costing.domain.sheet import ServingCost, make_sheet
from costing.words import ENGLISH
from costing.words.waiting import changed_words, headline_words, stale_words
from kitchen.domain.remark import remark
from tests.costing.domain.making import facts, line

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
    said = "Stew: prices changed since edition 2, at least €0.44 then, €0.47 a serving now. Publish it again."
    assert changed_words("Stew", 2, before, now, ENGLISH) == said
    never = "Stew: prices changed since edition 2, no cost then, €0.47 a serving now. Publish it again."
    assert changed_words("Stew", 2, None, now, ENGLISH) == never


def test_up_to_four_old_prices_are_named():
    assert stale_words(["cumin", "oil", "onion", "rice"], ENGLISH) == "Prices older than 180 days: cumin, oil, onion and rice."
