"""The cost card: collecting from tables, presenting, and what waits on the bench."""

import json
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from django.template.loader import render_to_string

from costing.cards import CostCard
from costing.domain.facts import CostFacts
from costing.operations import record_yield, set_sheet_rules
from energy.estimates.domain.meal import meal_energy
from kitchen.cards import CardRequest
from kitchen.domain import record
from kitchen.domain.remark import remark
from kitchen.models import Food, Pairing, Part
from kitchen.operations import publish_recipe
from kitchen.queries import collect_facts
from tests.costing.domain.energy_facts import energy_facts
from tests.costing.kitchen_of_prices import DAY, add_food, add_line, add_price, first_part, set_site, write_recipe, write_stew

card = CostCard()
KEPT = Path(__file__).parents[1] / "kitchen" / "kept" / "editions-0.1.0.json"


def collected(recipe, at):
    return card.collect(recipe.revisions.get(number=1), at=at)


def facts_of(recipe, at):
    return record.read(CostFacts, collected(recipe, at))


def asked(servings=4, **kwargs):
    return CardRequest(servings, 4, **kwargs)


def prepared(facts, request):
    """What a page hands to every hook of the card."""
    return card.prepare(card.read(facts), request), request


def test_collected_lines_have_cost_reason_and_quote(stew, noon):
    facts = facts_of(stew, noon)
    lentils, onion, cumin, salt = facts.lines
    assert lentils.cost == 300 * Decimal("2.35") / 500
    assert onion.bought == pytest.approx(220 / 0.9)
    assert onion.yield_source == remark("refuse_in_table")
    assert (cumin.kind, cumin.reason, salt.kind) == ("no_price", remark("no_price"), "to_taste")
    assert (facts.servings, facts.currency, facts.day, facts.rule) == (4, "EUR", DAY, "newest")


def test_the_same_prices_make_the_same_facts_on_another_day(stew, noon):
    assert collected(stew, noon) == collected(stew, noon + timedelta(days=9))


def test_a_price_of_tomorrow_does_not_count_today(stew, noon):
    add_price(Food.objects.get(name="red lentils"), "500 g", "9.99", day=noon.date() + timedelta(1))
    assert facts_of(stew, noon).lines[0].quote.price == Decimal("2.35")
    assert facts_of(stew, noon + timedelta(1)).lines[0].quote.price == Decimal("9.99")


def test_a_tested_yield_counts(stew, noon):
    record_yield(food=Food.objects.get(name="onion"), preparation="", percent=Decimal(80), source="our test")
    assert facts_of(stew, noon).lines[1].yield_pct == 80


def test_the_kitchens_rules_count(stew, noon):
    lentils = Food.objects.get(name="red lentils")
    add_price(lentils, "500 g", "9.00", day=DAY + timedelta(2))
    add_price(lentils, "500 g", "3.00", day=DAY + timedelta(1))
    set_sheet_rules(rule="median", last=3, shop=None, allowance_pct=Decimal(5))
    facts = facts_of(stew, noon)
    assert facts.lines[0].quote.price == 3
    assert (facts.rule, facts.rule_detail, facts.allowance_pct) == ("median", "3", 5)


def test_a_recipe_without_lines_has_no_card(owner, site, noon):
    assert collected(write_recipe(owner, noon), noon) is None


def test_collecting_costs_no_more_queries_with_more_lines_prices_and_sides(stew, owner, noon, django_assert_num_queries):
    def count():
        from django.db import connection
        from django.test.utils import CaptureQueriesContext

        with CaptureQueriesContext(connection) as held:
            collected(stew, noon)
        return len(held)

    side(stew, owner, noon, "bread-0")
    before = count()
    part = first_part(stew)
    for number in range(10):
        food = add_food(f"food {number}")
        add_line(part, f"{number} g", 5, "g", food)
        add_price(food, "1 kg", "2")
        side(stew, owner, noon, f"bread-{number + 1}")
    assert count() == before
    assert before <= 12


def side(main, owner, at, slug="bread", *, publish=True, price="2.00", portions="1"):
    bread = write_recipe(owner, at, slug=slug, title=f"Flatbread {slug}", servings=8)
    flour = add_food(f"flour for {slug}")
    add_line(first_part(bread), "400 g flour", 400, "g", flour)
    add_price(flour, "1 kg", price)
    if publish:
        publish_recipe(recipe=bread, revision=bread.revisions.get(), by=owner, at=at)
    Pairing.objects.create(main=main, side=bread, portions=Decimal(portions))
    return bread


def test_a_published_side_comes_with_its_editions_cost(stew, owner, noon):
    bread = side(stew, owner, noon)
    add_price(Food.objects.get(name="flour for bread"), "1 kg", "5.00", day=DAY + timedelta(1))
    (found,) = facts_of(stew, noon).sides
    assert (found.slug, found.servings, found.cost) == (bread.slug, 8, Decimal("0.8"))


def test_a_side_that_is_not_published_is_named_nowhere(stew, owner, noon):
    side(stew, owner, noon, publish=False)
    assert facts_of(stew, noon).sides == ()


def test_a_side_published_without_costs_is_costed_now(stew, owner, noon):
    bread = side(stew, owner, noon)
    edition = bread.editions.get()
    del edition.facts["cards"]["cost"]
    edition.save()
    assert facts_of(stew, noon).sides[0].cost == Decimal("0.8")


def test_present_alone_with_side_and_together(stew, owner, noon):
    side(stew, owner, noon, portions="0.5")
    receipt = card.present(*prepared(collected(stew, noon), asked()))["receipt"]
    assert receipt.total.cost == "at least €1.76"
    assert receipt.sides[0].cost == "€0.20"
    assert receipt.together.cost == "at least €1.96"


def test_scaled_servings_scale_the_receipt(stew, noon):
    receipt = card.present(*prepared(collected(stew, noon), asked(8)))["receipt"]
    assert receipt.total.words == "Eight servings"
    assert receipt.total.cost == "at least €3.52"
    assert receipt.per_serving == "at least €0.44"


def test_electricity_comes_from_the_energy_facts_and_the_readers_price(stew, noon):
    energy = meal_energy(energy_facts(), 4, {})
    facts = collected(stew, noon)
    receipt = card.present(*prepared(facts, asked(prepared={"energy": energy})))["receipt"]
    assert (receipt.electricity.words, receipt.electricity.cost) == ("electricity, 0.25 kWh", "€0.08")
    own = card.present(*prepared(facts, asked(prepared={"energy": energy}, kit={"price_per_kwh": Decimal("1.00")})))["receipt"]
    assert own.electricity.cost == "€0.25"
    assert "your own price" in own.electricity.note


def test_a_cooked_dish_without_a_run_says_that_its_electricity_is_missing(owner, site, noon):
    recipe = write_recipe(owner, noon, cooks=True)
    rice = add_food("rice")
    add_line(first_part(recipe), "1 kg rice", 1, "kg", rice)
    add_price(rice, "1 kg", "2.00")
    receipt = card.present(*prepared(collected(recipe, noon), asked()))["receipt"]
    assert [gap.words for gap in receipt.left_out] == ["electricity"]


def test_headline_and_figure(stew, noon):
    facts = collected(stew, noon)
    (headline,) = card.headlines(*prepared(facts, asked()))
    assert (headline.value, headline.words) == ("€0.44", "each serving at least, prices of October 2026")
    assert card.figures(*prepared(facts, asked())) == {"cost_per_serving": None}, "a total that lacks a line ranks nowhere"


def test_a_complete_sheet_says_no_at_least(stew, noon):
    add_price(Food.objects.get(name="ground cumin"), "45 g", "1.60")
    (headline,) = card.headlines(*prepared(collected(stew, noon), asked()))
    assert headline.words == "each serving, prices of October 2026"


def test_electricity_that_may_be_more_stays_out_of_the_filters(stew, noon):
    sheet, request = prepared(collected(stew, noon), asked())
    assert card.figures(replace(sheet, electricity=replace(sheet.electricity, at_least=True)), request) == {
        "cost_per_serving": None
    }


def test_without_any_price_a_reader_gets_no_card_and_the_owner_sees_why(owner, site, noon):
    recipe = write_recipe(owner, noon)
    add_line(first_part(recipe), "1 kg rice", 1, "kg", add_food("rice"))
    facts = collected(recipe, noon)
    assert card.present(*prepared(facts, asked())) is None
    assert card.headlines(*prepared(facts, asked())) == ()
    assert card.figures(*prepared(facts, asked())) == {}
    shown = card.present(*prepared(facts, asked(audience="owner")))
    html = render_to_string(card.template_name, shown | {"card": card})
    assert "no price yet" in html
    assert "€" not in html


def test_the_card_on_screen_names_currency_reasons_shops_and_days(stew, noon):
    html = render_to_string(card.template_name, card.present(*prepared(collected(stew, noon), asked())) | {"card": card})
    for words in ("at least €1.76", "ground cumin", "no price yet", "To taste, not counted: salt", "Mill Lane, 2 October 2026"):
        assert words in html
    assert "style=" not in html


def test_the_card_on_paper_is_one_line(stew, noon):
    said = card.paper_words(*prepared(collected(stew, noon), asked()))
    assert said == "Four servings cost at least €1.76 for 2 of 3 lines (prices of October 2026)."


def test_facts_of_a_newer_program_are_refused_in_words(stew, noon):
    with pytest.raises(record.UnreadableRecord, match="schema 99"):
        card.read(collected(stew, noon) | {"schema": 99})


def test_an_edition_of_an_older_program_shows_its_sentences_as_they_were():
    kept = {f"{held['recipe']} {held['number']}": held["facts"]["cards"]["cost"] for held in json.loads(KEPT.read_text("utf-8"))}
    pot = card.present(*prepared(kept["red-lentil-and-squash-pot 2"], asked()))["receipt"]
    assert pot.sides[0].note == "none of its ingredients has a price yet"
    assert {source.used for source in pot.sources} >= {
        "81 % of it is used (kitchen test, 3 squashes, September 2026, peeled, seeded and diced)",
        "87 % of it is used (refuse in the food table)",
    }
    wedges = card.present(*prepared(kept["smoky-potato-wedges 1"], asked()))["receipt"]
    assert "no amount is given" in [gap.reason for gap in wedges.left_out]


def test_a_price_that_changes_leaves_the_edition_as_it_was(stew, owner, noon):
    edition = publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon)
    before = edition.facts["cards"]["cost"]
    add_price(Food.objects.get(name="red lentils"), "500 g", "4.70", day=noon.date())
    edition.refresh_from_db()
    assert edition.facts["cards"]["cost"] == before
    assert collect_facts(stew.revisions.get(), at=noon)["cards"]["cost"] != before


def test_attention_for_unpriced_changed_and_stale(stew, owner, noon):
    publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon)
    assert [item.words for item in card.attention(owner, at=noon)] == ["Lentil stew: 1 line has no price."]
    add_price(Food.objects.get(name="ground cumin"), "45 g", "1.60")
    changed = card.attention(owner, at=noon)
    assert [item.words for item in changed] == [
        "Lentil stew: ingredients of a serving: at least €0.44 in edition 1, €0.47 now; "
        "ground cumin, which is counted now: €0.03 more. Publish it again."
    ]
    later = card.attention(owner, at=noon + timedelta(days=200))
    assert later[-1].words == "Prices older than 180 days: ground cumin, onion and red lentils."


def test_attention_is_each_cooks_own(stew, owner, other_cook, noon):
    publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon)
    assert card.attention(other_cook, at=noon) == []


def test_attention_costs_no_more_queries_with_more_recipes(owner, site, noon):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    def count():
        with CaptureQueriesContext(connection) as held:
            card.attention(owner, at=noon)
        return len(held)

    def publish(number):
        recipe = write_recipe(owner, noon, slug=f"dish-{number}", title=f"Dish {number}")
        food = add_food(f"food {number}")
        add_line(first_part(recipe), "1 kg", 1, "kg", food)
        add_price(food, "1 kg", "2.00", day=DAY - timedelta(400))
        publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon)

    publish(0)
    before = count()
    for number in range(1, 11):
        publish(number)
    assert count() == before
    assert before <= 9


def test_the_bench_gets_sections_and_a_link_with_what_is_missing(stew, noon):
    (section,) = card.bench_sections()
    pages = ["All prices", "Receipts", "Shopping list", "Shops", "Yields"]
    assert (section.label, [page.label for page in section.pages]) == ("Prices", pages)
    part = card.workbench(stew, stew.revisions.get(), at=noon)
    (link,) = part.links
    assert part.next.label == "Type the prices"
    assert link.url == "/bench/recipes/stew/prices/"
    assert link.note == "1 line has no price yet"


def test_the_allowance_and_parts_stand_on_the_card(stew, noon):
    finish = Part.objects.create(revision=stew.revisions.get(), position=2, title="To finish")
    add_line(finish, "100 g red lentils", 100, "g", Food.objects.get(name="red lentils"))
    set_sheet_rules(rule="newest", last=3, shop=None, allowance_pct=Decimal(5))
    html = render_to_string(card.template_name, card.present(*prepared(collected(stew, noon), asked())) | {"card": card})
    assert "To finish" in html
    assert "5 % allowance" in html


def test_another_site_currency_adds_nothing(owner, noon, db):
    stew = write_stew(owner, noon)
    set_site("CHF")
    facts = facts_of(stew, noon)
    assert {line.kind for line in facts.lines} == {"no_price", "to_taste"}
    assert facts.lines[0].reason == remark("price_in_currencies", currencies="EUR", currency="CHF")
