"""Appliances, power sources, meters and tariffs on the bench, by three people."""

import re

import pytest
from django.urls import reverse

from energy.models import Appliance, Meter, PowerSource, Reading, Run, Tariff
from energy.runs.operations.summing import refresh_summary
from kitchen.models import Site

SORTS = ("appliances", "sources", "meters", "tariffs")

SOURCE = {"name": "Van", "kind": "battery_station", "capacity_wh": "1.024,5".replace(".", ""), "continuous_w": "800"}


@pytest.mark.parametrize("sort", SORTS)
def test_every_cook_sees_and_adds_gear_a_stranger_signs_in(sort, owner_client, other_client, stranger_client):
    for name in ("gear", f"{sort}-new"):
        address = reverse(f"energy:{name}")
        assert owner_client.get(address).status_code == 200
        assert other_client.get(address).status_code == 200
        answer = stranger_client.get(address)
        assert answer.status_code == 302
        assert "/sign-in/" in answer["Location"]


@pytest.mark.parametrize("sort", SORTS)
def test_an_old_list_leads_to_its_place_on_the_one_page(sort, owner_client):
    assert owner_client.get(reverse(f"energy:{sort}") + "?removed=3")["Location"] == f"/bench/gear/?removed=3#{sort}"


FIVE = {
    "appliances-kind": "pressure_cooker",
    "appliances-rated_w": "0.7 kW",
    "meters-resolution_wh": "0.01 kWh",
    "sources-kind": "battery_station",
    "sources-capacity_wh": "12 V x 64 Ah",
    "sources-continuous_w": "800",
    "tariffs-price_per_kwh": "0,20",
}


def test_five_numbers_and_one_button_make_a_kitchen(owner_client):
    Site.objects.update_or_create(pk=1, defaults={"currency": "GBP"})
    answer = owner_client.post(reverse("energy:gear"), FIVE)
    assert (answer.status_code, answer["Location"]) == (302, "/bench/recipes/new/"), "on to the first recipe"
    cooker, meter, source, tariff = (model.objects.get() for model in (Appliance, Meter, PowerSource, Tariff))
    assert (cooker.name, cooker.kind, cooker.rated_w, cooker.fill_limit_pct) == ("Pressure cooker", "pressure_cooker", 700, 67)
    assert (meter.name, meter.place, meter.resolution_wh, meter.accuracy_pct) == ("Meter", "socket", 10, 2)
    assert (source.name, source.capacity_wh, source.continuous_w) == ("Battery station", 768, 800)
    assert (source.inverter_efficiency, source.idle_w, source.reserve_pct) == (0.88, 10, 10), "what is usual, where nobody says"
    assert (str(tariff.price_per_kwh), tariff.currency, source.tariff) == ("0.20000", "GBP", tariff)
    page = owner_client.get(reverse("energy:gear")).content.decode()
    assert "Save gear" not in page, "nothing is missing any more"


def test_what_is_not_typed_yet_waits_and_what_is_wrong_comes_back(owner_client):
    assert "Nothing was typed yet" in owner_client.post(reverse("energy:gear"), {}).content.decode()
    some = {name: FIVE[name] for name in ("appliances-kind", "appliances-rated_w", "sources-kind")}
    answer = owner_client.post(reverse("energy:gear"), {**some, "sources-continuous_w": "800"})
    assert answer.status_code == 422
    assert "A battery needs its watt-hours" in answer.content.decode()
    assert 'value="0.7 kW"' in answer.content.decode()
    assert not Appliance.objects.exists(), "all together or nothing"
    assert owner_client.post(reverse("energy:gear"), some).status_code == 302
    assert Appliance.objects.exists()
    assert not PowerSource.objects.exists()
    page = owner_client.get(reverse("energy:gear")).content.decode()
    assert 'name="appliances-rated_w"' not in page
    assert 'name="meters-resolution_wh"' in page


def test_the_page_leads_on_to_the_cook_that_waits_for_it_and_nowhere_else(owner_client):
    elsewhere = owner_client.post(reverse("energy:gear") + "?cook=//elsewhere.example/", {**FIVE, "tariffs-price_per_kwh": ""})
    assert elsewhere["Location"] == "/bench/recipes/new/"
    answer = owner_client.post(reverse("energy:gear") + "?cook=lentil-pot", FIVE)
    assert answer["Location"] == "/bench/recipes/lentil-pot/runs/new/"


def test_a_name_that_nobody_types_is_the_kinds_with_a_number_where_others_have_it(owner_client):
    for _ in range(3):
        owner_client.post(reverse("energy:appliances-new"), {"kind": "rice_cooker", "rated_w": "350"})
    assert list(Appliance.objects.values_list("name", flat=True)) == ["Rice cooker", "Rice cooker 2", "Rice cooker 3"]


def test_a_field_says_for_which_kinds_it_matters(owner_client):
    page = owner_client.get(reverse("energy:sources-new")).content.decode()
    kinds = {name: re.search(rf'name="{name}"[^>]*data-kinds="([^"]*)"', page)[1] for name in ("capacity_wh", "volts")}
    assert kinds == {"capacity_wh": "battery_station vehicle_inverter", "volts": "hook_up mains"}


def test_a_source_is_kept_as_typed_with_comma_and_defaults(other_client):
    answer = other_client.post(reverse("energy:sources-new"), SOURCE)
    assert answer.status_code == 302
    source = PowerSource.objects.get()
    assert (source.capacity_wh, source.reserve_pct, source.inverter_efficiency) == (1024.5, 10, 0.88)


def test_bad_words_come_back_with_a_sentence(owner_client):
    answer = owner_client.post(reverse("energy:sources-new"), {**SOURCE, "capacity_wh": "", "surge_w": "-5", "idle_w": "six"})
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "A battery needs its watt-hours" in page
    assert "“six” is not a number" in page
    assert 'value="-5"' in page
    assert not PowerSource.objects.exists()


def test_two_of_one_name_are_refused(appliance, owner_client):
    answer = owner_client.post(reverse("energy:appliances-new"), {"name": "Big pot", "kind": "kettle", "rated_w": "900"})
    assert "has this name already" in answer.content.decode()


def test_editing_shows_what_is_there(source, other_client):
    address = reverse("energy:sources-edit", args=[source.pk])
    page = other_client.get(address).content.decode()
    assert 'value="90"' in page, "the inverter's share in percent"
    form = {"name": "Van battery", "kind": source.kind, "capacity_wh": "768", "inverter_efficiency": "88"}
    assert other_client.post(address, form).status_code == 302
    source.refresh_from_db()
    assert source.inverter_efficiency == pytest.approx(0.88)
    assert source.continuous_w is None


def test_what_runs_use_is_not_removed(run, appliance, owner_client):
    address = reverse("energy:appliances-remove", args=[appliance.pk])
    assert "1 cook was measured with “Big pot”" in owner_client.get(address).content.decode()
    answer = owner_client.post(address)
    assert answer.status_code == 409
    assert Appliance.objects.filter(pk=appliance.pk).exists()


def test_what_nobody_uses_is_removed_after_a_question(appliance, other_client):
    address = reverse("energy:appliances-remove", args=[appliance.pk])
    assert other_client.get(address).status_code == 200
    assert Appliance.objects.exists()
    assert other_client.post(address).status_code == 302
    assert not Appliance.objects.exists()


def test_a_tariff_keeps_its_price_and_its_days(owner_client):
    form = {"name": "Club", "currency": "eur", "price_per_kwh": "0,31", "valid_from": "2026-01-01", "valid_to": "2025-01-01"}
    answer = owner_client.post(reverse("energy:tariffs-new"), form)
    assert "cannot lie before the first one" in answer.content.decode()
    assert owner_client.post(reverse("energy:tariffs-new"), {**form, "valid_to": ""}).status_code == 302
    assert str(Tariff.objects.get().price_per_kwh) == "0.31000"
    assert "€0.31<" in owner_client.get(reverse("energy:gear")).content.decode()


def test_unknown_gear_is_not_found(owner_client):
    assert owner_client.get(reverse("energy:meters-edit", args=[99])).status_code == 404
    assert owner_client.post(reverse("energy:meters-remove", args=[99])).status_code == 404


def test_ten_more_rows_cost_no_more_queries(owner_client, source, django_assert_num_queries):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    address = reverse("energy:gear")
    owner_client.get(address)
    with CaptureQueriesContext(connection) as few:
        owner_client.get(address)
    for n in range(10):
        PowerSource.objects.create(name=f"Battery {n}", kind="battery_station", capacity_wh=500)
    with django_assert_num_queries(len(few)):
        owner_client.get(address)


def test_a_battery_whose_losses_nobody_knows_is_not_taken_as_perfect(owner_client):
    form = {"name": "Van", "kind": "battery_station", "capacity_wh": "1000"}
    assert owner_client.post(reverse("energy:sources-new"), form).status_code == 302
    van = PowerSource.objects.get()
    assert (van.inverter_efficiency, van.idle_w, van.charge_efficiency) == (0.88, 10, 0.9)
    owner_client.post(reverse("energy:sources-new"), {"name": "House", "kind": "mains", "volts": "230", "amps": "16"})
    assert PowerSource.objects.get(name="House").inverter_efficiency == 1


def test_the_only_tariff_is_proposed_for_a_new_source(owner_client):
    Tariff.objects.create(name="Club", currency="EUR", price_per_kwh="0.31", valid_from="2026-01-01")
    assert "selected>Club" in owner_client.get(reverse("energy:sources-new")).content.decode()
    Tariff.objects.create(name="Camp", currency="EUR", price_per_kwh="0.55", valid_from="2026-01-01")
    assert "selected>Club" not in owner_client.get(reverse("energy:sources-new")).content.decode()


def test_a_price_is_typed_where_it_is_chosen_and_comes_back_chosen(owner_client):
    address = reverse("energy:sources-new")
    form = {"name": "House", "kind": "mains", "volts": "230", "amps": "16", "tariff": ""}
    html = owner_client.post(address, form | {"new-tariff-price_per_kwh": "dear"}).content.decode()
    assert "“dear” is not a" in html
    assert not Tariff.objects.exists()
    assert owner_client.post(address, form | {"new-tariff-price_per_kwh": "0.42"}).status_code == 302
    assert str(PowerSource.objects.get().tariff.price_per_kwh) == "0.42000"
    house = reverse("energy:sources-edit", args=[PowerSource.objects.get().pk])
    assert "selected>Electricity" in owner_client.get(house).content.decode()
    owner_client.post(house, form | {"tariff": str(Tariff.objects.get().pk)})
    assert Tariff.objects.count() == 1, "saved again, and no second price"


def test_a_tariff_of_no_currency_is_refused_in_words(owner_client):
    form = {"name": "Club", "currency": "ABC", "price_per_kwh": "0.31"}
    assert "“ABC” is no currency" in owner_client.post(reverse("energy:tariffs-new"), form).content.decode()


def test_a_tariff_that_is_over_says_so_in_the_list(owner_client):
    tariff = Tariff.objects.create(name="Club", currency="EUR", price_per_kwh="0.31", valid_from="2020-01-01")
    assert "ended" not in owner_client.get(reverse("energy:gear")).content.decode()
    Tariff.objects.filter(pk=tariff.pk).update(valid_to="2020-12-31")
    assert "ended" in owner_client.get(reverse("energy:gear")).content.decode()


def test_what_cooks_at_both_ends_show_is_kept_and_forgotten_in_one_tap(owner_client, run, source):
    """The battery fell from 80 to 55 % while 213 Wh reached the socket in 31 minutes."""
    source.kind, source.capacity_wh, source.idle_w, source.inverter_efficiency = "battery_station", 1000, 9, 0.8
    source.save()
    first, last = run.readings.first(), run.readings.last()
    Reading.objects.filter(pk=first.pk).update(charge_pct=80)
    Reading.objects.filter(pk=last.pk).update(charge_pct=55)
    refresh_summary(run=Run.objects.get(pk=run.pk))
    address, charge = (reverse(f"energy:{name}", args=[source.pk]) for name in ("sources-edit", "source-charge"))
    page = owner_client.get(address).content.decode().replace("\u00a0", " ")
    assert "one per cent of the charge gives 8.67 ± 0.30 Wh" in page
    assert "Go by the label again" not in page
    assert "In use: 8.67 ± 0.30 Wh" in owner_client.post(charge, follow=True).content.decode().replace("\u00a0", " ")
    source.refresh_from_db()
    assert source.wh_per_pct == pytest.approx((213 + 0.8 * 9 * 31 / 60) / 25)
    owner_client.post(charge, {"forget": "1"})
    source.refresh_from_db()
    assert (source.wh_per_pct, source.wh_per_pct_uncertainty) == (None, 0)
