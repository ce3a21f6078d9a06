"""Costs against worked examples of open textbooks, trade-maths notes and buying guides; each check names its own."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from costing.domain.electricity import Electricity, KwhPrice
from costing.domain.facts import CostFacts, CostLine
from costing.domain.lines import PriceBook, cost_line
from costing.domain.quotes import Offer, unit_price
from costing.domain.sheet import make_sheet
from costing.domain.yields import YieldTest, bought_amount, edible_amount, edible_price, yield_percent
from costing.words import ENGLISH
from costing.words.receipt import make_receipt
from costing.words.sums import unit_price_words
from kitchen.domain.facts import FoodFacts, LineFacts
from kitchen.domain.money import CURRENCIES, Money, places_of, round_half_up
from kitchen.domain.packs import parse_pack
from kitchen.domain.remark import remark

DAY = date(2026, 10, 14)
RAW = Electricity(needed=False)


def costed(name, amount, price, pack, yield_pct=None, **weights):
    """One line: amount and unit, price, pack amount and unit."""
    (used, unit), (held, pack_unit) = amount, pack
    offer = Offer("shop", DAY, Decimal(price), Fraction(held), pack_unit, 1, "USD")
    tests = [] if yield_pct is None else [YieldTest("", Decimal(yield_pct))]
    book = PriceBook(DAY, "USD", {name: [offer]}, {name: tests}, {})
    food = FoodFacts(name, **weights)
    return cost_line(LineFacts(name, Fraction(used), Fraction(used), unit, name, food=food), book)


def sheet_of(lines, servings, **kwargs):
    return make_sheet(CostFacts(servings, "USD", DAY, "newest", tuple(lines), **kwargs), servings, RAW)


def test_salmon_yield():
    # "Basic Kitchen and Food Service Management" (open textbook, CC BY), yield testing: whole salmon of 7.75 kg at 64.51 %,
    # cost factor 1.55; the 5.0 kg is the textbook's inputs multiplied out.
    assert round(float(edible_amount(Fraction("7.75"), Decimal("64.51"))), 1) == 5.0
    assert round(float(edible_price(Fraction(1), Decimal("64.51"))), 2) == 1.55


def test_tenderloin_yield():
    # The same textbook: 2.5 kg of tenderloin at 70 %: 1.75 kg usable, 0.75 kg trim.
    usable = edible_amount(Fraction("2.5"), Decimal(70))
    assert (usable, Fraction("2.5") - usable) == (Fraction("1.75"), Fraction("0.75"))
    assert yield_percent(Fraction("1.75"), Fraction("2.5")) == 70


def test_potatoes_cost_the_same_either_way():
    # Lecture slides on edible-portion cost: 50 lb at 1.86 a pound, yield 75 %: 37.5 lb at 2.48; 93.00 either way.
    edible = edible_amount(Fraction(50), Decimal(75))
    each = edible_price(Fraction("1.86"), Decimal(75))
    assert (edible, each) == (Fraction("37.5"), Fraction("2.48"))
    assert edible * each == 50 * Fraction("1.86") == 93
    assert costed("potato", ("37.5", "lb"), "1.86", (1, "lb"), "75").cost == 93


@pytest.mark.parametrize(
    ("edible", "percent", "bought"),
    [
        # "Basic Kitchen and Food Service Management": onions, 100 g chopped at 95 %: 105.26 g to buy.
        (100, 95, "105.26"),
        # US school-meals Food Buying Guide material: broccoli, 5 lb at 0.81: 6.17 lb.
        (5, 81, "6.17"),
    ],
)
def test_amount_to_buy(edible, percent, bought):
    assert round_half_up(bought_amount(Fraction(edible), Decimal(percent)), 2) == Decimal(bought)


def test_steak_price_by_edible_pound():
    # "Basic Kitchen and Food Service Management": steak at 10 a pound and 80 %: 12.50 a pound.
    assert edible_price(Fraction(10), Decimal(80)) == Fraction("12.5")


@pytest.mark.parametrize("percent", [1, 50, 81, 100])
def test_edible_price_is_never_below_the_price_as_bought(percent):
    # The same textbook's rule.
    assert edible_price(Fraction(10), Decimal(percent)) >= 10


POT_PIE = [
    ("chicken", ("1.5", "kg"), "2.75", (1, "kg")),
    ("onion", (120, "g"), "0.65", (1, "kg")),
    ("butter", (220, "g"), "5.95", (1, "kg")),
    ("flour", (220, "g"), "22.00", (40, "kg")),
    ("milk", ("2.5", "L"), "15.65", (20, "L")),
]


def test_pot_pie():
    # College trade-maths notes: lines of 4.13, 0.08, 1.31, 0.12 and 1.96 printed, adding to 7.60, 1.52 a portion.
    # The exact sum is 7.58925 (the notes' inputs multiplied out), so our total is 7.59 and the sheet says why.
    sheet = sheet_of([costed(*line) for line in POT_PIE], 5)
    printed = [str(round_half_up(priced.cost, 2)) for priced in sheet.lines]
    assert printed == ["4.13", "0.08", "1.31", "0.12", "1.96"]
    assert sheet.total == Fraction("7.58925")
    assert round_half_up(sheet.total, 2) == Decimal("7.59")
    assert round_half_up(sheet.per_serving, 2) == Decimal("1.52")
    assert sheet.printed_sums == (Decimal("7.60"), Decimal("7.60"))
    rounding = make_receipt(sheet, ENGLISH).rounding
    assert "$7.60" in rounding
    assert "$7.59" in rounding


def test_rice_pilaf():
    # Open textbook on bakery and business maths, chapter 25: rice pilaf for six, 1.7426 in all, 0.29 a portion.
    sheet = sheet_of(
        [
            costed("butter", (15, "g"), "4.99", (454, "g")),
            costed("oil", (15, "mL"), "6.38", (500, "mL")),
            costed("onion", (50, "g"), "2.69", (908, "g")),
            costed("bay leaf", ("0.5", "g"), "3.99", (60, "g")),
            costed("rice", (250, "g"), "12.99", ("4.54", "kg")),
            costed("bouillon", ("2.5", ""), "7.99", (41, "")),
            costed("salt", (1, "g"), "2.49", (1, "kg")),
        ],
        6,
    )
    assert round_half_up(sheet.total, 4) == Decimal("1.7426")
    assert round_half_up(sheet.per_serving, 2) == Decimal("0.29")


def test_couscous():
    # The same textbook's inputs (couscous for eight), multiplied out: 4.0133 in all, 0.5017 a portion.
    sheet = sheet_of(
        [
            costed("couscous", (2, "cup"), "4.20", (1, "quart")),
            costed("carrot", (4, "oz"), "0.68", (1, "lb"), "77"),
            costed("raisins", (4, "oz"), "4.37", (1, "lb")),
            costed("stock", (16, "floz"), "0.84", (1, "quart")),
            costed("parsley", (2, "tbsp"), "0.72", (8, "tbsp")),
        ],
        8,
    )
    assert round_half_up(sheet.total, 4) == Decimal("4.0133")
    assert round_half_up(sheet.per_serving, 4) == Decimal("0.5017")


def test_seasoning_factor():
    # "Basic Kitchen and Food Service Management": an item of 2.00 with a 5 % seasoning factor is 2.10.
    line = CostLine("item", cost=Fraction(2), low=Fraction(1), high=Fraction(1))
    assert sheet_of([line], 1, allowance_pct=Decimal(5)).total == Fraction("2.1")


def test_food_cost_percentage():
    # College trade-maths notes: a plate priced 5.95 at 36 % food cost holds 2.14 of food.
    assert (Money(Decimal("5.95"), "USD") * Fraction(36, 100)).rounded() == Decimal("2.14")


def test_electricity_of_a_measured_cook():
    # Common practice: 213 Wh at 0.20 a kilowatt-hour cost 0.0426.
    assert Electricity(213.0, KwhPrice(Decimal("0.20"), remark("own_price"))).cost == Fraction("0.0426")


ISO_4217 = {
    "EUR": 2,
    "USD": 2,
    "GBP": 2,
    "CHF": 2,
    "SEK": 2,
    "JPY": 0,
    "KRW": 0,
    "CLP": 0,
    "ISK": 0,
    "KWD": 3,
    "BHD": 3,
    "TND": 3,
}


@pytest.mark.parametrize(("code", "places"), ISO_4217.items())
def test_currencies_and_their_minor_units(code, places):
    # ISO 4217, list of currency codes: the minor unit of each (from memory).
    assert code in CURRENCIES
    assert places_of(code) == places


@pytest.mark.parametrize("code", ["XYZ", "EURO", "DEM", "FRF", "ABC", "eur"])
def test_what_iso_4217_does_not_list_is_no_currency(code):
    # DEM and FRF were withdrawn with the euro (ISO 4217, list of historic codes; from memory).
    assert code not in CURRENCIES


@pytest.mark.parametrize(
    ("pack", "price", "said"),
    [
        # Directive 98/6/EC, article 2 b: the unit price is the final price for one kilogramme, one litre, or a single piece.
        ("400 g", "0.80", "€2.00 per kg"),
        ("6 x 400 g", "5.40", "€2.25 per kg"),
        ("0.75 L", "2.40", "€3.20 per L"),
        ("70 cl", "14.00", "€20.00 per L"),
        ("10", "3.20", "€0.32 a piece"),
    ],
)
def test_unit_prices_are_by_the_kilogram_the_litre_or_the_piece(pack, price, said):
    held = parse_pack(pack)
    offer = Offer("shop", DAY, Decimal(price), held.amount, held.unit, held.packs, "EUR")
    assert unit_price_words(*unit_price(offer), "EUR", ENGLISH) == said
