"""A line that another recipe makes: cost, electricity, allergens, cautions and food energy come along, nothing is guessed."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from costing.domain.electricity import Electricity, KwhPrice
from costing.domain.facts import CostFacts, CostLine, MadeCost
from costing.domain.sheet import make_sheet
from costing.models import Quote
from costing.operations import SeenPrice, correct_quote
from costing.queries import cost_facts, recipe_prices
from energy.cards.collecting import _made_before
from energy.cards.presenting import _made_words
from kitchen.domain.packs import parse_pack
from kitchen.domain.remark import remark
from kitchen.models import Food, Line
from kitchen.operations import publish_recipe
from kitchen.operations.journal import Hand
from kitchen.operations.making import MadeBy, MadeOfItself, make_line_by
from kitchen.queries import recipe_facts
from tests.costing.kitchen_of_prices import DAY, add_food, add_line, add_price, first_part, write_recipe
from tests.kitchen.packed import pack, unpack


@pytest.fixture
def stock(owner, site, noon):
    """Stock of leek and celery for eight, 250 g each; the celery has no price."""
    recipe = write_recipe(owner, noon, slug="stock", title="Green stock", servings=8, cooks=True)
    recipe.own_cautions = "Cool it within two hours."
    recipe.save()
    recipe.revisions.update(serving_g=250)
    leek = add_food("leek", sr_number=11246, energy_kcal=61, protein_g=1.5, fat_g=0.3, carbohydrate_g=14, sodium_mg=20, fibre_g=2)
    add_line(first_part(recipe), "400 g leek", 400, "g", leek)
    add_line(first_part(recipe), "100 g celery", 100, "g", add_food("celery", sr_number=11143, allergens=["celery"]))
    add_line(first_part(recipe), "100 g dried kidney beans", 100, "g", add_food("kidney beans, dried", sr_number=16032))
    add_price(leek, "1 kg", "3.00")
    publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon)
    recipe.refresh_from_db()
    return recipe


def made_line(stew, stock, text="500 g green stock", amount=500, unit="g", *, now=False):
    line = add_line(first_part(stew), text, amount, unit, None, name="green stock")
    make_line_by(line, MadeBy(stock.current_edition, now))
    line.save()
    return line


def test_the_share_of_what_it_costs_goes_into_the_line(stew, stock, noon):
    made_line(stew, stock)
    line = cost_facts(stew.revisions.get(), at=noon).lines[-1]
    assert (line.kind, line.cost, line.made.share) == ("priced", Fraction("1.2") / 4, Fraction(1, 4))
    sheet = make_sheet(cost_facts(stew.revisions.get(), at=noon), 8, Electricity(needed=False))
    assert {one.food: one.amount for one in sheet.bought}["leek"] == 200
    assert (sheet.at_least, sheet.coverage) == (True, (2, 4))
    assert remark("gap_of_side", side="green stock", what="celery") in [gap.words for gap in sheet.left_out]


@pytest.mark.parametrize(
    ("text", "amount", "unit", "share"),
    [
        ("2 portions of stock", 2, "portion", Fraction(1, 4)),
        ("1 L stock", 1, "L", None),
        ("stock", None, "", None),
        ("2 stock", 2, "", None),
    ],
)
def test_an_amount_that_tells_no_share_is_not_guessed(stew, stock, noon, text, amount, unit, share):
    made_line(stew, stock, text, amount, unit)
    line = cost_facts(stew.revisions.get(), at=noon).lines[-1]
    assert (line.made.share if line.made else None) == share
    assert line.left_out
    facts = recipe_facts(stew.revisions.get())
    assert any(gap.code == "made_share_unknown" for gap in facts.nutrition.missing) == (share is None)


def test_allergens_food_energy_and_cautions_come_along(stew, stock, owner, owner_client, noon):
    before = recipe_facts(stew.revisions.get()).nutrition
    made_line(stew, stock)
    facts = recipe_facts(stew.revisions.get())
    assert "celery" in facts.allergens
    assert facts.nutrition.energy_kcal - before.energy_kcal == pytest.approx(61 * 4 / 4 / 4)
    assert remark("gap_of_made", made="Green stock", gap="celery") in facts.nutrition.missing
    publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon)
    page = " ".join(owner_client.get("/r/stew/").content.decode().split())
    assert '<a href="/r/stock/editions/1/" dir="auto">Green stock</a>' in page
    assert "made before" in page
    assert "Cool it within two hours." in page
    assert "idney beans, dried (green stock)" in page


def test_prices_of_today_count_for_a_pinned_edition(stew, stock, owner, noon):
    made_line(stew, stock)
    Line.objects.filter(part__revision__recipe=stock, name="leek").update(low=Fraction(900), high=Fraction(900))
    leek = Quote.objects.get(item__food__name="leek")
    seen = SeenPrice(leek.item.food, parse_pack("1 kg"), Decimal("6.00"), "EUR", "Mill Lane", DAY)
    correct_quote(quote=leek, seen=seen, by=Hand(owner, noon))
    assert cost_facts(stew.revisions.get(), at=noon).lines[-1].cost == Fraction("2.4") / 4


def test_a_recipe_is_never_made_of_itself(stew, stock, owner, owner_client, noon):
    made_line(stew, stock)
    publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon)
    stew.refresh_from_db()
    bare = Line.objects.filter(part__revision__recipe=stock).first()
    with pytest.raises(MadeOfItself, match="Green stock → Lentil stew → Green stock"):
        make_line_by(bare, MadeBy(stew.current_edition))
    typed = {
        f"line-{bare.pk}-made": stew.current_edition_id,
        f"line-{bare.pk}-rule": "proportional",
        f"line-{bare.pk}-name": "leek",
    }
    answer = owner_client.post(f"/bench/recipes/stock/edit/lines/{bare.pk}/", typed)
    assert "Green stock → Lentil stew → Green stock" in answer.content.decode()
    assert Line.objects.filter(made_of=stew.current_edition).count() == 0


def test_a_cook_links_a_line_on_its_form_and_takes_it_back(stew, stock, owner_client, noon):
    line = Line.objects.get(text="2 onions")
    page = f"/bench/recipes/stew/edit/lines/{line.pk}/"
    assert "Green stock, edition 1" in owner_client.get(page).content.decode()
    typed = {f"line-{line.pk}-{name}": value for name, value in (("rule", "proportional"), ("low", "2"), ("unit", "portion"))}
    typed |= {f"line-{line.pk}-made": stock.current_edition_id, f"line-{line.pk}-made_now": "on"}
    owner_client.post(page, typed)
    line.refresh_from_db()
    assert (line.made_of, line.made_now, line.food, line.corrected) == (stock.current_edition, True, None, True)
    assert "Green stock, edition 1, made in the same cook" in owner_client.get("/bench/recipes/stew/edit/").content.decode()
    owner_client.post(page, {"do": "again"})
    line.refresh_from_db()
    assert (line.made_of, line.food.name) == (None, "onion")


def made(**values):
    return MadeCost("stock", "Stock", 1, 8, Fraction(1, 4), (CostLine("leek", cost=Fraction(2)),), **values)


@pytest.mark.parametrize(
    ("behind", "cost", "gaps"),
    [
        (made(wall_wh=100.0, cooks=True), Fraction("0.12"), []),
        (made(wall_wh=100.0, cooks=True, now=True), Fraction("0.09"), []),
        (made(cooks=True), Fraction("0.09"), ["made_electricity"]),
        (made(), Fraction("0.09"), []),
    ],
)
def test_electricity_of_what_was_made_before_is_counted_once(behind, cost, gaps):
    facts = CostFacts(4, "EUR", DAY, "newest", (CostLine("stock", cost=Fraction("0.5"), low=Fraction(1), made=behind),))
    power = Electricity(300.0, KwhPrice(Decimal("0.30"), remark("own_price")))
    sheet = make_sheet(facts, 4, power)
    assert sheet.electricity.cost == cost
    assert [gap.words.code for gap in sheet.left_out] == gaps
    assert sheet.at_least == bool(gaps)


def test_energy_and_minutes_of_what_was_made_before_stand_beside(stew, stock):
    """Nobody measured the stock: that is said, and no figure is made up."""
    made_line(stew, stock)
    (told,) = _made_before(stew.revisions.get())
    assert (told.title, told.share, told.energy_wh, told.total_s) == ("Green stock", Fraction(1, 4), None, None)
    words = _made_words(replace(told, energy_wh=400.0, uncertainty_wh=20.0, total_s=2400.0, attended_s=600.0), Fraction(2))
    assert words.replace("\xa0", " ").startswith("Made before: Green stock, 4 of its 8 servings, 200 Wh of the 400 Wh")
    assert (
        _made_words(told, Fraction(1)) == "Made before: Green stock. Nobody measured what it took; it is not in the figures here."
    )


def test_an_archive_carries_the_link(stew, stock, owner, noon, django_user_model):
    made_line(stew, stock, now=True)
    packed = pack(noon)
    Line.objects.filter(made_of__isnull=False).delete()
    for recipe in (stew, stock):
        type(recipe).objects.filter(pk=recipe.pk).update(current_edition=None)
        recipe.editions.all().delete()
        recipe.delete()
    account = unpack(packed, owner, noon)
    line = Line.objects.get(text="500 g green stock")
    assert (line.made_of.recipe.title, line.made_of.number, line.made_now) == ("Green stock", 1, True)
    assert unpack(packed, owner, noon).nothing_new
    assert not [words for words in account.said if "stock" in words]


def test_the_sheet_tells_the_edition_and_its_share(stew, stock, owner_client, noon):
    made_line(stew, stock)
    page = " ".join(owner_client.get("/bench/recipes/stew/prices/").content.decode().split())
    for words in ("Green stock, edition 1", "Made before", "2 of eight servings", "at least €1.20 for eight servings"):
        assert words in page, words
    assert recipe_prices(stew, at=noon).missing
    assert Food.objects.filter(name="green stock").count() == 0
