"""The sheet: exact totals, scaling, sides, what is left out."""

import math
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.domain.electricity import Electricity, KwhPrice
from costing.domain.facts import CostFacts, CostLine, LeftOut, SideCost
from costing.domain.sheet import ServingCost, make_sheet
from costing.domain.sides import side_cost
from kitchen.domain import record
from kitchen.domain.remark import remark
from tests.costing.domain.making import facts, line, quote

RAW = Electricity(needed=False)
POWER = Electricity(340.0, KwhPrice(Decimal("0.30"), remark("tariff", name="Club meadow")))
NOT_MEASURED = LeftOut(remark("electricity"), remark("not_measured"))
costs = st.lists(st.fractions(min_value=0, max_value=1000, max_denominator=997), min_size=1, max_size=12)


@given(costs, st.integers(1, 40), st.integers(1, 40))
def test_proportional_costs_scale_exactly(amounts, base, servings):
    held = facts(*(line(str(place), cost) for place, cost in enumerate(amounts)), servings=base)
    sheet = make_sheet(held, servings, RAW)
    assert sheet.total == sum(amounts) * Fraction(servings, base)
    assert sheet.per_serving * servings == sheet.total


@given(costs, st.integers(1, 12))
def test_the_total_is_never_below_any_line(amounts, servings):
    sheet = make_sheet(facts(*(line(str(place), cost) for place, cost in enumerate(amounts))), servings, POWER)
    assert all(sheet.total >= priced.cost for priced in sheet.lines)
    assert sheet.total >= sheet.electricity.cost


@given(costs)
def test_printed_lines_are_within_half_a_cent_each(amounts):
    sheet = make_sheet(facts(*(line(str(place), cost) for place, cost in enumerate(amounts))), 4, RAW)
    assert abs(sheet.printed_sums[0] - Decimal(float(sheet.total))) <= Decimal("0.00501") * len(amounts)


def test_a_missing_price_makes_the_total_at_least():
    missing = CostLine("cumin", kind="no_price", reason=remark("no_price"), food="cumin")
    sheet = make_sheet(facts(line(), missing), 4, RAW)
    assert sheet.at_least
    assert sheet.left_out == (LeftOut("cumin", remark("no_price")),)
    assert sheet.total == 1


def test_electricity_that_may_be_more_makes_the_total_at_least():
    sheet = make_sheet(facts(line()), 4, replace(POWER, at_least=True))
    assert (sheet.at_least, sheet.together_at_least, sheet.left_out) == (True, True, ())
    bread = SideCost("bread", "Bread", Decimal(1), 4, Fraction(2), wall_wh=10.0, wall_at_least=True)
    sheet = make_sheet(facts(line(), sides=(bread,)), 4, POWER)
    assert (sheet.at_least, sheet.sides[0].at_least, sheet.together_at_least) == (False, True, True)


def test_to_taste_and_tap_water_do_not():
    apart = [CostLine("salt", kind="to_taste"), CostLine("water", kind="tap")]
    sheet = make_sheet(facts(line(), *apart), 4, RAW)
    assert not sheet.at_least
    assert (sheet.to_taste, sheet.tap) == (("salt",), ("water",))


def test_missing_electricity_is_listed_unless_nothing_is_cooked():
    assert make_sheet(facts(line()), 4, Electricity()).left_out == (NOT_MEASURED,)
    assert make_sheet(facts(line()), 4, Electricity(340.0)).left_out[0].reason == remark("no_kwh_price")
    assert not make_sheet(facts(line()), 4, RAW).at_least


def test_the_allowance_is_off_by_default_and_leaves_the_electricity_alone():
    assert make_sheet(facts(line(cost=10)), 4, POWER).allowance == 0
    sheet = make_sheet(facts(line(cost=10), allowance_pct=Decimal(5)), 4, POWER)
    assert sheet.allowance == Fraction(1, 2)
    assert sheet.total == 10 + Fraction(1, 2) + Fraction("0.102")


def flatbread(**kwargs):
    return SideCost("flatbread", "Flatbread", **({"portions": Decimal("1.5"), "servings": 8, "cost": Fraction(4)} | kwargs))


def test_a_side_is_counted_by_the_portion_with_its_own_electricity():
    sheet = make_sheet(facts(line(cost=6), sides=(flatbread(wall_wh=400.0),)), 4, POWER)
    assert sheet.sides[0].portions == 6
    assert sheet.sides[0].cost == (4 + Fraction("0.12")) / 8 * 6
    assert sheet.together == sheet.total + sheet.sides[0].cost
    assert not sheet.together_at_least


def test_a_side_whose_energy_is_unknown_says_so():
    sheet = make_sheet(facts(line(), sides=(flatbread(),)), 4, POWER)
    assert sheet.sides[0].left_out == (NOT_MEASURED,)
    assert sheet.together_at_least
    assert not sheet.at_least


def test_a_side_that_is_not_cooked_needs_no_electricity():
    assert not make_sheet(facts(line(), sides=(flatbread(cooks=False),)), 4, POWER).together_at_least


def test_a_side_in_another_currency_is_listed_and_not_added():
    side = flatbread(cost=None, reason=remark("side_in_currency", own="CHF", currency="EUR"))
    sheet = make_sheet(facts(line(), sides=(side,)), 4, RAW)
    assert sheet.together == sheet.total
    assert sheet.together_at_least


def test_till_packs_follow_the_servings():
    held = facts(line("lentils", bought=300, pack=500), line("lentils", bought=100, pack=500))
    assert [item.packs for item in make_sheet(held, 4, RAW).till] == [1]
    assert [item.packs for item in make_sheet(held, 6, RAW).till] == [2]


@pytest.mark.parametrize("servings", [0, -1])
def test_no_sheet_for_nobody(servings):
    with pytest.raises(ValueError, match="at least one serving"):
        make_sheet(facts(line()), servings, RAW)


def test_what_prints_the_same_is_the_same():
    def printed(amount, at_least=False):
        return ServingCost(Fraction(amount), "EUR", at_least).printed

    assert printed("1.001") == printed("0.999")
    assert printed("0.001") != printed(0)
    assert printed(1) != printed(1, at_least=True)


def test_printed_sums_that_do_not_add_up_are_seen():
    side = SideCost("bread", "Bread", Decimal(1), 4, Fraction("1.004"), cooks=False)
    sheet = make_sheet(facts(line(cost="1.004"), sides=(side,)), 4, RAW)
    assert (sheet.lines_add_up, sheet.sides_add_up) == (True, False)
    assert not make_sheet(facts(line("a", "0.005"), line("b", "0.005")), 4, RAW).lines_add_up


def test_facts_with_remarks_travel_too():
    missing = CostLine("cumin", kind="no_price", reason=remark("no_price"))
    held = facts(line(yield_pct=Decimal(90), yield_source=remark("refuse_in_table")), missing)
    assert record.read(CostFacts, record.write(held)) == held


@given(costs)
def test_facts_travel_as_json_and_come_back_exact(amounts):
    held = facts(*(line(str(place), cost, bought=cost, yield_pct=Decimal("84.5")) for place, cost in enumerate(amounts)))
    assert record.read(CostFacts, record.write(held)) == held


def test_what_electricity_may_be_off_goes_into_the_total_and_each_serving():
    unsure = replace(POWER, off_wh=(40.0, 60.0))
    sheet = make_sheet(facts(line(cost=6)), 4, unsure)
    assert unsure.off == (Fraction("0.012"), Fraction("0.018"))
    assert sheet.most_per_serving == (sheet.total + Fraction("0.018")) / 4
    assert sheet.together_off == unsure.off
    assert make_sheet(facts(line(cost=6)), 4, replace(unsure, price=None)).electricity.off == (0, 0)


def test_a_side_in_another_size_is_as_unsure_as_plain_proportion():
    """At its own eight portions only what its own cook leaves open; at 24, a fifth of what is added by plain proportion too."""
    bread = flatbread(wall_wh=400.0, wall_off_wh=(30.0, 40.0), portions=Decimal(2))
    own, more = (make_sheet(facts(line(cost=6), sides=(bread,)), servings, POWER).sides[0] for servings in (4, 8))
    assert own.off == (Fraction(30 * 3, 10_000), Fraction(40 * 3, 10_000))
    less_wh, more_wh = (off / Fraction("0.0003") for off in more.off)
    assert (float(less_wh), float(more_wh)) == (pytest.approx(math.hypot(60, 80)), pytest.approx(math.hypot(80, 80)))
    open_bread = replace(bread, wall_at_least=True, wall_off_wh=(0.0, 0.0))
    least = make_sheet(facts(line(cost=6), sides=(open_bread,)), 8, POWER).sides[0]
    assert (least.at_least, least.off[0]) == (True, Fraction(80 * 3, 10_000))


def test_the_till_of_a_meal_holds_its_side_and_shares_packs():
    main = facts(line("rice", 8, bought=400, pack=500), line("beans", 10, bought=500, pack=500, quote=quote("10.20", 500)))
    side = side_cost(
        "salad",
        "Salad",
        portions=Decimal(1),
        facts=facts(line("rice", 1, bought=100, pack=500), line("leaves", 3, bought=100, pack=100, quote=quote("3.80", 100))),
        electricity=RAW,
        currency="EUR",
    )
    alone, meal = make_sheet(main, 4, RAW), make_sheet(replace(main, sides=(side,)), 4, RAW)
    assert [item.food for item in meal.till] == ["rice", "beans", "leaves"]
    assert meal.till_cost - alone.till_cost == Fraction("3.80")


def test_juice_and_zest_come_from_one_lemon():
    lemon = {"quote": quote("0.50", 1, "", sold="singly"), "cost": "0.5", "bought": 1, "pack": 1}
    juice, zest = line("lemon", joint="lemon juice", **lemon), line("lemon", joint="lemon zest", **lemon)
    sheet = make_sheet(facts(juice, zest), 8, RAW)
    assert (sheet.total, sheet.till_cost) == (1, 1)
    shares = [replace(one, share=Decimal(share)) for one, share in ((juice, 80), (zest, 20))]
    assert [one.cost for one in make_sheet(facts(*shares), 4, RAW).lines] == [Fraction("0.4"), Fraction("0.1")]
    whole = line("lemon", **lemon)
    assert make_sheet(facts(juice, zest, whole), 4, RAW).total == 1


def test_what_is_optional_stands_beside_the_total_and_never_makes_it_at_least():
    mint = CostLine("mint", kind="no_price", apart=True, optional=True)
    sheet = make_sheet(facts(line(), line("cream", 2, apart=True, optional=True), mint), 4, RAW)
    assert (sheet.total, sheet.with_options, sheet.at_least, sheet.coverage) == (1, 3, False, (1, 1))


def test_an_older_edition_counts_its_optional_lines_as_it_was_published():
    sheet = make_sheet(facts(line(), line("cream", 2, optional=True), schema=2), 4, RAW)
    assert sheet.total == 3


def test_coverage_counts_what_the_total_holds():
    gap = CostLine("cumin", kind="no_price")
    tap = CostLine("water", kind="tap")
    assert make_sheet(facts(line(), gap, tap), 4, RAW).coverage == (1, 2)
