"""Runs on the bench: lists, one run, its verdict, its details."""

import re
from datetime import UTC, timedelta
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from energy.models import DeskEvent, Run
from energy.runs.domain.desk import Press
from energy.runs.domain.samples import Sample
from energy.runs.operations.desk import keep_press
from energy.runs.operations.recording import record_run
from energy.runs.operations.typed import TypedRows
from kitchen.models import Food, Site


def test_three_people_try_every_page(run, owner_client, other_client, stranger_client):
    addresses = [reverse(f"energy:{name}", args=[run.pk]) for name in ("run", "run-edit", "run-remove", "run-stages", "run-log")]
    addresses.append(reverse("energy:recipe-runs", args=["lentil-pot"]))
    for address in addresses:
        assert owner_client.get(address).status_code == 200
        assert other_client.get(address).status_code == 404
        assert stranger_client.get(address).status_code == 302
    assert other_client.post(reverse("energy:run-remove", args=[run.pk])).status_code == 404
    assert other_client.post(reverse("energy:run-verdict", args=[run.pk]), {"verdict": "left_out"}).status_code == 404
    assert Run.objects.get().verdict == "counts"


def test_a_cook_sees_only_runs_of_own_recipes(run, other_client, owner_client):
    assert "Lentil pot" not in other_client.get(reverse("energy:runs")).content.decode()
    assert "Lentil pot" in owner_client.get(reverse("energy:runs")).content.decode()


def test_the_page_tells_the_figures(run, owner_client):
    page = owner_client.get(reverse("energy:run", args=[run.pk])).content.decode().replace("\u00a0", " ")
    for words in (
        "213.0 ± 2.6 Wh",
        "630 W",
        "31 min",
        "the display’s step",
        "the meter’s accuracy",
        "counts towards the figures",
    ):
        assert words in page
    assert "<svg" in page


def test_a_cook_measured_at_both_ends_tells_the_path(record, owner_client, owner, details, noon):
    # 213 Wh at the socket, 38 % of 768 Wh out of the battery: 0.730 (common practice).
    readings = [Sample(0, 0, charge_pct=100), Sample(1860, 213, charge_pct=62)]
    run = record_run(details=details, rows=TypedRows(readings), operator=owner, at=noon)
    page = owner_client.get(reverse("energy:run", args=[run.pk])).content.decode().replace("\u00a0", " ")
    assert "the charge fell by 38 %, which is 292 Wh" in page
    assert "73 ± 5 % reached the socket" in page


def test_the_page_tells_where_the_heat_went(record, revision, appliance, owner_client):
    water = Food.objects.create(name="water", water_g=99.9, ash_g=0.1)
    part = revision.parts.get()
    part.lines.create(position=1, text="1 kg water", low=1, high=1, unit="kg", name="water", food=water)
    part.lines.create(position=2, text="<b>dill</b>, to serve", name="<b>dill</b>", note="to serve")
    appliance.vessel_kg, appliance.vessel_material = 1, "steel"
    appliance.save()
    run = record(ambient_c=10, food_start_c=12)
    page = owner_client.get(reverse("energy:run", args=[run.pk])).content.decode().replace("\u00a0", " ")
    for words in (
        "By the end of “come up” food and pot had taken at least 114 Wh of the 213 Wh measured: at least 53 %",
        "Food, 1.00 kg, from 12 to 100 °C",
        "Pot, 1.00 kg, from 10 to 100 °C",
        "300 g lentils",
        "Its amount could not be read.",
        "&lt;b&gt;dill&lt;/b&gt;",
        "Added at the end.",
    ):
        assert words in page
    dry = record(later=1, stages=((0, "brown"),))
    assert "No stage comes up to the boil" in owner_client.get(reverse("energy:run", args=[dry.pk])).content.decode()


def test_a_flagged_run_waits_and_is_judged(flagged_run, owner_client):
    address = reverse("energy:run", args=[flagged_run.pk])
    verdict = reverse("energy:run-verdict", args=[flagged_run.pk])
    assert "Something looks wrong" in owner_client.get(address).content.decode()
    assert "flagged" in owner_client.get(reverse("energy:runs"), {"flagged": 1}).content.decode()
    answer = owner_client.post(verdict, {"verdict": "counts"})
    assert answer.status_code == 422
    assert "Accept it with a reason, or leave it out." in answer.content.decode()
    answer = owner_client.post(verdict, {"verdict": "accepted", "reason": ""})
    assert "Say why it counts all the same" in answer.content.decode()
    assert owner_client.post(verdict, {"verdict": "accepted", "reason": "Reset by hand."}).status_code == 302
    flagged_run.refresh_from_db()
    assert (flagged_run.verdict, flagged_run.verdict_reason) == ("accepted", "Reset by hand.")
    assert "No cook waits" in owner_client.get(reverse("energy:runs"), {"flagged": 1}).content.decode()


def test_what_looks_wrong_is_kept_as_codes_and_read_as_sentences(flagged_run, owner_client):
    pages = [
        reverse("energy:run", args=[flagged_run.pk]),
        reverse("energy:runs-choose", args=[flagged_run.revision.recipe.slug]),
        reverse("energy:desk", args=[flagged_run.pk]),
    ]
    assert [flag["code"] for flag in flagged_run.flags] == ["counter_fell"]
    for address in pages:
        page = owner_client.get(address).content.decode().replace("\u00a0", " ")
        assert "The counter fell from 105 to 4 Wh at minute 12: taken as a reset" in page, address
    Run.objects.filter(pk=flagged_run.pk).update(flags=["The display <hung> for a while."])
    for address in pages:
        assert "The display &lt;hung&gt; for a while." in owner_client.get(address).content.decode(), address


def test_details_are_changed_and_bad_ones_come_back(run, details, owner_client):
    address = reverse("energy:run-edit", args=[run.pk])
    form = {
        "appliance": details.appliance.pk,
        "source": details.source.pk,
        "meter": details.meter.pk,
        "revision": details.revision.pk,
        "day": "2026-10-14",
        "time": "12:00",
        "servings": "6",
    }
    answer = owner_client.post(address, {**form, "servings": "-1"})
    assert answer.status_code == 422
    assert 'value="-1"' in answer.content.decode()
    assert owner_client.post(address, form).status_code == 302
    run.refresh_from_db()
    assert run.servings == 6


def test_the_clock_that_the_kitchen_chose_is_typed_and_shown(run, details, owner_client):
    """New Zealand keeps daylight time from the last Sunday of September: UTC+13 (Daylight Time Order 2007, from memory)."""
    Site.objects.create(pk=1, time_zone="Pacific/Auckland")
    address, began = reverse("energy:run-edit", args=[run.pk]), run.started_at
    page = owner_client.get(address).content.decode()
    assert "Times are in Pacific/Auckland" in page
    shown = began.astimezone(ZoneInfo("Pacific/Auckland"))
    assert f'value="{shown:%H:%M}"' in page
    names = ("appliance", "source", "meter", "revision")
    form = {name: getattr(details, name).pk for name in names} | {"day": f"{shown:%Y-%m-%d}", "time": "06:05", "servings": "4"}
    assert owner_client.post(address, form).status_code == 302
    run.refresh_from_db()
    assert f"{run.started_at.astimezone(UTC):%H:%M}" == "17:05"
    Site.objects.update(time_zone="")
    assert 'value="17:05"' in owner_client.get(address).content.decode(), "the server's own"


def test_a_run_is_removed_after_a_question(run, owner_client):
    address = reverse("energy:run-remove", args=[run.pk])
    assert "7 readings will be gone" in owner_client.get(address).content.decode()
    assert owner_client.post(address).status_code == 302
    assert not Run.objects.exists()


def test_a_run_with_nothing_read_still_has_a_page(record, owner_client):
    run = record((), (), running=True)
    page = owner_client.get(reverse("energy:run", args=[run.pk])).content.decode()
    assert "No reading yet." in page
    assert "still cooking" in page


def test_empty_lists_say_what_to_do(revision, owner_client):
    for address in (reverse("energy:runs"), reverse("energy:recipe-runs", args=["lentil-pot"])):
        assert 'class="empty"' in owner_client.get(address).content.decode()


@pytest.mark.parametrize("name", ["runs", "recipe-runs"])
def test_ten_more_runs_cost_no_more_queries(record, owner_client, name):
    record()
    address = reverse(f"energy:{name}", args=["lentil-pot"] if name == "recipe-runs" else [])
    owner_client.get(address)
    with CaptureQueriesContext(connection) as few:
        owner_client.get(address)
    for later in range(1, 11):
        record(later=later)
    with CaptureQueriesContext(connection) as many:
        owner_client.get(address)
    assert len(many) == len(few)


def test_ten_more_readings_cost_no_more_queries(record, owner_client):
    counts = []
    for later, readings in enumerate((3, 13)):
        run = record([(minute, minute) for minute in range(readings)], later=later)
        owner_client.get(reverse("energy:run", args=[run.pk]))
        with CaptureQueriesContext(connection) as seen:
            owner_client.get(reverse("energy:run", args=[run.pk]))
        counts.append(len(seen))
    assert counts[0] == counts[1]


def test_a_peak_that_no_display_showed_is_no_more_than_a_least(run, owner_client):
    listed = owner_client.get(reverse("energy:runs")).content.decode().replace("\u00a0", " ")
    assert "at least 660 W" in listed
    page = owner_client.get(reverse("energy:run", args=[run.pk])).content.decode()
    assert "at its peak or more: no display showed it" in page
    assert "nothing</td>" in page, "the release drew nothing"


def test_a_run_whose_energy_is_not_known_cannot_be_accepted(record, owner_client):
    empty = record(((0, 0),))
    answer = owner_client.post(reverse("energy:run-verdict", args=[empty.pk]), {"verdict": "accepted", "reason": "Trust me."})
    assert answer.status_code == 422
    assert "no energy that could count" in answer.content.decode()
    assert Run.objects.get().verdict == "counts"


def test_a_clock_that_was_set_during_the_cook_is_told(run, owner, owner_client, noon):
    """The server's clock goes back by half an hour between two presses: nothing is lost, and the page says so."""

    def pressed(minute, skew_s, wh):
        press = Press(uuid4(), "reading", run.started_at + timedelta(minutes=minute), {"energy_wh": wh}, skew_s=skew_s)
        assert keep_press(run=run, press=press, by=owner, at=noon) == "kept"

    address = reverse("energy:run", args=[run.pk])
    pressed(5, 0.4, 40.0)
    assert "clocks of phones and server" not in owner_client.get(address).content.decode()
    pressed(6, 1800.2, 50.0)
    page = owner_client.get(address).content.decode().replace("\u00a0", " ")
    assert "The clocks of phones and server stood 30 min apart at different moments of this cook" in page
    assert DeskEvent.objects.filter(run=run).count() == 2


def test_the_cook_sees_what_would_make_the_figures_surer(owner_client, run):
    page = owner_client.get(reverse("energy:run", args=[run.pk])).content.decode()
    assert re.search(r"The mean is known to ± 1\d\s% ?; two more cooks would give about ± \d\.?\d?\s%\.", page)
    assert "Nobody noted" not in page, "there is no balance that an empty field could widen"
    run.verdict = "left_out"
    run.save()
    assert "two more cooks" not in owner_client.get(reverse("energy:run", args=[run.pk])).content.decode()
