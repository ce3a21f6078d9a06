"""Every form about energy takes the unit that stands on the plate in front of the cook, and says what it understood."""

from __future__ import annotations

import html
from uuid import uuid4

import pytest
from django.urls import reverse

from energy.models import Appliance, Meter, PowerSource, Reading, Run, Tariff
from energy.tariffs.queries.pricing import record_of
from kitchen.forms.kit import read_kit
from kitchen.operations import publish_recipe
from tests.energy.runs.test_desk_page import text_of

BATTERY = {"name": "Van", "kind": "battery_station", "capacity_wh": "1024"}


def told(answer) -> str:
    """What the page that follows a save says."""
    assert answer.status_code == 200
    return html.unescape(text_of(answer))


def test_an_appliance(owner_client):
    typed = {
        "name": "Big pot",
        "kind": "pressure_cooker",
        "rated_w": "1.2 kW",
        "capacity_l": "6 qt",
        "vessel_kg": "3 lb 4 oz",
        "min_liquid_ml": "0.25 L",
        "pressure_kpa": "0.7 bar",
        "fill_limit_pct": "66 %",
    }
    answer = owner_client.post(reverse("energy:appliances-new"), typed, follow=True)
    pot = Appliance.objects.get()
    assert (pot.rated_w, pot.capacity_l, pot.vessel_kg) == (1200, 5.67812, 1.47418)  # to six figures
    assert (pot.min_liquid_ml, pot.pressure_kpa, pot.fill_limit_pct) == (250, 70, 66)
    said = told(answer)
    assert "“1.2 kW” understood as 1,200 W; “6 qt” understood as 5.67812 L; “3 lb 4 oz” understood as 1.47418 kg" in said
    assert "66 %" not in said


def test_a_power_source(owner_client):
    typed = {
        **BATTERY,
        "capacity_wh": "12 V x 64 Ah",
        "continuous_w": "0,8 kW",
        "panel_w": "2 x 100 W",
        "volts": "230 V",
        "amps": "16 A",
    }
    answer = owner_client.post(reverse("energy:sources-new"), typed, follow=True)
    source = PowerSource.objects.get()
    assert (source.capacity_wh, source.continuous_w, source.panel_w, source.volts, source.amps) == (768, 800, 200, 230, 16)
    assert "“12 V x 64 Ah” understood as 768 Wh" in told(answer)


def test_a_meter(owner_client):
    owner_client.post(reverse("energy:meters-new"), {"name": "Plug", "place": "socket", "resolution_wh": "0.01 kWh"})
    assert Meter.objects.get().resolution_wh == 10


def test_a_bare_number_is_the_fields_own_and_nothing_is_said(owner_client):
    assert "understood" not in told(owner_client.post(reverse("energy:sources-new"), BATTERY, follow=True))


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("capacity_wh", "3 kg", "“3 kg” is a weight, and an energy is needed here: 1.02 kWh and 1020 mean the same."),
        ("capacity_wh", "1,024", "“1,024” can be read in two ways. Type “1024” or “1.024”."),
        ("capacity_wh", "2 GWh", "“2 GWh” is 2,000,000,000 Wh. A number from 1 to 1,000,000 Wh is needed here."),
        ("continuous_w", "300-600", "“300-600” is a range. Type one number."),
        ("volts", "12 parsec", "“12 parsec”: “parsec” is no unit that is known here: 0.23 kV and 230 mean the same."),
    ],
)
def test_what_does_not_fit_comes_back_as_typed_with_a_sentence(owner_client, field, typed, sentence):
    answer = owner_client.post(reverse("energy:sources-new"), {**BATTERY, "surge_w": "1.2 kW", field: typed})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in page
    assert f'value="{typed}"' in page
    assert "understood as 1,200 W" in page, "beside the field that was right"
    assert not PowerSource.objects.exists()


def test_a_run_its_readings_and_its_minutes(owner_client, details, revision):
    typed = {
        "appliance": details.appliance.pk,
        "source": details.source.pk,
        "meter": details.meter.pk,
        "revision": details.revision.pk,
        "day": "2026-10-14",
        "time": "19:05",
        "servings": "4",
        "ambient_c": "40 °F",
        "food_start_c": "50F",
        "altitude_m": "6,500 ft",
        "keep": "1",
        "rows": "2",
        "row0-minute": "0",
        "row0-energy_wh": "1.02 kWh",
        "row0-power_w": "0.7 kW",
        "row1-minute": "1 h 20",
        "row1-energy_wh": "1,5 kWh",
    }
    answer = owner_client.post(reverse("energy:run-new", args=[revision.recipe.slug]), typed, follow=True)
    run = Run.objects.get()
    assert (run.ambient_c, run.food_start_c, run.altitude_m) == (4.44444, 10, 1981)
    kept = [(reading.energy_wh, reading.power_w) for reading in run.readings.order_by("at")]
    assert kept == [(1020, 700), (1500, None)]
    assert (run.readings.latest("at").at - run.started_at).total_seconds() == 80 * 60
    said = told(answer)
    assert "“6,500 ft” understood as 1,981 m" in said
    assert said.count("understood as") == 6
    assert "and 1 more" in said


def test_a_comma_before_three_digits_is_asked_in_a_reading(owner_client, run):
    answer = owner_client.post(
        reverse("energy:reading-add", args=[run.pk]), {"energy_wh": "1,234", "minute": "50", "key": uuid4()}
    )
    assert "“1,234” can be read in two ways. Type “1234” or “1.234”." in answer.content.decode()
    assert not Reading.objects.filter(energy_wh__in=(1234, 1.234)).exists()


def test_one_reading_along_the_way(owner_client, run):
    sent = {"energy_wh": "1.234 kWh", "minute": "1 h 20 min", "key": uuid4()}
    answer = owner_client.post(reverse("energy:reading-add", args=[run.pk]), sent, follow=True)
    assert run.readings.latest("at").energy_wh == 1234
    assert "“1.234 kWh” understood as 1,234 Wh; “1 h 20 min” understood as 80 min" in told(answer)


def test_the_run_desk(owner_client, revision, appliance, source, meter):
    gear = {"appliance": appliance.pk, "source": source.pk, "meter": meter.pk}
    start = f"/bench/recipes/{revision.recipe.slug}/cook/"
    owner_client.post(start, {**gear, "servings": "4", "food_start_c": "50 °F", "once": uuid4()})
    run = Run.objects.get()
    assert run.food_start_c == 10
    address = f"/bench/runs/{run.pk}/desk/"
    press = {"press": "reading", "energy_wh": "0.21 kWh", "power_w": "1.2 kW"}
    answer = owner_client.post(address, {**press, "once": uuid4()}, follow=True)
    assert [(reading.energy_wh, reading.power_w) for reading in run.readings.all()] == [(210, 1200)]
    assert "“0.21 kWh” understood as 210 Wh; “1.2 kW” understood as 1,200 W" in told(answer)
    back = owner_client.post(address, {**press, "power_w": "3 kg", "once": uuid4()})
    page = back.content.decode()
    assert "“3 kg” is a weight, and a power is needed here" in page
    assert "understood as 210 Wh" in page
    assert 'data-unit="Wh"' in page
    assert 'inputmode="decimal"' not in page.split('name="energy_wh"')[0].rsplit("<input", 1)[1], "letters can be typed"


def test_a_tariff_and_its_bill(owner_client):
    typed = {
        "name": "Meadow",
        "currency": "EUR",
        "valid_from": "2026-01-01",
        "kind": "blocks",
        "blocks": "0.10 to 800\n0.12 above",
    }
    owner_client.post(reverse("energy:tariffs-new"), {**typed, "usual_kwh": "0.25 MWh", "co2_g_per_kwh": "0.4 kg/kWh"})
    tariff = Tariff.objects.get()
    assert (record_of(tariff).usual_kwh, tariff.co2_g_per_kwh) == (250, 400)
    page = owner_client.get(
        reverse("energy:tariff-prices", args=[tariff.pk]), {"kwh": "1.05 MWh", "days": "2 weeks"}
    ).content.decode()
    assert "understood as 1,050 kWh" in page
    assert "understood as 14 days" in page


def test_a_price_is_never_guessed(owner_client):
    typed = {"name": "Meadow", "currency": "EUR", "valid_from": "2026-01-01", "kind": "flat"}
    page = owner_client.post(reverse("energy:tariffs-new"), {**typed, "price_per_kwh": "1,309"}).content.decode()
    assert "“1,309” can be read in two ways. Type “1309” or “1.309”." in page
    for bad in ("free", "0.31 EUR", "2000"):
        page = owner_client.post(reverse("energy:tariffs-new"), {**typed, "price_per_kwh": bad}).content.decode()
        assert "price" in page.split('class="error"')[1][:300]
    assert not Tariff.objects.exists()
    owner_client.post(reverse("energy:tariffs-new"), {**typed, "price_per_kwh": "0,309"})
    assert str(Tariff.objects.get().price_per_kwh) == "0.30900"


def test_a_readers_kit(owner_client, run, revision, noon):
    asked = {"battery_wh": "1 kWh", "inverter_w": "1.2 kW", "food_start_c": "40 °F", "altitude_m": "6,500 ft"}
    assert read_kit(asked).values == {"battery_wh": 1000, "inverter_w": 1200, "food_start_c": 4.44444, "altitude_m": 1981.2}
    publish_recipe(recipe=revision.recipe, revision=revision, by=revision.recipe.owner, note="", at=noon)
    answer = owner_client.get(f"/r/{revision.recipe.slug}/", asked)
    assert answer.status_code == 200
    page = html.unescape(answer.content.decode())
    assert 'value="1 kWh"' in page
    assert "understood as 1,000 Wh" in page
    assert "understood as 1,981.2 m" in page
