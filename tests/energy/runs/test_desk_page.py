"""The run desk by plain forms: starting, logging, stages, correcting, taking back, pausing, finishing, by the server's clock."""

from __future__ import annotations

import json
import re
from datetime import timedelta
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from energy.models import DeskEvent, Run
from tests.kitchen.pictures import picture

START = "/bench/recipes/lentil-pot/cook/"


@pytest.fixture
def gear(appliance, source, meter) -> dict[str, int]:
    return {"appliance": appliance.pk, "source": source.pk, "meter": meter.pk}


@pytest.fixture
def run(owner_client, revision, gear) -> Run:
    answer = owner_client.post(START, {**gear, "servings": "4", "once": uuid4()})
    assert answer.status_code == 302, answer.content.decode()
    return Run.objects.get()


def press(client, run, kind, **typed):
    """Press one button of the desk's form, and follow to the page that comes back."""
    return client.post(f"/bench/runs/{run.pk}/desk/", {"press": kind, "once": uuid4(), **typed}, follow=True)


def text_of(answer) -> str:
    return re.sub(
        r"\s+", " ", re.sub(r"<script.*?</script>|<[^>]+>", " ", answer.content.decode(), flags=re.S).replace("\xa0", " ")
    )


def test_a_step_without_a_stage_stands_at_the_stage_before_it(owner_client, revision, gear):
    revision.steps.all().delete()
    for position, (stage, text) in enumerate([("", "Chop."), ("brown", "Fry."), ("", "Stir in the stock."), ("hold", "Hold.")]):
        revision.steps.create(position=position, stage=stage, text=text)
    page = owner_client.get(START)
    words = json.loads(re.search(r'<script id="start-words"[^>]*>(.*?)</script>', page.content.decode(), re.S)[1])
    assert [(one["kind"], one["steps"]) for one in words["stages"]] == [
        ("brown", ["Chop.", "Fry.", "Stir in the stock."]),
        ("hold", ["Hold."]),
    ]


def test_starting_a_cook_begins_its_first_stage_and_opens_the_desk(owner_client, run, owner):
    assert (run.servings, run.operator, run.ended_at) == (4, owner, None)
    assert abs((timezone.now() - run.started_at).total_seconds()) < 60
    assert [(stage.kind, stage.starts_at) for stage in run.stages.all()] == [("brown", run.started_at)]
    page = text_of(owner_client.get(f"/bench/runs/{run.pk}/desk/"))
    assert "stage 1 of 3" in page
    assert "Next stage: come up" in page
    assert "Brown." in page


def test_the_same_start_sent_twice_makes_one_cook(owner_client, revision, gear):
    once = uuid4()
    first, second = (owner_client.post(START, {**gear, "servings": "4", "once": once}) for _ in range(2))
    assert first.headers["Location"] == second.headers["Location"]
    assert Run.objects.count() == 1
    other = owner_client.post(START, {**gear, "servings": "6", "once": once})
    assert other.status_code == 422
    assert "Press once more to start another" in text_of(other)
    assert Run.objects.count() == 1


def test_the_gear_of_the_last_run_is_chosen_already(owner_client, record, gear):
    record()
    page = owner_client.get(START).content.decode()
    for key in gear.values():
        assert f'<option value="{key}" selected>' in page


def test_a_bad_start_comes_back_as_typed(owner_client, revision, gear):
    answer = owner_client.post(START, {**gear, "servings": "none", "ambient_c": "99", "food_start_c": "4,5"})
    assert answer.status_code == 422
    page = text_of(answer)
    assert "“none” is not a number" in page
    assert "A number from -40 to 55 °C" in page
    assert 'value="4,5"' in answer.content.decode()
    assert not Run.objects.exists()


def test_a_reading_takes_a_decimal_comma_and_the_servers_time(owner_client, run):
    page = text_of(press(owner_client, run, "reading", energy_wh="54,5", power_w="690"))
    reading = run.readings.get()
    assert (reading.energy_wh, reading.power_w, reading.charge_pct, reading.origin) == (54.5, 690, None, "desk")
    assert abs((timezone.now() - reading.at).total_seconds()) < 60
    assert "54.5 Wh, 690 W" in page


def test_the_same_press_sent_twice_is_kept_once_and_another_figure_is_asked_about(owner_client, run):
    once = uuid4()
    for _ in range(2):
        assert press(owner_client, run, "reading", energy_wh="54", once=once).status_code == 200
    assert run.readings.count() == 1
    again = press(owner_client, run, "reading", energy_wh="71", once=once)
    assert again.status_code == 422
    assert "Press once more to save this one, too" in text_of(again)
    assert 'value="71"' in again.content.decode()
    fresh = re.search(r'name="once" value="([0-9a-f-]{36})"', again.content.decode())
    assert fresh is not None
    press(owner_client, run, "reading", energy_wh="71", once=fresh[1])
    assert [reading.energy_wh for reading in run.readings.all()] == [54, 71]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({}, "Type at least one figure"),
        ({"energy_wh": "many"}, "“many” is not a number"),
        ({"charge_pct": "101"}, "A number from 0 to 100 % is needed here."),
        ({"power_w": "-5"}, "A number from 0 to 100,000 W is needed here."),
        ({"energy_wh": "nan"}, "is needed here"),
    ],
)
def test_a_bad_reading_comes_back_as_typed(owner_client, run, typed, words):
    answer = press(owner_client, run, "reading", **typed)
    assert answer.status_code == 422
    assert words in text_of(answer)
    for value in typed.values():
        assert f'value="{value}"' in answer.content.decode()
    assert not run.readings.exists()


def test_the_next_stage_takes_figures_along(owner_client, run):
    press(owner_client, run, "following", following="come_up", stage="brown", energy_wh="105")
    kinds = [stage.kind for stage in run.stages.all()]
    assert kinds == ["brown", "come_up"]
    assert run.stages.last().starts_at == run.readings.get().at
    press(owner_client, run, "stage", stage="keep_warm", label="lid ajar")
    page = text_of(owner_client.get(f"/bench/runs/{run.pk}/desk/"))
    assert "lid ajar begins" in page
    assert "Finish" in page


def test_a_press_is_corrected_at_its_own_moment_or_another(owner_client, run):
    press(owner_client, run, "reading", energy_wh="54")
    first = run.readings.get()
    page = owner_client.get(f"/bench/runs/{run.pk}/desk/?correct={first.pk}").content.decode()
    assert 'value="54"' in page
    press(owner_client, run, "reading", energy_wh="56", correct=first.pk)
    second = run.readings.get()
    assert (second.energy_wh, second.at) == (56, first.at)
    press(owner_client, run, "reading", energy_wh="56", minute="0,5", correct=second.pk)
    assert run.readings.get().at == run.started_at + timedelta(seconds=30)
    assert DeskEvent.objects.filter(run=run, withdrawn_at=None, kind="reading").count() == 1


def test_a_press_is_taken_back_once(owner_client, run):
    press(owner_client, run, "reading", energy_wh="54")
    key = run.readings.get().pk
    back = owner_client.post(f"/bench/runs/{run.pk}/desk/", {"undo": key}, follow=True)
    assert "Taken back: 54 Wh" in text_of(back)
    assert not run.readings.exists()
    again = owner_client.post(f"/bench/runs/{run.pk}/desk/", {"undo": key}, follow=True)
    assert "taken back already" in text_of(again)


def test_pause_and_going_on(owner_client, run):
    assert "Go on" in text_of(press(owner_client, run, "pause"))
    run.refresh_from_db()
    assert len(run.pauses) == 1
    assert run.pauses[0][1] is None
    assert "Go on" not in text_of(press(owner_client, run, "resume"))
    run.refresh_from_db()
    assert run.pauses[0][1] is not None


def test_a_note_and_a_photo_at_a_moment(owner_client, run, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    pot = SimpleUploadedFile("pot.jpg", picture((80, 60)), "image/jpeg")
    press(owner_client, run, "moment", text="lid rattles", photo=pot)
    moment = run.moments.get()
    assert moment.text == "lid rattles"
    assert moment.photo is not None
    refused = press(owner_client, run, "moment", photo=SimpleUploadedFile("pot.jpg", b"no picture", "image/jpeg"))
    assert refused.status_code == 422
    assert run.moments.count() == 1
    assert press(owner_client, run, "moment").status_code == 422


def test_finishing_shows_the_summary_at_once_and_can_be_taken_back(owner_client, run):
    Run.objects.filter(pk=run.pk).update(started_at=run.started_at - timedelta(minutes=30))
    run.refresh_from_db()
    press(owner_client, run, "reading", energy_wh="0")
    first = run.readings.get()
    press(owner_client, run, "reading", energy_wh="0", minute="0", correct=first.pk)
    press(owner_client, run, "stage", stage="brown", minute="0", correct=run.stages.get().event)
    page = text_of(press(owner_client, run, "finish", energy_wh="213"))
    assert "finished" in page
    assert "213.0 ± 2.6 Wh" in page  # 1 Wh steps and class 1: the same figure as on the run's page
    run.refresh_from_db()
    assert run.ended_at is not None
    finish = DeskEvent.objects.get(run=run, kind="finish")
    owner_client.post(f"/bench/runs/{run.pk}/desk/", {"undo": finish.pk})
    run.refresh_from_db()
    assert run.ended_at is None


def test_the_page_holds_the_state_that_a_phone_keeps(owner_client, run):
    press(owner_client, run, "reading", energy_wh="54")
    page = owner_client.get(f"/bench/runs/{run.pk}/desk/").content.decode()
    state = json.loads(re.search(r'<script id="desk-state" type="application/json">(.*?)</script>', page)[1])
    assert (state["run"], state["uuid"], state["cook"]) == (str(run.pk), str(run.once), "owner")
    assert [(one["kind"], one["said"].get("energy_wh")) for one in state["presses"]] == [("stage", None), ("reading", 54)]
    assert [stage["kind"] for stage in state["stages"]] == ["brown", "come_up", "release"]


def test_readings_typed_elsewhere_are_shown_and_not_corrected_here(owner_client, record):
    run = record(running=True)
    page = owner_client.get(f"/bench/runs/{run.pk}/desk/").content.decode()
    assert "213" in page
    assert "?correct=" not in page


@pytest.mark.parametrize("name", ["cook/", "along/"])
def test_another_cook_starts_nothing_here(other_client, revision, gear, name):
    assert other_client.get(f"/bench/recipes/lentil-pot/{name}").status_code == 404


def test_another_cook_presses_nothing_here(other_client, run):
    assert other_client.get(f"/bench/runs/{run.pk}/desk/").status_code == 404
    assert press(other_client, run, "finish").status_code == 404


def test_what_a_phone_takes_along_names_gear_and_stages(owner_client, revision, gear):
    words = owner_client.get("/bench/recipes/lentil-pot/along/").json()
    assert (words["slug"], words["revision"], words["servings"]) == ("lentil-pot", 1, 4)
    assert words["usual"] == gear
    assert [stage["minutes"] for stage in words["stages"]] == [10, 11, 10]
    assert words["gear"]["source"][0]["has_charge"] is True


def test_the_desk_asks_no_more_of_the_tables_with_more_presses(owner_client, run, django_assert_max_num_queries):
    for wh in range(12):
        press(owner_client, run, "reading", energy_wh=str(wh))
    with django_assert_max_num_queries(16):
        owner_client.get(f"/bench/runs/{run.pk}/desk/")
