"""How a line's cost follows the servings."""

from fractions import Fraction

import pytest

from costing.domain.priced import amount_ratio
from tests.costing.domain.making import line


@pytest.mark.parametrize(("rule", "ratio"), [("proportional", 4), ("fixed", 1), ("batch", 1), ("seasoning", 3), ("simmer", 4)])
def test_each_line_follows_its_own_rule(rule, ratio):
    assert amount_ratio(line(rule=rule, low=2, high=3), Fraction(4)) == ratio


def test_a_hot_seasoning_grows_by_a_quarter():
    assert amount_ratio(line("cayenne pepper", rule="seasoning"), Fraction(4)) == Fraction(5, 2)


def test_an_amount_of_nothing_does_not_break_the_sheet():
    assert amount_ratio(line(low=0), Fraction(3)) == 1
