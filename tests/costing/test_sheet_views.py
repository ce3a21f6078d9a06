"""The cost sheet on the bench: every line, what it lacks with what mends it, and the prices of other days."""

import json
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from costing.models import Quote, Yield
from costing.operations import (
    SeenPrice,
    correct_quote,
    describe_item,
    record_quote,
    record_yield,
    remove_quote,
    remove_yield,
    rename_shop,
    set_sheet_rules,
)
from costing.queries import SheetAsk, recipe_prices
from costing.queries.recipe import replay
from costing.queries.sheets import end_of_day
from kitchen.domain import record
from kitchen.domain.packs import parse_pack
from kitchen.models import Food, Part
from kitchen.operations.foods import change_food
from kitchen.operations.journal import Hand
from tests.costing.kitchen_of_prices import DAY, add_line, add_price, first_part

URL = "/bench/recipes/stew/prices/"


def page_of(client, query=""):
    return " ".join(client.get(f"{URL}{query}").content.decode().split())


def test_every_line_stands_with_its_source_its_unit_price_and_its_share(stew, owner_client):
    page = page_of(owner_client)
    for words in (
        "500 g for €2.35",
        "€4.70 per kg",
        "Mill Lane, 2 October 2026",
        "80 %",
        "2 of 3",
        "at least €1.76",
        "at the till",
    ):
        assert words in page
    assert "Four servings" not in page.split("four servings")[0]


def test_a_gap_holds_the_fields_that_mend_it(stew, owner_client):
    cumin = Food.objects.get(name="ground cumin")
    page = page_of(owner_client)
    gap = page.split("1½ tsp ground cumin")[1].split("</li>")[0]
    assert f'name="pack_{cumin.pk}"' in gap
    assert f'name="price_{cumin.pk}"' in gap


def test_the_sum_is_seen_while_a_price_is_typed_and_nothing_is_kept(stew, owner_client):
    cumin = Food.objects.get(name="ground cumin")
    before = Quote.objects.count()
    typed = {f"pack_{cumin.pk}": "45 g", f"price_{cumin.pk}": "1.60", "look": "1"}
    sums = owner_client.post(URL, typed).content.decode()
    assert sums.lstrip().startswith('<dl class="sums" id="sheet-sums"')
    assert "3 of 3" in sums
    assert "at least" not in sums
    half = owner_client.post(URL, typed | {f"price_{cumin.pk}": "thr"})
    assert (half.status_code, "2 of 3" in half.content.decode()) == (200, True)
    assert Quote.objects.count() == before


@pytest.mark.parametrize(
    ("text", "amount", "unit", "mends"),
    [("1 handful of luck", None, "", "Write the line anew"), ("1 cup lentils", 1, "cup", "Weigh")],
)
def test_each_gap_leads_to_what_mends_it(stew, owner_client, text, amount, unit, mends):
    add_line(first_part(stew), text, amount, unit, Food.objects.get(name="red lentils") if unit else None)
    assert mends in page_of(owner_client)


def each(recipe, at, **asked):
    facts = recipe_prices(recipe, at=at, asked=SheetAsk(**asked)).facts
    return sum(line.cost for line in facts.lines if line.counted)


def test_a_sheet_of_any_day_as_known_on_any_day_replays_to_the_cent(stew, owner, noon):
    """The last of October; lentils corrected in November, onions taken back in December, a later price in between."""
    lentils = Quote.objects.get(item__food__name="red lentils")
    then = each(stew, noon)
    november, december = noon + timedelta(days=30), noon + timedelta(days=60)
    right = SeenPrice(lentils.item.food, parse_pack("500 g"), Decimal("2.60"), "EUR", "Mill Lane", DAY)
    correct_quote(quote=lentils, seen=right, by=Hand(owner, november))
    add_price(Food.objects.get(name="onion"), "1 kg", "1.90", day=november.date())
    remove_quote(quote=Quote.objects.get(price="1.45"), by=Hand(owner, december))
    assert each(stew, december, day=noon.date(), known_at=noon) == then
    assert each(stew, december, day=noon.date(), known_at=november) == then + Fraction("0.15")
    assert each(stew, december, day=noon.date()) == Fraction("1.56")
    assert each(stew, december, day=november.date(), known_at=end_of_day(november.date())) > then


def test_another_day_and_rule_are_asked_in_the_address(stew, owner_client):
    add_price(Food.objects.get(name="red lentils"), "500 g", "1.00", shop="Harrow Lane", day=DAY - timedelta(30))
    assert "500 g for €1.00" in page_of(owner_client, "?day=2026-09-20")
    assert "500 g for €1.00" in page_of(owner_client, "?rule=cheapest")
    assert "500 g for €2.35" in page_of(owner_client, "?rule=nonsense&day=soon&shop=99")


def test_the_card_tells_which_price_moved_before_it_is_published_again(stew, owner, owner_client, noon):
    owner_client.post("/bench/recipes/stew/publish/", {})
    add_price(Food.objects.get(name="red lentils"), "500 g", "2.60", day=noon.date())
    page = " ".join(owner_client.get("/bench/recipes/stew/publish/").content.decode().split())
    assert "red lentils, €2.35 for 500 g at Mill Lane, 2 October 2026 then, €2.60 for 500 g" in page
    assert "Why it moved since edition 1" in page_of(owner_client)


def test_an_edition_replays_after_everything_it_was_made_of_was_changed(stew, owner, owner_client, noon):
    """Weights, refuse, a name, what is known of a pack, a yield, the rules, a shop, a price: all of another day."""
    lentils, onion = (Food.objects.get(name=name) for name in ("red lentils", "onion"))
    record_yield(food=onion, preparation="", percent=Decimal(80), source="", by=Hand(owner, noon - timedelta(days=3)))
    owner_client.post("/bench/recipes/stew/publish/", {})
    stew.refresh_from_db()
    edition = stew.current_edition
    kept, later = edition.facts["cards"]["cost"], Hand(owner, edition.published_at + timedelta(days=2))
    change_food(food=onion, values={"g_per_each": 150.0, "refuse_pct": 20.0, "name": "brown onion"}, by=later)
    record_yield(food=onion, preparation="", percent=Decimal(50), source="", by=later)
    remove_yield(tested=Yield.objects.get(), by=later)
    describe_item(item=Quote.objects.get(item__food=onion).item, state="trimmed", by=later)
    set_sheet_rules(rule="cheapest", last=3, shop=None, allowance_pct=Decimal(5), by=later)
    rename_shop(shop=Quote.objects.first().shop, name="Harrow Lane", note="", by=later)
    right = SeenPrice(lentils, parse_pack("500 g"), Decimal("9.99"), "EUR", "Harrow Lane", DAY)
    correct_quote(quote=Quote.objects.get(item__food=lentils), seen=right, by=later)
    told = record.write(replay(edition))
    assert json.loads(json.dumps(told).replace("brown onion", "onion")) == kept
    now = recipe_prices(stew, at=later.at + timedelta(days=1)).moved
    assert (now.replayed, {cause.kind for cause in now.why}) == (True, {"weight", "yield", "price", "allowance"})
    assert sum(cause.each for cause in now.why) == now.now.amount - now.then.amount


def test_what_the_records_cannot_tell_is_a_cause_of_its_own(stew, owner_client, noon):
    owner_client.post("/bench/recipes/stew/publish/", {})
    Food.objects.filter(name="onion").update(g_per_each=220.0)
    page = page_of(owner_client)
    assert "what the records of that day do not tell, or this program counts in another way: €0.08 more" in page
    assert "come to the same sum" not in page


def test_a_yield_counts_from_its_day_on(stew, owner, noon):
    onion = Food.objects.get(name="onion")
    for day, percent in ((None, 80), (DAY, 50)):
        record_yield(food=onion, preparation="", percent=Decimal(percent), source="", from_day=day, by=Hand(owner, noon))
    told = [recipe_prices(stew, at=noon, asked=SheetAsk(day=day)).lines[1].cost.yield_pct for day in (DAY - timedelta(1), DAY)]
    assert told in ([None, Decimal(50)], [Decimal(80), Decimal(50)])


@pytest.mark.parametrize("order", [(0, 1, 2), (2, 0, 1), (1, 2, 0)])
def test_any_order_of_entries_gives_the_same_ledger(stew, owner, noon, order):
    lentils, moment = Food.objects.get(name="red lentils"), noon - timedelta(days=1)
    entries = [("2.60", moment - timedelta(hours=3)), ("2.90", moment), ("2.70", moment - timedelta(hours=1))]
    for place in order:
        price, known_at = entries[place]
        seen = SeenPrice(lentils, parse_pack("500 g"), Decimal(price), "EUR", "Mill Lane", moment.date())
        record_quote(seen=seen, by=Hand(owner, known_at))
    assert each(stew, noon) == Fraction("2.90") * Fraction(300, 500) + Fraction("1.45") * Fraction(220, 900)


def test_a_sheet_of_sixty_lines_costs_no_more_queries(stew, owner_client):
    def queries():
        with CaptureQueriesContext(connection) as held:
            owner_client.get(URL)
        return len(held)

    owner_client.post("/bench/recipes/stew/publish/", {})
    before = queries()
    part = Part.objects.get(revision__recipe=stew, revision__number=1, position=1)
    for number in range(56):
        food = Food.objects.create(name=f"food {number}")
        add_line(part, f"{number + 1} g", number + 1, "g", food)
        add_price(food, "1 kg", "2")
    assert queries() == before
