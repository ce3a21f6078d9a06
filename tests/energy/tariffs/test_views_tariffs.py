"""Tariffs by the clock and in blocks: typed as lines, refused with a gap, priced when a battery charges, billed to the cent."""

import re
from datetime import date, time
from decimal import Decimal

import pytest
from django.urls import reverse

from energy.models import Tariff
from energy.tariffs.domain.lines import band_lines, read_bands
from energy.tariffs.domain.record import BY_HOURS
from energy.tariffs.queries.pricing import record_of, tariff_facts
from kitchen.domain.remark import remark
from tests.kitchen.desk import form_fields

WORDS = {"name": "Meadow", "currency": "EUR", "valid_from": "2026-01-01"}
NIGHT_AND_DAY = "night 0.09 22:00-06:00\nday 0.31 06:00-22:00"


@pytest.fixture
def by_the_clock(owner_client):
    answer = owner_client.post(reverse("energy:tariffs-new"), {**WORDS, "kind": "hours", "bands": NIGHT_AND_DAY})
    assert answer.status_code == 302, answer.content.decode()
    return Tariff.objects.get()


def test_bands_are_kept_and_come_back_as_typed(owner_client, by_the_clock):
    assert record_of(by_the_clock).kind == BY_HOURS
    assert by_the_clock.price_per_kwh == Decimal("0.23667")
    page = owner_client.get(reverse("energy:tariffs-edit", args=[by_the_clock.pk])).content.decode()
    assert "night 0.09 22:00-06:00" in page


ROWS = {
    **{"band0-name": "night", "band0-price": "0,09", "band0-start": "22:00", "band0-end": "06:00", "band0-days": ""},
    **{"band1-name": "day", "band1-price": "0.31", "band1-start": "06:00", "band1-end": "22:00", "band1-days": "Mon-Fri"},
    **{"band2-name": "", "band2-price": "0.2", "band2-start": "06:00", "band2-end": "22:00", "band2-days": "Sat-Sun"},
    **dict.fromkeys(("band3-name", "band3-price", "band3-start", "band3-end", "band3-days"), ""),
}


def test_prices_by_the_clock_are_typed_in_words_and_come_back_so(owner_client):
    made = owner_client.post(reverse("energy:tariffs-new"), {**WORDS, "kind": "hours", **ROWS})
    assert made.status_code == 302, re.findall(r"<p[^>]*>([^<]+)<", made.content.decode())
    tariff = Tariff.objects.get()
    lines = "night 0.09 22:00-06:00\nday 0.31 06:00-22:00 Mon-Fri\nprice c 0.2 06:00-22:00 Sat-Sun"
    assert band_lines(record_of(tariff).bands) == lines
    address = reverse("energy:tariffs-edit", args=[tariff.pk])
    fields = form_fields(owner_client.get(address).content.decode())
    assert {name: fields[name] for name in ROWS if "band2" not in name} | {"band0-price": "0,09"} == {
        name: value for name, value in ROWS.items() if "band2" not in name
    }
    assert fields["bands"] == "", "said once"
    assert owner_client.post(address, fields).status_code == 302
    assert band_lines(record_of(Tariff.objects.get()).bands) == lines
    bad = owner_client.post(address, fields | {"band1-price": "", "band0-end": ""}).content.decode()
    assert "What does a kilowatt-hour cost then?" in bad
    assert "Hours need a beginning and an end" in bad


def test_what_no_row_can_say_stays_in_lines(owner_client):
    winter = "winter 0.4 Oct-Dec\nsummer 0.2 Jan-Sep"
    owner_client.post(reverse("energy:tariffs-new"), {**WORDS, "kind": "hours", "bands": winter})
    address = reverse("energy:tariffs-edit", args=[Tariff.objects.get().pk])
    fields = form_fields(owner_client.get(address).content.decode())
    assert (fields["bands"], fields["band0-name"]) == (band_lines(read_bands(winter)), "")
    assert owner_client.post(address, fields).status_code == 302
    assert record_of(Tariff.objects.get()).bands == read_bands(winter)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"kind": "hours", "bands": "day 0.31 06:00-22:00"}, "No price is given from 00:00 to 06:00, any day."),
        ({"kind": "hours", "bands": "a 1\nb 2"}, "Two prices are given from 00:00 to 24:00 (a and b), any day."),
        ({"kind": "hours", "bands": "whenever"}, "needs a name and then a price"),
        ({"kind": "hours"}, "needs a band"),
        ({"kind": "blocks"}, "Blocks need a line each"),
        ({"kind": "blocks", "blocks": "0.1 to 5"}, "last block"),
        ({"kind": "flat"}, "What does a kilowatt-hour cost?"),
        ({"kind": "flat", "price_per_kwh": "0.3", "zone": "Mars/Base"}, "no time zone"),
        ({"kind": "flat", "price_per_kwh": "0.3", "holidays": "soon"}, "no day"),
    ],
)
@pytest.mark.any_engine
def test_what_makes_no_tariff_is_said_beside_its_field_and_stays_typed(owner_client, typed, words):
    answer = owner_client.post(reverse("energy:tariffs-new"), {**WORDS, **typed})
    assert answer.status_code == 422
    page = answer.content.decode()
    assert words in page
    assert all(value.split("\n")[0] in page for name, value in typed.items() if name != "kind")
    assert not Tariff.objects.exists()


def test_a_battery_is_priced_at_the_hours_of_its_charging(by_the_clock, source, run):
    source.capacity_wh, source.charge_w, source.charged_from = 1000, 250, time(20)
    facts = tariff_facts(by_the_clock, source, run, date(2026, 10, 14))
    assert facts.price_per_kwh == Decimal("0.2")
    assert facts.words == remark("charged_from", clock="20:00")
    source.charged_from = None
    assert tariff_facts(by_the_clock, source, run, date(2026, 10, 14)).price_per_kwh == Decimal("0.09")


def test_a_hook_up_is_priced_at_the_hour_of_the_cook(by_the_clock, source, run):
    source.capacity_wh = None
    facts = tariff_facts(by_the_clock, source, run, date(2026, 10, 14))
    assert facts.price_per_kwh == Decimal("0.31")
    assert facts.words.code == "cooked_at"


def test_blocks_price_at_the_margin_with_tax(owner_client):
    typed = {"kind": "blocks", "blocks": "0.10 to 500\n0.12 above", "usual_kwh": "600", "tax_pct": "25"}
    owner_client.post(reverse("energy:tariffs-new"), {**WORDS, **typed})
    assert Tariff.objects.get().price_per_kwh == Decimal("0.15")


def test_the_page_shows_the_week_the_price_and_a_bill(owner_client, by_the_clock):
    address = reverse("energy:tariff-prices", args=[by_the_clock.pk])
    page = owner_client.get(address, {"month": "7", "kwh": "100", "days": "30"}).content.decode()
    assert "An ordinary week in July: on Mondays it is cheapest from 00:00 to 06:00 and 22:00 to 24:00." in page
    assert "23.67" in page


@pytest.mark.parametrize("query", [{"kwh": "lots"}, {"kwh": "1", "days": "x"}, {"kwh": ""}])
@pytest.mark.any_engine
def test_a_bill_that_cannot_be_read_is_said(owner_client, by_the_clock, query):
    assert owner_client.get(reverse("energy:tariff-prices", args=[by_the_clock.pk]), query).status_code == 400


@pytest.mark.any_engine
def test_nonsense_months_draw_this_month(owner_client, by_the_clock):
    assert owner_client.get(reverse("energy:tariff-prices", args=[by_the_clock.pk]), {"month": "99"}).status_code == 200


@pytest.mark.any_engine
def test_a_stranger_is_sent_to_sign_in(stranger_client, by_the_clock):
    assert stranger_client.get(reverse("energy:tariff-prices", args=[by_the_clock.pk])).status_code == 302


def test_the_cheapest_start_is_told_for_batteries_and_for_what_was_cooked(owner_client, by_the_clock, source, run):
    source.tariff, source.capacity_wh, source.charge_w = by_the_clock, 1000, 250
    source.save()
    page = owner_client.get(reverse("energy:tariff-prices", args=[by_the_clock.pk])).content.decode()
    assert "Charging Van battery" in page
    source.capacity_wh = None
    source.save()
    page = owner_client.get(reverse("energy:tariff-prices", args=[by_the_clock.pk])).content.decode()
    assert "Lentil pot, for 4" in page
