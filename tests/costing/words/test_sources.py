"""Where prices come from, in words; most are in the doctests."""

from datetime import date
from decimal import Decimal

import pytest

from costing.domain.facts import CostFacts
from costing.words import ENGLISH
from costing.words.sources import conversion_words, rule_words, yield_words

DAY = date(2026, 10, 14)


@pytest.mark.parametrize(
    ("rule", "detail", "said"),
    [
        ("newest", "", "Each price is the newest seen by 14 October 2026."),
        ("median", "5", "Each price is the median of the last 5 seen by 14 October 2026."),
        (
            "shop",
            "Mill Lane",
            "Each price is the newest at Mill Lane by 14 October 2026; where that shop has none, the newest anywhere.",
        ),
    ],
)
def test_the_rule_is_said(rule, detail, said):
    assert rule_words(CostFacts(4, "EUR", DAY, rule, (), rule_detail=detail), ENGLISH) == said
    assert rule_words(CostFacts(4, "EUR", None, rule, (), rule_detail=detail), ENGLISH) == ""


def test_all_of_a_food_needs_no_words_and_a_yield_without_a_source_has_some():
    assert yield_words(Decimal(100), "", ENGLISH) == ""
    assert yield_words(Decimal("87.50"), "", ENGLISH) == "87.5 % of it is used"
    assert yield_words(Decimal(81), "3 kg, 2 October", ENGLISH) == "81 % of it is used (3 kg, 2 October)"


@pytest.mark.parametrize(
    ("base", "missing"),
    [
        ("mL", "add grams per mL for this food"),
        ("each", "add grams each for this food"),
        ("bunch", "the weight of one bunch is not known; write the line or the price in g"),
    ],
)
def test_what_a_price_lacks_is_said_with_its_food(base, missing):
    before = "It counts for lines in the same unit. In others it cannot be converted: "
    assert conversion_words(base, "mint", ENGLISH) == f"{before}{missing} (mint)."
