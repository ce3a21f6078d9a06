"""A side's cost, taken from its own facts."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from costing.domain.electricity import Electricity
from costing.domain.facts import CostLine, LeftOut
from costing.domain.sides import side_cost
from kitchen.domain.remark import remark
from tests.costing.domain.making import facts, line


def taken(held, **kwargs):
    used = Electricity(90.0, at_least=True)
    asked = {"portions": Decimal(1), "facts": held, "electricity": used, "currency": "EUR"}
    return side_cost("bread", "Bread", **(asked | kwargs))


def test_its_ingredients_with_its_allowance_for_its_own_servings():
    side = taken(facts(line(cost=2), line("salt", cost=1), servings=8, allowance_pct=Decimal(10)))
    assert (side.cost, side.servings, side.wall_wh, side.wall_at_least) == (Fraction("3.3"), 8, 90.0, True)


def test_what_it_leaves_out_comes_along():
    side = taken(facts(line(), CostLine("cumin", kind="no_price", reason=remark("no_price"))))
    assert side.left_out == (LeftOut("cumin", remark("no_price")),)


def test_another_currency_is_not_added():
    side = taken(replace(facts(line()), currency="CHF"))
    assert (side.cost, side.reason) == (None, remark("side_in_currency", own="CHF", currency="EUR"))


def test_a_side_without_any_price_is_not_free():
    side = taken(facts(CostLine("cumin", kind="no_price", reason=remark("no_price"))))
    assert (side.cost, side.reason) == (None, remark("side_unpriced"))
