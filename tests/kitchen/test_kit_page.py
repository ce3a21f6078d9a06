"""The reader's kit: typed once, remembered without a name, used by the shelf; without script."""

from decimal import Decimal

import pytest
from django.urls import reverse

from kitchen import cards
from kitchen.forms.shelf import ShelfForm

KIT_COOKIE = "kit"


def test_what_is_typed_is_remembered_and_leads_to_the_shelf(tally, stranger_client):
    answer = stranger_client.get(reverse("kitchen:kit"), {"battery_wh": "500", "kit": "keep"})
    assert (answer.status_code, answer["Location"]) == (302, "/?battery_wh=500")
    assert "500" in answer.cookies[KIT_COOKIE].value
    cookie = answer.cookies[KIT_COOKIE]
    assert (cookie["samesite"], cookie["max-age"], answer["Cache-Control"]) == ("Lax", 365 * 24 * 3600, "private, no-store")
    assert 'value="500"' in stranger_client.get(reverse("kitchen:kit")).content.decode()


def test_forgetting_drops_the_cookie(tally, stranger_client):
    stranger_client.get(reverse("kitchen:kit"), {"battery_wh": "500", "kit": "keep"})
    stranger_client.get(reverse("kitchen:kit"), {"kit": "forget"})
    assert 'value="500"' not in stranger_client.get(reverse("kitchen:kit")).content.decode()


def test_nonsense_is_said_beside_its_field_and_not_remembered(tally, stranger_client):
    answer = stranger_client.get(reverse("kitchen:kit"), {"battery_wh": "huge", "kit": "keep"})
    assert answer.status_code == 400
    assert "huge" in answer.content.decode()
    assert KIT_COOKIE not in answer.cookies


@pytest.fixture
def small_kit(tally):
    """A card whose kit lets 300 Wh pass at most."""
    tally.kit_limits = lambda kit: {"tally": Decimal(300)} if kit else {}
    return tally


def test_what_fits_a_kit_stays_below_its_limits_and_the_typed_ones(small_kit):
    limits = {"peak_w": Decimal(300), "own_battery_wh": Decimal(450)}
    asked = ShelfForm({"fits": "on", "w": "200", "minutes": "30"}).ask(limits)
    assert asked.at_most == {"peak_w": Decimal(200), "own_battery_wh": Decimal(450), "total_min": Decimal(30)}
    assert ShelfForm({"w": "200"}).ask(limits).at_most == {"peak_w": Decimal(200)}


def test_the_shelf_offers_the_filter_once_a_kit_is_known(small_kit, stranger_client):
    assert 'name="fits"' not in stranger_client.get("/").content.decode()
    kept = stranger_client.get(reverse("kitchen:kit"), {"battery_wh": "500", "kit": "keep"})
    assert kept["Location"] == "/?fits=on&battery_wh=500"
    page = stranger_client.get(kept["Location"]).content.decode()
    assert 'name="fits"' in page
    assert 'name="battery_wh" value="500"' in page
    assert 'name="fits"' not in stranger_client.get("/").content.decode()
    used = stranger_client.get(reverse("kitchen:kit"), {"kit": "use", "to": "/?q=soup&battery_wh=20"})
    assert used["Location"] == "/?q=soup&battery_wh=500"
    assert '"/?fits=on&amp;battery_wh=500"' in stranger_client.get(reverse("kitchen:kit")).content.decode()


@pytest.mark.parametrize("cookie", ["", "nonsense", "[]", '{"battery_wh":"big"}', '{"battery_wh":7}', "x" * 5000])
def test_where_nothing_is_remembered_the_kit_is_asked_for(tally, stranger_client, cookie):
    stranger_client.cookies[KIT_COOKIE] = cookie
    answer = stranger_client.get(reverse("kitchen:kit"), {"kit": "use", "to": "/r/stew/"})
    page = answer.content.decode()
    assert answer.status_code == 404
    assert "remembers no kit" in page
    assert 'name="to" value="/r/stew/"' in page
    assert "Type the battery" not in page


ELSEWHERE = ["https://evil.example/", "//evil.example/", "/\\evil.example/", "\\\\evil.example", "javascript:1", "r/stew/", ""]


@pytest.mark.parametrize("to", ELSEWHERE)
def test_it_leads_to_no_other_site(tally, stranger_client, to):
    answer = stranger_client.get(reverse("kitchen:kit"), {"kit": "keep", "battery_wh": "500", "to": to})
    assert answer["Location"] == "/?battery_wh=500"


def test_every_card_may_leave_a_kit_alone():
    assert cards.Card().kit_limits({"battery_wh": 500}) == {}
