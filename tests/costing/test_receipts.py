"""A whole till slip: read, closed, kept once, learnt, and taken back."""

import io
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from costing.models import Learnt, Quote, Receipt, ReceiptPhoto, Shop
from kitchen.models import Change, Food
from tests.costing.kitchen_of_prices import add_food, set_site
from tests.kitchen.packed import pack, unpack

SLIP = """Kichererbsen 400g 0,65 A
ZWIEBELN
0,532 kg x 1,99 EUR/kg 1,06 A
3 x ROTE LINSEN 500G 6,00 A
RABATT -1,00
PFAND 0,25
MwSt 7% 0,45
SUMME EUR 6,96
BAR 10,00
RÜCKGELD 3,04"""
HEAD = {"shop": "Kieler Hof", "day": "2026-10-01", "country": "DE", "text": SLIP}
URL = "/bench/prices/receipt/"


@pytest.fixture
def foods(db):
    set_site()
    return {name: add_food(name) for name in ("tinned chickpeas", "onion", "red lentils")}


def rows(**other):
    typed = {
        "food_0": "tinned chickpeas",
        "pack_0": "400 g tin",
        "price_0": "0,65",
        "food_1": "onion",
        "pack_1": "per kg",
        "price_1": "1,06",
        "food_2": "red lentils",
        "pack_2": "500 g",
        "price_2": "6,00",
        "off_3": "line",
        "keep": "1",
    }
    return HEAD | typed | other


def test_a_slip_is_read_line_by_line_and_closes(foods, owner_client):
    html = owner_client.post(URL, HEAD).content.decode()
    assert "The lines come to €6.96, as the total says." in html
    assert "weighed: 0.532 kg at €1.99" in html or "weighed: 133/250 kg at €1.99" in html
    assert "deposit, outside the cost" in html
    assert not Quote.objects.exists()


def test_what_is_kept_is_the_price_of_one_and_what_came_off_counts_that_day_alone(foods, owner_client):
    answer = owner_client.post(URL, rows())
    assert answer.status_code == 302
    found = [(q.item.food.name, q.price, q.item.sold, q.last_day is not None) for q in Quote.objects.order_by("pk")]
    assert found == [
        ("tinned chickpeas", Decimal("0.65"), "pack", False),
        ("onion", Decimal("1.99"), "loose", False),
        ("red lentils", Decimal("2.00"), "pack", False),
        ("red lentils", Decimal("5.00"), "pack", True),
    ]
    assert Quote.objects.order_by("pk").last().item.packs == 3
    assert Receipt.objects.get().total == Decimal("6.96")
    assert Shop.objects.get().country == "DE"


def test_the_same_slip_twice_changes_nothing(foods, owner_client):
    owner_client.post(URL, rows())
    before = (Quote.objects.count(), Receipt.objects.count())
    answer = owner_client.post(URL, rows(shop="KIELER  hof"), follow=True)
    assert "This slip is here already" in answer.content.decode()
    assert (Quote.objects.count(), Receipt.objects.count()) == before


def test_a_slip_is_taken_back_whole_and_can_then_be_typed_again(foods, owner_client):
    owner_client.post(URL, rows())
    kept = Receipt.objects.get()
    page = owner_client.post(f"{URL}{kept.pk}/take-back/", follow=True).content.decode()
    assert "4 prices count no longer." in page
    assert not Quote.objects.filter(taken_back_at=None).exists()
    owner_client.post(URL, rows())
    assert Quote.objects.filter(taken_back_at=None).count() == 4


def test_the_tills_words_are_learnt(foods, owner_client):
    owner_client.post(URL, rows())
    assert set(Learnt.objects.values_list("words", "item__food__name")) == {
        ("kichererbsen 400g", "tinned chickpeas"),
        ("zwiebeln", "onion"),
        ("rote linsen 500g", "red lentils"),
    }
    html = owner_client.post(URL, HEAD | {"text": "Kichererbsen 400g 0,70\nSUMME 0,70"}).content.decode()
    assert 'value="tinned chickpeas"' in html
    assert 'value="400 g"' in html


def test_a_difference_wants_a_name(foods, owner_client):
    other = rows(text=SLIP.replace("6,96", "7,96"))
    answer = owner_client.post(URL, other)
    assert answer.status_code == 422
    assert "the total on the slip is €7.96: €1.00 less" in answer.content.decode()
    assert owner_client.post(URL, other | {"difference": "a bag that was not read"}).status_code == 302
    assert Receipt.objects.get().difference == "a bag that was not read"


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"food_0": "unobtainium"}, "No food is called"),
        ({"pack_0": ""}, "Say what one pack holds."),
        ({"pack_1": "1 L"}, "It was weighed: type “per kg”."),
        ({"price_0": "some"}, "is not a price"),
        ({"food_0": "", "food_1": "", "food_2": ""}, "No line has a food yet"),
        ({"text": ""}, "Type or paste the lines"),
        ({"shop": ""}, "Say where the price was seen."),
        ({"day": "2999-01-01"}, "This day has not come yet."),
    ],
)
def test_bad_input_keeps_nothing_and_says_what_to_do(foods, owner_client, typed, sentence):
    answer = owner_client.post(URL, rows(**typed))
    assert (answer.status_code, sentence in answer.content.decode()) == (422, True)
    assert not Quote.objects.exists()


def test_a_discount_on_the_bill_comes_off_everything_in_proportion(foods, owner_client):
    owner_client.post(URL, rows(off_3="bill"))
    paid = {q.item.food.name: q.price for q in Quote.objects.exclude(last_day=None).select_related("item__food")}
    assert sum((paid["tinned chickpeas"], paid["red lentils"])) < Decimal("6.65")
    assert set(paid) == {"tinned chickpeas", "onion", "red lentils"}


def test_slips_and_what_was_learnt_travel_in_an_archive(foods, owner_client, owner, noon, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    owner_client.post(URL, rows())
    packed = pack(noon)
    assert unpack(packed, owner, noon).nothing_new
    Quote.objects.all().delete()
    Receipt.objects.all().delete()
    Learnt.objects.all().delete()
    account = unpack(packed, owner, noon)
    assert (account.added["prices"], account.added["receipts"]) == (4, 1)
    assert Receipt.objects.get().quotes.count() == 4
    assert Learnt.objects.count() == 3


def test_a_stranger_keeps_no_slip_and_another_cook_does(foods, stranger_client, other_client):
    assert stranger_client.post(URL, rows()).status_code == 302
    assert not Quote.objects.exists()
    other_client.post(URL, rows())
    assert Food.objects.get(name="onion").items.exists()


def photo_of(words="slip", **said):
    out = io.BytesIO()
    exif = Image.Exif()
    exif[0x010E] = words
    Image.new("RGB", (300, 900), "white").save(out, "JPEG", exif=exif)
    return SimpleUploadedFile("slip.jpg", out.getvalue(), **said)


def test_a_photo_is_kept_beside_the_slip_for_cooks_alone(foods, owner_client, other_client, stranger_client):
    owner_client.post(URL, rows())
    page = f"{URL}{Receipt.objects.get().pk}/"
    assert owner_client.get(f"{page}photo/").status_code == 404
    assert owner_client.post(page, {"picture": photo_of("at 55.1 N")}).status_code == 302
    sent = other_client.get(f"{page}photo/")
    picture = Image.open(io.BytesIO(sent.content))
    assert (sent["Content-Type"], picture.format, picture.size, dict(picture.getexif())) == ("image/webp", "WEBP", (300, 900), {})
    assert "no-store" in sent["Cache-Control"]
    assert stranger_client.get(f"{page}photo/").status_code == 302
    assert 'alt="The slip of Kieler Hof, 1 October 2026"' in owner_client.get(page).content.decode()
    owner_client.post(page, {"picture": photo_of()})
    assert ReceiptPhoto.objects.count() == 1
    owner_client.post(f"{page}photo/remove/")
    assert owner_client.get(f"{page}photo/").status_code == 404


def test_what_is_no_photo_is_refused_beside_the_field(foods, owner_client):
    owner_client.post(URL, rows())
    page = f"{URL}{Receipt.objects.get().pk}/"
    for sent in ({}, {"picture": SimpleUploadedFile("a.jpg", b"no photo")}, {"picture": SimpleUploadedFile("a.jpg", b"")}):
        answer = owner_client.post(page, sent)
        assert (answer.status_code, "field--bad" in answer.content.decode()) == (422, True)
    assert not ReceiptPhoto.objects.exists()


def test_forty_lines_are_read_and_kept_in_one_go(foods, owner_client, django_assert_max_num_queries):
    text = "".join(f"THING {n} 1,00\n" for n in range(40)) + "SUMME 40,00"
    typed = HEAD | {"text": text, "keep": "1"}
    for place in range(40):
        typed |= {f"food_{place}": "onion", f"pack_{place}": "500 g", f"price_{place}": "1,00"}
    with django_assert_max_num_queries(40):
        assert owner_client.post(URL, typed).status_code == 302
    assert Quote.objects.count() == 40
    assert Change.objects.filter(kind="prices", done="made", name__startswith="onion at Kieler Hof").count() == 40
