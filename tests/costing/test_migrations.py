"""Old prices get their items and their dates, and what was noted of them can still be put back."""

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

OLD = [("costing", "0001_initial"), ("kitchen", "0012_note_pictures_of_editions")]


def bring_up_to_date():
    executor = MigrationExecutor(connection)
    executor.migrate(executor.loader.graph.leaf_nodes())


@pytest.fixture
def old_tables(transactional_db):
    """The tables of the version before; the newest again afterwards."""
    MigrationExecutor(connection).migrate(OLD)
    yield MigrationExecutor(connection).loader.project_state(OLD).apps
    bring_up_to_date()


def test_every_old_price_keeps_its_pack_shop_and_day(old_tables):
    food = old_tables.get_model("kitchen", "Food").objects.create(name="red lentils")
    shop = old_tables.get_model("costing", "Shop").objects.create(name="Mill Lane")
    quote_model = old_tables.get_model("costing", "Quote")
    pack = {"food": food, "shop": shop, "currency": "EUR", "pack_amount": "500/1", "pack_unit": "g", "packs": 2}
    for day, price in ((1, "2.35"), (9, "2.60")):
        quote_model.objects.create(day=date(2026, 10, day), price=Decimal(price), **pack)
    removed = {
        "food_id": str(food.pk),
        "shop_id": str(shop.pk),
        "day": "2026-10-05",
        "price": "0.99",
        "currency": "EUR",
        "pack_amount": "1/1",
        "pack_unit": "kg",
        "packs": "1",
        "note": "",
    }
    old_tables.get_model("kitchen", "Change").objects.create(
        at=datetime(2026, 10, 6, tzinfo=UTC), kind="prices", number=77, name="red lentils", done="removed", before=removed
    )
    bring_up_to_date()

    from costing.models import Item, Quote
    from kitchen.models import Change
    from kitchen.operations.journal import Hand, put_back

    assert [(str(one.item), one.item.pack_amount, one.item.packs, one.price) for one in Quote.objects.order_by("day")] == [
        ("red lentils", 500, 2, Decimal("2.35")),
        ("red lentils", 500, 2, Decimal("2.60")),
    ]
    assert {(one.known_at.date() == one.day, one.known_guessed, one.taken_back_at) for one in Quote.objects.all()} == {
        (True, True, None)
    }
    back = put_back(change=Change.objects.get(), by=Hand(None, datetime(2026, 10, 7, tzinfo=UTC)))
    assert (back.price, back.item.pack_unit, Item.objects.count()) == (Decimal("0.99"), "kg", 2)
