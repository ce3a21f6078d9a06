"""What is bought of each food."""

from decimal import Decimal
from fractions import Fraction

from costing.domain.bought import bought_foods
from costing.domain.facts import CostLine
from costing.domain.priced import PricedLine
from costing.domain.till import till_items
from kitchen.domain.remark import remark
from tests.costing.domain.making import line, quote


def bought(*lines, ratio=1):
    return bought_foods([PricedLine(one, one.cost, Fraction(ratio)) for one in lines])


def test_lines_of_one_food_price_and_yield_count_together():
    (oil,) = bought(line("oil", bought=20), line("oil", bought=40), ratio=2)
    assert (oil.food, oil.amount, oil.base, oil.pack) == ("oil", 120, "g", 1000)


def test_another_price_or_yield_stands_apart_and_another_yield_shares_the_packs():
    peeled = {"yield_pct": Decimal(80), "yield_source": remark("own_test_after", preparation="peeled")}
    boiled = peeled | {"yield_source": remark("own_test_after", preparation="boiled")}
    found = bought(line("beet", bought=400, **peeled), line("beet", bought=500, **boiled))
    assert [one.amount for one in found] == [400, 500]
    assert [item.packs for item in till_items(found)] == [1]
    assert len(bought(line("beet", bought=400), line("beet", bought=400, quote=quote("3.00")))) == 2


def test_what_has_no_price_is_not_bought():
    assert bought_foods([PricedLine(CostLine("salt"), Fraction(0), Fraction(1))]) == ()
