"""Correcting a finished run on the bench: its readings, its stages, a log added later."""

import re

import pytest
from django.urls import reverse


def test_a_reading_is_corrected(run, owner_client):
    reading = run.readings.get(energy_wh=105)
    address = reverse("energy:reading-edit", args=[run.pk, reading.pk])
    assert 'value="105"' in owner_client.get(address).content.decode()
    assert owner_client.post(address, {"minute": "", "energy_wh": "104"}).status_code == 422
    assert owner_client.post(address, {"minute": "10", "energy_wh": "104"}).status_code == 302
    reading.refresh_from_db()
    assert reading.energy_wh == 104


def test_removing_offers_to_put_it_back(run, owner_client):
    reading = run.readings.get(energy_wh=118)
    answer = owner_client.post(reverse("energy:reading-remove", args=[run.pk, reading.pk]), follow=True)
    token = re.search(r'name="removed" value="([^"]+)"', answer.content.decode())[1]
    assert run.readings.count() == 6
    owner_client.post(reverse("energy:reading-put-back", args=[run.pk]), {"removed": token})
    assert run.readings.filter(pk=reading.pk, energy_wh=118).exists()


def test_a_forged_or_foreign_removal_changes_nothing(run, record, owner_client):
    other = record(later=1)
    reading = other.readings.first()
    answer = owner_client.post(reverse("energy:reading-remove", args=[other.pk, reading.pk]), follow=True)
    token = re.search(r'name="removed" value="([^"]+)"', answer.content.decode())[1]
    for bad in (token, "forged", ""):
        answer = owner_client.post(reverse("energy:reading-put-back", args=[run.pk]), {"removed": bad}, follow=True)
        assert "cannot be put back" in answer.content.decode()
    assert run.readings.count() == 7


def test_a_reading_of_another_run_is_not_found(run, record, owner_client, other_client):
    reading = record(later=1).readings.first()
    assert owner_client.get(reverse("energy:reading-edit", args=[run.pk, reading.pk])).status_code == 404
    assert other_client.get(reverse("energy:reading-edit", args=[run.pk, run.readings.first().pk])).status_code == 404


def test_stages_are_corrected_in_rows(run, owner_client):
    address = reverse("energy:run-stages", args=[run.pk])
    assert owner_client.get(address).status_code == 200
    data = {"stage0-minute": "0", "stage0-kind": "brown", "stage1-minute": "12", "stage1-kind": "hold", "stage2-minute": ""}
    assert owner_client.post(address, data).status_code == 302
    run.refresh_from_db()
    assert [(stage["kind"], round(stage["energy_wh"])) for stage in run.summary["stages"]] == [("brown", 118), ("hold", 95)]


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"stage1-kind": ""}, "Which stage begins here?"),
        ({"stage1-minute": ""}, "At which minute did it begin?"),
        ({"stage1-minute": "0"}, "Two stages begin at minute 0."),
    ],
)
def test_bad_stages_come_back(run, owner_client, change, sentence):
    data = {"stage0-minute": "0", "stage0-kind": "brown", "stage1-minute": "12", "stage1-kind": "hold", **change}
    answer = owner_client.post(reverse("energy:run-stages", args=[run.pk]), data)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert run.stages.count() == 3


def test_a_log_is_added_to_a_run(run, owner_client):
    address = reverse("energy:run-log", args=[run.pk])
    assert "Choose a file" in owner_client.post(address, {}).content.decode()
    look = owner_client.post(address, {"log_text": "minutes,watts\n1,690\n2,691\n"})["Location"]
    owner_client.post(f"{look}read/", {})
    assert run.readings.filter(origin="file").count() == 2
    other_day = "time,watts\n2020-01-01T10:00:00Z,5\n2020-01-01T10:01:00Z,5\n"
    look = owner_client.post(address, {"log_text": other_day})["Location"]
    assert "do not meet" in owner_client.get(f"{look}read/").content.decode()
