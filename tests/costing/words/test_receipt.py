"""The words of the receipt."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from costing.domain.electricity import Electricity, KwhPrice
from costing.domain.facts import CostLine, LeftOut, SideCost
from costing.domain.sheet import make_sheet
from costing.words import ENGLISH
from costing.words.receipt import make_receipt
from kitchen.domain.remark import remark
from tests.costing.domain.making import facts, line, quote

POWER = Electricity(340.0, KwhPrice(Decimal("0.30"), remark("tariff", name="Club meadow")), estimated=True)


def receipt(*lines, servings=4, electricity=POWER, **kwargs):
    held = facts(*lines, **kwargs)
    return make_receipt(make_sheet(held, servings, electricity), ENGLISH)


def test_groups_follow_the_parts_and_rows_the_cost():
    found = receipt(line("oil", 1), line("lentils", 3), line("lemon", 2, part="To finish"), line("squash", 5))
    assert [(group.title, [row.words for row in group.rows]) for group in found.groups] == [
        ("", ["squash", "lentils", "oil"]),
        ("To finish", ["lemon"]),
    ]


def test_every_sum_has_its_currency():
    found = receipt(line("lentils", "4.5"))
    assert found.groups[0].rows[0].cost == "€4.50"
    assert (found.total.words, found.total.cost, found.per_serving) == ("Four servings", "€4.60", "€1.15")
    assert found.electricity.words == "electricity, 0.34 kWh"
    assert found.electricity.cost == "€0.10"
    assert found.electricity.note == "€0.30 per kWh, tariff Club meadow, estimated"


def test_at_least_stands_on_every_sum_that_lacks_something():
    missing = CostLine("cumin", kind="no_price", reason=remark("no_price"))
    side = SideCost("bread", "Bread", Decimal(1), 4, Fraction(2), wall_wh=10.0)
    found = receipt(line(), missing, sides=(side,))
    assert found.total.cost.startswith("at least €")
    assert found.per_serving.startswith("at least €")
    assert found.together.cost.startswith("at least €")
    assert not found.sides[0].cost.startswith("at least")


def test_electricity_that_may_be_more_is_never_a_definite_sum():
    side = SideCost("bread", "Bread", Decimal(1), 4, Fraction(2), wall_wh=10.0, wall_at_least=True)
    found = receipt(line(), sides=(side,), electricity=replace(POWER, at_least=True))
    assert found.electricity.words == "electricity, at least 0.34 kWh"
    sums = (found.electricity.cost, found.total.cost, found.per_serving, found.sides[0].cost, found.together.cost)
    assert all(words.startswith("at least €") for words in sums)


def test_sides_alone_and_together():
    side = SideCost("bread", "Bread", Decimal("0.5"), 4, Fraction(2), cooks=False)
    found = receipt(line("lentils", 4), sides=(side,), electricity=Electricity(needed=False))
    assert found.total.cost == "€4.00"
    assert (found.sides[0].words, found.sides[0].cost) == ("Bread, 2 portions", "€1.00")
    assert found.sides[0].note == "€0.25 with each serving, in proportion to what 4 of it cost"
    assert (found.together.cost, found.together.note) == ("€5.00", "€1.25 each serving")


def test_two_sums_that_do_not_add_up_by_a_cent_say_why():
    side = SideCost("bread", "Bread", Decimal(1), 1, Fraction("1.004"), cooks=False)
    side_power = Electricity(needed=False)
    found = receipt(line("lentils", "4.004"), sides=(side,), electricity=side_power)
    assert (found.total.cost, found.sides[0].cost, found.together.cost) == ("€4.00", "€4.02", "€8.02")
    assert found.together.note == "€2.01 each serving"
    alone = receipt(line("lentils", "4.004"), sides=(replace(side, cost=Fraction("0.251")),), electricity=side_power)
    assert (alone.total.cost, alone.sides[0].cost, alone.together.cost) == ("€4.00", "€1.00", "€5.01")
    assert alone.together.note == "€1.25 each serving; the exact sum, rounded once"


def test_a_side_that_cannot_be_added_stands_there_with_its_reason():
    side = SideCost("bread", "Bread", Decimal(1), 4, None, remark("side_in_currency", own="CHF", currency="EUR"))
    found = receipt(line(), sides=(side,))
    assert (found.sides[0].cost, found.together) == ("not added", None)
    assert found.sides[0].note == "its prices are in CHF, which does not add to EUR"
    assert found.sides_left_out == (LeftOut("Bread", "its prices are in CHF, which does not add to EUR"),)


def test_what_a_side_lacks_is_named_with_the_side():
    cumin = LeftOut("cumin", remark("no_price"))
    side = SideCost("bread", "Bread", Decimal(1), 4, Fraction(2), left_out=(cumin,), wall_wh=None)
    assert receipt(line(), sides=(side,)).sides_left_out == (
        LeftOut("Bread: cumin", "no price yet"),
        LeftOut("Bread: electricity", "no cook of it has been measured yet"),
    )


def test_sentences_that_an_edition_kept_stand_as_they_were():
    kept = CostLine("cumin", kind="no_price", reason="nobody has seen a price")
    squash = line("squash", 3, bought=100, yield_pct=Decimal(84), yield_source="the table said so")
    found = receipt(squash, kept)
    assert found.left_out == (LeftOut("cumin", "nobody has seen a price"),)
    assert found.sources[0].used == "84 % of it is used (the table said so)"


def test_where_prices_come_from_names_shop_day_yield_and_age():
    priced = line(
        "squash", 3, bought="714.3", yield_pct=Decimal(84), yield_source=remark("own_test"), quote=quote("1.95", stale=True)
    )
    (source,) = receipt(priced, servings=8).sources
    assert source.quote == "€1.95 for 1000 g at Mill Lane, 14 October 2026"
    assert (source.bought, source.used, source.stale) == ("1.43 kg", "84 % of it is used (own test)", True)


def test_two_lines_of_one_food_are_one_source():
    (source,) = receipt(line("oil", 1, bought=20), line("oil", 2, bought=40)).sources
    assert source.bought == "60 g"


def test_the_till_names_whole_packs():
    found = receipt(line("lentils", 1, bought=1300, quote=quote("2.35")))
    assert (found.till, found.till_rows[0].note, found.till_rows[0].cost) == ("€4.70", "2 x 1000 g; 700 g left over", "€4.70")


def test_notes_tell_rule_range_and_rounding():
    found = receipt(line("a", "0.005", low=2, high=3), line("b", "0.005"), electricity=Electricity(needed=False))
    assert found.rounding == (
        "The printed lines add up to €0.02: each is rounded by itself. The total, €0.01, is the exact sum rounded once."
    )
    assert found.notes == ("Each price is the newest seen by 14 October 2026.", "Costed with the middle of a range: a.")
    side = SideCost("bread", "Bread", Decimal(1), 4, Fraction(2), cooks=False)
    assert receipt(line(), sides=(side,)).notes[1] == "A side is counted by the portion, with its own electricity."


def test_a_cost_below_a_cent_is_not_printed_as_nothing():
    assert receipt(line("bay leaf", "0.001")).groups[0].rows[0].cost == "under €0.01"


def test_the_allowance_is_a_line_of_its_own():
    found = receipt(line(cost=10), allowance_pct=Decimal("5.0"))
    assert (found.allowance.words, found.allowance.cost) == ("seasoning, 5 % allowance", "€0.50")
    assert receipt(line()).allowance is None


def test_prices_of_several_months_say_so():
    def seen(day):
        return line(f"food of {day}", 1, quote=replace(quote(), day=day))

    assert receipt(seen(date(2026, 9, 1)), seen(date(2026, 9, 30))).months == "September 2026"
    assert receipt(seen(date(2026, 9, 1)), seen(date(2026, 3, 7))).months == "March to September 2026"
    assert receipt(seen(date(2025, 11, 1)), seen(date(2026, 3, 7))).months == "November 2025 to March 2026"
    assert receipt(CostLine("cumin", kind="no_price")).months == ""


def test_a_serving_that_costs_next_to_nothing_is_not_printed_as_free():
    found = receipt(line("tea", "0.5"), servings=400, electricity=Electricity(needed=False))
    assert found.per_serving == "€0.13"
    crumbs = receipt(line("bay leaf", "0.001"), electricity=Electricity(needed=False))
    assert crumbs.per_serving == "under €0.01"


def test_a_side_that_lacks_something_costs_at_least_so_much_each_too():
    side = SideCost("bread", "Bread", Decimal(1), 4, Fraction(2), wall_wh=None)
    found = receipt(line(), sides=(side,))
    assert found.sides[0].note == "at least €0.50 with each serving"


def test_the_till_says_at_least_where_a_food_has_no_price():
    missing = CostLine("cumin", kind="no_price", reason=remark("no_price"))
    assert receipt(line(bought=500), missing).till == "at least €2.00"
    assert receipt(line(bought=500)).till == "€2.00"


def test_paper_names_only_the_sides_that_are_in_the_sum():
    bread = SideCost("bread", "Bread", Decimal(1), 4, Fraction(2), cooks=False)
    dip = SideCost("dip", "Dip", Decimal(1), 4, None, remark("side_unpriced"))
    assert receipt(line(), sides=(bread, dip)).with_sides == "Bread, 4 portions"


def test_a_dish_that_is_not_cooked_says_that_no_electricity_is_counted():
    uncooked = receipt(line(), electricity=Electricity(needed=False)).uncooked
    assert uncooked == "No step is marked as cooking: no electricity is counted."
    assert receipt(line()).uncooked == ""


def test_sums_are_ranges_where_the_energy_is_one():
    unsure = replace(POWER, off_wh=(100.0, 200.0))
    found = receipt(line("lentils", 4), electricity=unsure)
    assert (found.electricity.words, found.electricity.cost) == ("electricity, 0.24 to 0.54 kWh", "€0.07 to €0.16")
    assert (found.total.cost, found.per_serving, found.rounding) == ("€4.07 to €4.16", "€1.02 to €1.04", "")
