"""How a line is bought: by which pack, after which yield, and which price is used for it."""

from datetime import timedelta
from decimal import Decimal
from fractions import Fraction

import pytest

from costing.domain.electricity import Electricity
from costing.domain.lines import cost_line
from costing.domain.quotes import Given, QuoteRule
from costing.domain.sheet import make_sheet
from costing.domain.yields import YieldTest
from costing.words import ENGLISH
from costing.words.sources import quote_words
from kitchen.domain.facts import FoodFacts, LineFacts
from kitchen.domain.remark import remark
from tests.costing.domain.making import DAY, book, facts, offer

GARLIC = FoodFacts("garlic", g_per_each=3.0, each_name="clove")


def line(amount, unit, food, name="", **kwargs):
    exact = Fraction(amount)
    food = food if isinstance(food, FoodFacts) else FoodFacts(food)
    return LineFacts(f"{amount} {unit} {name or food.name}", exact, exact, unit, name or food.name, food=food, **kwargs)


def cost(asked, offers, **kwargs):
    return cost_line(asked, book({asked.food.name: offers}, **kwargs))


def test_wedges_with_skin_say_nothing_of_peeled_potatoes():
    tested = {"potato": [YieldTest("wedges with skin", Decimal(96))]}
    peeled = cost(line(750, "g", "potato", note="peeled"), [offer("2.00")], yields=tested, refuse={"potato": 25.0})
    assert (peeled.yield_pct, peeled.bought, peeled.cost) == (75, 1000, 2)


@pytest.mark.parametrize("name", ["boneless lamb shoulder", "lamb shoulder, boneless"])
def test_boneless_meat_is_not_bought_with_its_bone(name):
    food = FoodFacts("lamb shoulder" if name.startswith("boneless") else name)
    costed = cost(line(1, "kg", food, name), [offer("2.40")], refuse={food.name: 25.0})
    assert (costed.cost, costed.yield_pct) == (Fraction("2.40"), 100)


@pytest.mark.parametrize(("state", "expected"), [("", "3.2"), ("whole", "3.2"), ("trimmed", "2.4")])
def test_trim_is_taken_only_on_what_is_sold_whole(state, expected):
    assert cost(line(1, "kg", "lamb"), [offer("2.40", state=state)], refuse={"lamb": 25.0}).cost == Fraction(expected)


@pytest.mark.parametrize("kind", ["newest", "median", "shop", "cheapest"])
def test_the_newest_price_that_can_be_used_counts_and_the_skipped_one_is_named(kind):
    seen = [offer("0.90", 1, "bunch", day=DAY), offer("5.00", day=DAY - timedelta(30))]
    costed = cost(line(100, "g", "parsley"), seen, rule=QuoteRule(kind, shop="Mill Lane"))
    assert (costed.cost, costed.quote.day) == (Fraction("0.5"), DAY - timedelta(30))
    assert [(one.day, one.price, one.reason.code) for one in costed.skipped] == [(DAY, Decimal("0.90"), "needs_unit_weight")]


def test_a_tin_is_one_of_six_and_what_was_assumed_is_said():
    tin = line(1, "can", "chickpeas")
    plain = cost(tin, [offer("5.40", 400, packs=6)])
    assert (plain.cost, plain.assumed) == (Fraction("0.9"), remark("taken_for_pack", unit="can", amount="400", pack_unit="g"))
    labelled = cost(tin, [offer("5.40", 400, packs=6, container="can")])
    assert (labelled.cost, labelled.assumed) == (Fraction("0.9"), "")


@pytest.mark.parametrize(
    "kwargs",
    [{"pack": 5000}, {"pack": 500, "state": "dry"}, {"pack": 400, "container": "bag"}, {"pack": 1, "unit": "", "sold": "loose"}],
)
def test_a_tin_is_never_taken_for_a_sack_or_for_dry_beans(kwargs):
    assert cost(line(1, "can", "chickpeas"), [offer("5.40", **kwargs)]).kind == "unclear"


def test_a_sale_price_ends():
    sale = offer("1.00", day=DAY - timedelta(20), last_day=DAY - timedelta(1))
    over = cost(line(1, "kg", "rice"), [sale])
    assert (over.kind, over.reason) == ("no_price", remark("price_over", last_day="2026-10-13"))
    before = offer("2.00", day=DAY - timedelta(90))
    assert cost(line(1, "kg", "rice"), [sale, before]).cost == 2


def test_drained_food_is_bought_by_its_drained_weight():
    tins = offer("0.80", 400, container="can", drained_g=Fraction(240))
    assert cost(line(240, "g", "chickpeas", note="drained"), [tins]).cost == Fraction("0.8")
    assert cost(line(240, "g", "chickpeas"), [tins]).cost == Fraction("0.48")
    assert cost(line(1, "can", "chickpeas", note="drained"), [tins]).cost == Fraction("0.8")


def test_pieces_that_a_pack_counts():
    carrots = offer("1.20", 1000, pieces=Fraction(8))
    assert cost(line(2, "", "carrot"), [carrots], refuse={"carrot": 11.0}).cost == Fraction("0.3")
    assert cost(line(2, "clove", GARLIC), [offer("0.60", 1, "", pieces=Fraction(10))]).cost == Fraction("0.12")


def test_a_bulb_is_not_taken_for_a_clove():
    asked = cost(line(2, "clove", GARLIC), [offer("0.60", 1, "")])
    assert (asked.kind, asked.reason) == ("unclear", remark("needs_pieces", unit="clove"))
    assert cost(line(2, "clove", GARLIC), [offer("0.60", 10, "clove")]).cost == Fraction("0.12")
    assert cost(line(2, "clove", GARLIC), [offer("5.00")]).cost == Fraction("0.03")


def test_cooked_rice_is_bought_dry():
    gain = {"white rice": [YieldTest("", Decimal(280), "own test", "cook")]}
    costed = cost(line(280, "g", "white rice", note="cooked"), [offer("2.00", state="dry")], yields=gain)
    assert (costed.bought, costed.cooked_pct, costed.cost) == (100, 280, Fraction("0.2"))
    assert cost(line(280, "g", "white rice", note="cooked"), [offer("2.00", state="dry")]).reason == remark("needs_cooking_test")
    assert cost(line(280, "g", "white rice"), [offer("2.00", state="dry")], yields=gain).bought == 280


def test_the_tax_that_a_till_adds_is_in_the_cost_and_at_the_till():
    costed = cost(line(500, "g", "rice"), [offer("2.00", tax_pct=Decimal("7.5"))])
    assert costed.cost == Fraction("1.075")
    sheet = make_sheet(facts(costed), 4, Electricity(needed=False))
    assert sheet.till_cost == Fraction("2.15")
    assert quote_words(costed.quote, "EUR", ENGLISH) == "€2.00 and 7.5 % tax for 1000 g at Mill Lane, 14 October 2026"


def test_an_optional_line_stands_apart():
    costed = cost(line(10, "g", "mint", optional=True), [])
    assert (costed.kind, costed.apart, costed.left_out) == ("no_price", True, False)


def test_a_yolk_is_bought_as_an_egg():
    eggs = offer("1.80", 6, "", sold="singly")
    parts = (("egg yolk", Decimal(40)), ("egg white", Decimal(60)))
    given = {food: [Given(eggs, "egg", Fraction(6), "", share)] for food, share in parts}
    yolk = cost_line(line(2, "", "egg yolk"), book({}, given=given))
    assert (yolk.food, yolk.bought, yolk.cost, yolk.joint, yolk.share) == ("egg", 2, Fraction("0.6"), "egg yolk", 40)
