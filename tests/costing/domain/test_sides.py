"""A side's cost, taken from its own facts."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from costing.domain.facts import CostLine, LeftOut
from costing.domain.sides import side_cost
from tests.costing.domain.making import facts, line


def taken(held, **kwargs):
    return side_cost("bread", "Bread", **({"portions": Decimal(1), "facts": held, "wall_wh": 90.0, "currency": "EUR"} | kwargs))


def test_its_ingredients_with_its_allowance_for_its_own_servings():
    side = taken(facts(line(cost=2), line("salt", cost=1), servings=8, allowance_pct=Decimal(10)))
    assert (side.cost, side.servings, side.wall_wh) == (Fraction("3.3"), 8, 90.0)


def test_what_it_leaves_out_comes_along():
    side = taken(facts(line(), CostLine("cumin", kind="no_price", reason="no price yet")))
    assert side.left_out == (LeftOut("cumin", "no price yet"),)


def test_another_currency_is_not_added():
    side = taken(replace(facts(line()), currency="CHF"))
    assert (side.cost, side.reason) == (None, "its prices are in CHF, which does not add to EUR")


def test_a_side_without_any_price_is_not_free():
    side = taken(facts(CostLine("cumin", kind="no_price", reason="no price yet")))
    assert (side.cost, side.reason) == (None, "none of its ingredients has a price yet")
