"""The price book out and in again, and tables of other hands: looked at, columns pointed at, kept once, taken back."""

import html
import json
import re
from datetime import date
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from costing.models import Quote, Shop
from costing.operations import SeenPrice, record_quote
from costing.queries.price_book import HEAD
from kitchen.domain.packs import parse_pack
from kitchen.models import Food
from tests.costing.kitchen_of_prices import DAY, add_food, add_price

BOOK = "/bench/prices/book/"
SHOP_LIST = "Artikel;Größe;Preis in EUR;Datum\nRed Lentils;500 g;1.299,00;1.10.2026\nonion;;1,99 €/kg;02.10.2026\n"


def look(client, text, **said):
    data = text if isinstance(text, bytes) else text.encode()
    return client.post(BOOK, {"file": SimpleUploadedFile("prices.csv", data)} | said)


def keep(client, text, **said):
    """Look at a file, then keep what the page shows."""
    page = look(client, text, **said).content.decode()
    shown = html.unescape(re.search(r"<textarea[^>]*>\n(.*?)</textarea>", page, re.DOTALL)[1])
    chosen = re.findall(r'name="(column[0-9]+)".*?<option value="([^"]*)" selected', page, re.DOTALL)
    return client.post(BOOK, {"text": shown, "keep": "1"} | dict(chosen) | said, follow=True).content.decode()


def ledger():
    rows = Quote.objects.filter(taken_back_at=None)
    return sorted(rows.values_list("item", "shop", "day", "last_day", "price", "currency", "note"), key=str)


@pytest.mark.parametrize("kind", ["csv", "json"])
def test_the_price_book_goes_out_and_comes_in_without_doubles(stew, owner_client, kind):
    pack, chickpeas = parse_pack("6 x 400 g, drained 240 g"), add_food("tinned chickpeas")
    record_quote(seen=SeenPrice(chickpeas, pack, Decimal("5.40"), "EUR", "Kieler Hof", DAY, "=1+1", "Kestrel"))
    add_price(Food.objects.get(name="onion"), "per kg", "1.99", day=date(2026, 10, 1))
    book = owner_client.get(f"/bench/prices/book.{kind}").content.decode()
    if kind == "csv":
        assert "'=1+1" in book
    else:
        assert any(one["note"] == "=1+1" for one in json.loads(book)["prices"])
    before = ledger()
    assert f"New and saved: 0. Here already: {len(before)}." in keep(owner_client, book)
    Quote.objects.all().delete()
    assert f"New and saved: {len(before)}." in keep(owner_client, book)
    assert ledger() == before
    assert owner_client.get(f"/bench/prices/book.{kind}").content.decode() == book


def test_a_shops_own_table_is_looked_at_first_and_kept_once(stew, owner_client):
    said = {"shop": "Kieler Hof", "country": "DE"}
    before = Quote.objects.count()
    page = look(owner_client, SHOP_LIST, **said).content.decode()
    assert "New: 2. Here already: 0." in " ".join(page.split())
    assert Quote.objects.count() == before
    assert "New and saved: 2." in keep(owner_client, SHOP_LIST, **said)
    kept = {q.item.food.name: (q.price, q.item.sold, q.day) for q in Quote.objects.filter(shop__name="Kieler Hof")}
    assert kept == {
        "red lentils": (Decimal(1299), "pack", date(2026, 10, 1)),
        "onion": (Decimal("1.99"), "loose", date(2026, 10, 2)),
    }
    assert Shop.objects.get(name="Kieler Hof").country == "DE"
    assert "New and saved: 0. Here already: 2." in keep(owner_client, SHOP_LIST, **(said | {"shop": "KIELER  hof"}))


def test_a_table_is_taken_back_whole_by_the_cook_who_brought_it(stew, owner_client, other_client):
    before = ledger()
    keep(owner_client, SHOP_LIST, shop="Kieler Hof", country="DE")
    assert "0 prices count no longer." in other_client.post(f"{BOOK}take-back/", follow=True).content.decode()
    assert "2 prices count no longer." in owner_client.post(f"{BOOK}take-back/", follow=True).content.decode()
    assert ledger() == before


def test_columns_are_pointed_at(stew, owner_client):
    rows = "onion|x|0.99\nsalt|y|1.10\n"
    said = {"text": rows, "column0": "food", "column1": "", "column2": "price", "shop": "Mill Lane", "day": "2026-10-05"}
    page = owner_client.post(BOOK, said).content.decode()
    assert "Row 1: Say what the price buys" in page
    page = owner_client.post(BOOK, said | {"text": rows.replace("x", "1 kg").replace("y", "500 g"), "column1": "pack"})
    assert "New: 2." in " ".join(page.content.decode().split())


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        ("unobtainium,,500 g,1,EUR,Mill Lane,2026-10-01,,", "Row 2: No food is called “unobtainium”"),
        ("onion,,some,1,EUR,Mill Lane,2026-10-01,,", "Row 2: “some” is not a pack."),
        ("onion,,500 g,NaN,EUR,Mill Lane,2026-10-01,,", "Row 2: “NaN” is not a price."),
        ('onion,,500 g,"1,299",EUR,Mill Lane,2026-10-01,,', "Row 2: “1,299”"),
        ("onion,,500 g,1,XYZ,Mill Lane,2026-10-01,,", "Row 2: “XYZ” is not a currency."),
        ("onion,,500 g,1,EUR,,2026-10-01,,", "Row 2: The shop needs a name"),
        ("onion,,500 g,1,EUR,Mill Lane,,,", "Row 2: The row has no day."),
        ("onion,,500 g,1,EUR,Mill Lane,3/4/2026,,", "Row 2: Day and month may be either."),
        ("onion,,500 g,1,EUR,Mill Lane,31.2.2026,,", "Row 2: This is not a day."),
        ("onion,,500 g,1,EUR,Mill Lane,2999-10-01,,", "Row 2: This day has not come yet."),
        ("onion,,500 g,1,EUR,Mill Lane,2026-10-01,2026-09-01,", "Row 2: A sale ends on the day of the price or later."),
    ],
)
def test_a_row_that_cannot_be_read_is_named_and_the_others_are_kept(stew, owner_client, row, sentence):
    before = Quote.objects.count()
    text = "\n".join([",".join(HEAD), row, "onion,,500 g,1,EUR,Mill Lane,2026-10-01,,"])
    page = look(owner_client, text).content.decode()
    assert sentence in html.unescape(page)
    assert "New: 1. Here already: 0. Cannot be read: 1." in " ".join(page.split())
    assert "New and saved: 1. Here already: 0. Left out: 1" in keep(owner_client, text)
    assert Quote.objects.count() == before + 1


@pytest.mark.parametrize(
    "text", ["", "onion", b"\xff\xfe\x00", "x" * 10_000, b"PK\x03\x04", '{"prices": 3}', "[[[", '"' * 70_000]
)
def test_what_is_no_table_of_prices_is_refused_in_a_sentence(stew, owner_client, text):
    answer = look(owner_client, text)
    assert answer.status_code == 422 or "New: 0." in " ".join(answer.content.decode().split())
    assert owner_client.post(BOOK, {}).status_code == 422


def test_a_stranger_brings_nothing_in(stew, stranger_client):
    assert look(stranger_client, SHOP_LIST).status_code == 302
