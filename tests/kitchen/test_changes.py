"""What is shared keeps its author and its history, and is put back in one tap."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from costing.models import Item, Quote, SheetRules, Shop, Yield
from costing.operations import close_shop, open_shop, record_yield, rename_shop, set_sheet_rules
from energy.gear.operations import remove_gear, save_gear
from energy.models import Appliance, Meter, PowerSource, Run, SentReading, Tariff
from kitchen.models import Change, Food
from kitchen.operations.journal import CannotBePutBack, Hand, noted, put_back
from tests.house.bench_of_everything import furnish

pytestmark = pytest.mark.django_db


@pytest.fixture
def hand(owner, noon):
    return Hand(owner, noon)


def newest():
    return Change.objects.first()


@pytest.fixture
def kitchen_of_one_run(owner, other_cook, noon, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    furnish(owner, other_cook, noon)
    return Run.objects.get()


def test_a_change_on_a_gear_page_tells_who_did_what_and_is_put_back_in_one_tap(owner_client, other_client, owner):
    said = {"name": "Big pot", "kind": "kettle", "rated_w": "700"}
    assert other_client.post("/bench/appliances/new/", said).status_code == 302
    pot = Appliance.objects.get()
    owner_client.post(f"/bench/appliances/{pot.pk}/", said | {"rated_w": "900", "name": "Bigger pot"})
    page = " ".join(other_client.get(f"/bench/appliances/{pot.pk}/").content.decode().split())
    assert "Shared by everybody" in page
    assert '<b dir="auto">other</b> made the appliance “Big pot”' in page
    assert '<b dir="auto">owner</b> changed the appliance “Bigger pot”' in page
    assert "Rated power: 700 → 900" in page
    assert "Name: Big pot → Bigger pot" in page
    (back,) = re.findall(r'action="(/bench/changes/[0-9]+/put-back/)"', page)
    assert other_client.post(back).headers["Location"] == f"/bench/appliances/{pot.pk}/"
    pot.refresh_from_db()
    assert (pot.name, pot.rated_w) == ("Big pot", 700)
    assert (newest().done, newest().by_name) == ("put_back", "other")


def test_what_rests_on_a_thing_that_is_put_back_follows(kitchen_of_one_run, hand):
    run, meter = kitchen_of_one_run, Meter.objects.get()
    before = run.summary
    meter.accuracy_pct = 20
    save_gear(gear=meter, by=hand)
    run.refresh_from_db()
    assert run.summary != before
    put_back(change=newest(), by=hand)
    run.refresh_from_db()
    assert run.summary == before


def test_nothing_is_written_down_where_nothing_changed(hand):
    pot = Appliance.objects.create(name="Big pot", kind="kettle", rated_w=700)
    pot.rated_w = 700.0
    save_gear(gear=pot, by=hand)
    assert not Change.objects.exists()
    save_gear(gear=Appliance(name="Pan", kind="kettle", rated_w=5))
    assert not Change.objects.exists(), "an archive or the example writes nothing down"


def full_of_everything():
    food = Food.objects.create(name="red lentils")
    shop = Shop.objects.create(name="Mill Lane", note="open late")
    tariff = Tariff.objects.create(
        name="Club", currency="EUR", price_per_kwh=Decimal("0.31415"), valid_from=date(2026, 1, 1), prices={"bands": [1, "x"]}
    )
    source = PowerSource.objects.create(
        name="Van battery",
        kind="battery_station",
        capacity_wh=768.5,
        tariff=tariff,
        battery_price=Decimal("99.90"),
        charged_from="22:30",
    )
    price = {
        "price": Decimal("2.3500"),
        "currency": "EUR",
        "day": date(2026, 10, 2),
        "known_at": datetime(2026, 10, 2, 12, tzinfo=UTC),
    }
    item = Item.objects.create(
        food=food, brand="Kestrel", pack_amount="3/7", pack_unit="g", drained_g="1/7", gives=[{"food_id": 1}]
    )
    return [
        Appliance.objects.create(name="Pot", kind="kettle", rated_w=700, capacity_l=4.5, note="lid sticks"),
        Meter.objects.create(name="Plug", resolution_wh=0.1),
        source,
        Quote.objects.create(item=item, shop=shop, **price),
        item,
        Yield.objects.create(food=food, preparation="rinsed", percent=Decimal("98.50"), source="own test"),
        SheetRules.objects.create(pk=1, rule="shop", shop=shop, allowance_pct=Decimal("2.5")),
        tariff,
        shop,
    ]


def test_every_column_of_every_shared_thing_comes_back(hand):
    """What is removed comes back under its number with every column as it was."""
    for thing in full_of_everything():
        model, number = type(thing), thing.pk
        if model in (Shop, Item):
            Quote.objects.all().delete()
        before = model.objects.filter(pk=number).values().get()
        with noted(thing, hand):
            thing.delete()
        assert not model.objects.filter(pk=number).exists()
        put_back(change=newest_removal(), by=hand)
        assert model.objects.filter(pk=number).values().get() == before, model


def newest_removal():
    return Change.objects.filter(done="removed").first()


def test_a_tariff_that_comes_back_feeds_its_sources_again(hand):
    tariff = Tariff.objects.create(name="Club", currency="EUR", price_per_kwh=Decimal("0.3"), valid_from=date(2026, 1, 1))
    other = Tariff.objects.create(name="House", currency="EUR", price_per_kwh=Decimal("0.2"), valid_from=date(2026, 1, 1))
    van, hall = (PowerSource.objects.create(name=name, kind="battery_station", tariff=tariff) for name in ("Van", "Hall"))
    remove_gear(gear=tariff, by=hand)
    change = newest_removal()
    hall.refresh_from_db()
    hall.tariff = other
    save_gear(gear=hall, by=hand)
    put_back(change=change, by=hand)
    assert [PowerSource.objects.get(pk=one.pk).tariff.name for one in (van, hall)] == ["Club", "House"]


def test_a_shop_and_the_rule_that_named_it_come_back(hand):
    shop = open_shop(name="Mill Lane", by=hand)
    set_sheet_rules(rule="shop", last=3, shop=shop, allowance_pct=Decimal(0), by=hand)
    close_shop(shop=Shop.objects.get(), by=hand)
    removal, rule = Change.objects.filter(kind="shops").first(), Change.objects.filter(kind="sheet-rules").first()
    put_back(change=removal, by=hand)
    put_back(change=rule, by=hand)
    assert SheetRules.objects.get().shop.name == "Mill Lane"


def test_what_cannot_stand_any_more_is_refused_in_words(hand, owner_client):
    shop = open_shop(name="Mill Lane", by=hand)
    rename_shop(shop=shop, name="Harrow Lane", note="", by=hand)
    change = newest()
    open_shop(name="Mill Lane", by=hand)
    with pytest.raises(CannotBePutBack, match="already exists"):
        put_back(change=change, by=hand)
    answer = owner_client.post(reverse("kitchen:change-put-back", args=[change.pk]), follow=True)
    assert "It cannot stand as it did" in answer.content.decode()
    assert Shop.objects.filter(name="Harrow Lane").exists()


def test_what_was_made_has_nothing_before_it(hand, owner_client):
    open_shop(name="Mill Lane", by=hand)
    assert owner_client.post(reverse("kitchen:change-put-back", args=[newest().pk])).status_code == 404


def test_a_second_yield_is_a_change_of_the_first(hand):
    onion = Food.objects.create(name="onion")
    for percent in (85, 82):
        record_yield(food=onion, preparation="", percent=Decimal(percent), source="own test", by=hand)
    assert [change.done for change in Change.objects.all()] == ["changed", "made"]


def test_the_page_of_changes_tells_cooks_of_things_and_the_owner_of_accounts_too(hand, owner_client, other_client):
    open_shop(name="Mill Lane", by=hand)
    owner_client.post("/bench/cooks/", {"name": "bo", "role": "helper"})
    owners, others = (client.get("/bench/changes/").content.decode() for client in (owner_client, other_client))
    assert "made the shop “Mill Lane”" in owners
    assert "made the shop “Mill Lane”" in others
    assert "let bo in" in owners
    assert "let bo only record cooks" in owners
    assert "bo" not in re.sub(r"[^ ]*bo[a-z][^ ]*", "", re.findall(r"<main.*</main>", others, re.DOTALL)[0]).split()
    assert Client().get("/bench/changes/").status_code == 302


def test_ten_more_changes_cost_no_more_queries(hand, owner_client):
    def count():
        with CaptureQueriesContext(connection) as held:
            owner_client.get("/bench/changes/")
        return len(held)

    open_shop(name="Mill Lane", by=hand)
    before = count()
    for number in range(10):
        open_shop(name=f"Lane {number}", by=hand)
    assert count() == before


def test_whoever_is_gone_is_still_named(other_client, other_cook, owner_client):
    other_client.post("/bench/shops/", {"name": "Mill Lane"})
    other_cook.delete()
    assert '<b dir="auto">other</b>' in owner_client.get("/bench/changes/").content.decode()


def test_what_is_done_in_the_tables_is_written_down_too(owner_client, other_cook):
    owner_client.post("/bench/tables/costing/shop/add/", {"name": "Mill Lane", "note": ""})
    shop = Shop.objects.get()
    owner_client.post(f"/bench/tables/costing/shop/{shop.pk}/change/", {"name": "Harrow Lane", "note": ""})
    owner_client.post(f"/bench/tables/costing/shop/{shop.pk}/delete/", {"post": "yes"})
    account = f"/bench/tables/auth/user/{other_cook.pk}/change/"
    said = {"username": "other", "date_joined_0": "2026-01-01", "date_joined_1": "00:00:00", "last_name": "Marlowe"}
    owner_client.post(account, said)
    assert [change.done for change in Change.objects.all()] == ["tables", "removed", "changed", "made"]


def test_a_meter_of_which_devices_have_sent_stays(owner_client, noon):
    meter = Meter.objects.create(name="Plug meter")
    SentReading.objects.create(meter=meter, at=noon, power_w=5)
    answer = owner_client.post(f"/bench/meters/{meter.pk}/remove/")
    assert answer.status_code == 409
    assert "its devices have sent readings" in answer.content.decode()
    assert Meter.objects.exists()


def test_foods_are_shared_too(owner_client, other_client):
    other_client.post("/bench/foods/new/", {"name": "moon beans", "g_per_ml": "0.8", "refuse_pct": "0"})
    food = Food.objects.get(name="moon beans")
    address = reverse("kitchen:food-edit", args=[food.pk])
    owner_client.post(address, {"name": "moon beans", "g_per_ml": "0.5", "refuse_pct": "0"})
    page = " ".join(other_client.get(address).content.decode().split())
    assert '<b dir="auto">owner</b> changed the food “moon beans”' in page
    assert re.search(r"0\.8 → 0\.5", page)
    answer = other_client.post(address, {"do": "remove"}, follow=True)
    (back,) = re.findall(r'action="(/bench/changes/[0-9]+/put-back/)"', answer.content.decode())
    assert other_client.post(back).headers["Location"] == address
    assert Food.objects.get(pk=food.pk).g_per_ml == 0.5


def test_a_meters_devices_stand_in_its_history(owner_client, other_client):
    meter = Meter.objects.create(name="Plug meter")
    other_client.post(f"/bench/meters/{meter.pk}/devices/", {"name": "plug"})
    owner_client.post(f"/bench/meters/{meter.pk}/devices/{meter.devices.get().pk}/revoke/")
    page = owner_client.get(f"/bench/meters/{meter.pk}/").content.decode()
    assert '<b dir="auto">other</b> let a device send for the meter “Plug meter”' in page
    assert '<b dir="auto">owner</b> revoked a device of the meter “Plug meter”' in page
