"""Meters' files through the pages: sent, looked at, pointed at, read in, taken out; a long log cut. All files are invented."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from energy.meters.queries import log_files
from energy.models import FileShape, LoadedFile, Run


def csv(noon, seconds=1800, watts=700, header="time,power (W)", every_s=10, after_s=0):
    rows = [f"{(noon + timedelta(seconds=at_s + after_s)).isoformat()},{watts}" for at_s in range(0, seconds + 1, every_s)]
    return "\n".join([header, *rows]).encode()


@pytest.fixture
def send(owner_client, run):
    """Send a file for the run and return the address of its look."""

    def sent(data, address=None):
        file = SimpleUploadedFile("plug.csv", data)
        answer = owner_client.post(address or reverse("energy:run-log", args=[run.pk]), {"log_file": file})
        assert answer.status_code == 302, answer.content.decode()
        return answer["Location"]

    return sent


def test_a_file_is_looked_at_read_in_and_taken_out_again(owner_client, send, run, noon):
    before = run.readings.count()
    look = send(csv(noon))
    page = owner_client.get(look).content.decode()
    assert "Power, W: “power (W)”." in page
    assert run.readings.count() == before
    yes = owner_client.get(f"{look}read/").content.decode()
    assert "350 Wh in all" in yes.replace("\xa0", " ")
    assert owner_client.post(f"{look}read/", {}).status_code == 302
    file = LoadedFile.objects.get()
    assert file.rows == run.readings.count() - before > 0
    assert "Take this file out again" in owner_client.get(reverse("energy:run", args=[run.pk])).content.decode()
    assert owner_client.post(reverse("energy:log-take-out", args=[run.pk, file.pk])).status_code == 302
    assert run.readings.count() == before


def test_a_column_that_was_guessed_wrong_is_pointed_at(owner_client, send, run, noon):
    look = send(csv(noon, header="time,something odd (VA)"))
    page = owner_client.get(look)
    assert "VA" in page.content.decode()
    owner_client.post(look, {"do": "look", "column1": "power:W", "column0": "time:"})
    assert "350 Wh in all" in owner_client.get(f"{look}read/").content.decode().replace("\xa0", " ")


@pytest.mark.parametrize(
    "said", [{"column1": "power:lots"}, {"column1": "nothing"}, {"decimal": "x"}, {"do": "kept", "shape": "99"}, {"do": "keep"}]
)
def test_nonsense_is_said_and_the_file_waits_on(owner_client, send, noon, said):
    look = send(csv(noon))
    assert owner_client.post(look, said).status_code == 422
    assert owner_client.get(look).status_code == 200


def test_a_way_of_reading_is_kept_named_used_renamed_removed_and_put_back(owner_client, send, noon):
    look = send(csv(noon, header="when;what"))
    owner_client.post(look, {"do": "keep", "name": "Hut plug"})
    shape = FileShape.objects.get()
    again = send(csv(noon, header="when;what", watts=900))
    owner_client.post(again, {"do": "kept", "shape": shape.pk})
    listed = reverse("energy:file-shapes")
    assert "Hut plug" in owner_client.get(listed).content.decode()
    owner_client.post(reverse("energy:shape-edit", args=[shape.pk]), {"name": "Hut plug 2"})
    removed = owner_client.post(reverse("energy:shape-remove", args=[shape.pk]))["Location"]
    assert not FileShape.objects.exists()
    token = removed.partition("removed=")[2]
    owner_client.post(reverse("energy:shape-put-back"), {"removed": token})
    assert FileShape.objects.get().name == "Hut plug 2"


def test_the_same_file_twice_is_said_and_needs_a_yes(owner_client, send, noon):
    data = csv(noon)
    owner_client.post(f"{send(data)}read/", {})
    second = f"{send(data)}read/"
    answer = owner_client.post(second, {})
    assert answer.status_code == 422
    assert "This very file was read into this cook" in answer.content.decode()
    assert owner_client.post(second, {"again": "on"}).status_code == 302


def test_a_file_of_another_day_asks_where_it_belongs(owner_client, send, run, noon):
    second = f"{send(csv(noon + timedelta(days=40)))}read/"
    assert owner_client.post(second, {}).status_code == 422
    assert owner_client.post(second, {"placing": "start"}).status_code == 302
    assert run.readings.filter(origin="file").exists()


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04 rest", b"hello\nworld", b"\x00\x01\x02" * 50, b'{"a":', b"time,w\n"])
def test_what_is_no_log_is_refused_in_a_sentence(owner_client, run, data):
    answer = owner_client.post(reverse("energy:run-log", args=[run.pk]), {"log_file": SimpleUploadedFile("x", data)}, follow=True)
    assert answer.status_code in (200, 422)
    assert 'role="alert"' in answer.content.decode()


def test_a_token_of_another_run_or_none_leads_back(owner_client, send, noon, record):
    look = send(csv(noon))
    token = look.rstrip("/").rpartition("/")[2]
    other = record(later=3)
    for address in (reverse("energy:log-look", args=[other.pk, token]), reverse("energy:log-read", args=[other.pk, "none"])):
        assert "gone=1" in owner_client.get(address)["Location"]


def test_other_cooks_and_strangers_see_nothing(other_client, stranger_client, send, noon, run):
    look = send(csv(noon))
    assert other_client.get(look).status_code == 404
    assert stranger_client.get(look).status_code == 302


@pytest.mark.usefixtures("contexts")
def test_a_long_log_becomes_runs_and_they_go_again(owner_client, send, run, noon, appliance, source, meter):
    recipe = run.revision.recipe
    gap = csv(noon, 3600, watts=0, after_s=1810).split(b"\n", 1)[1]
    second = csv(noon, 1800, watts=900, after_s=5420).split(b"\n", 1)[1]
    look = send(b"\n".join([csv(noon), gap, second]), reverse("energy:cooks-send", args=[recipe.slug]))
    cut = owner_client.get(f"{look}cooks/")
    assert "2 cooks" in cut.content.decode()
    form = cut.context["form"]
    said = {}
    for row in form.rows:
        for field in row:
            value = field.value()
            said[field.html_name] = (
                "on"
                if value is True
                else ""
                if value is None
                else field.field.prepare_value(value)
                if hasattr(field.field, "prepare_value")
                else value
            )
    before = Run.objects.count()
    kept = owner_client.post(f"{look}cooks/", said)
    assert kept.status_code == 302, kept.content.decode()
    assert Run.objects.count() == before + 2
    page = owner_client.get(kept["Location"])
    assert "2 cooks saved" in page.content.decode()
    owner_client.post(reverse("energy:cooks-undo", args=[recipe.slug]), {"made": page.context["made"]})
    assert Run.objects.count() == before


def test_progress_is_null_while_nothing_is_read(owner_client, send, noon):
    assert owner_client.get(f"{send(csv(noon))}progress/").json() == {"share": None}


def test_a_unit_that_was_guessed_is_a_flag_until_somebody_says_yes(owner_client, send, run, noon):
    owner_client.post(f"{send(csv(noon, header='time,power', watts=0.7))}read/", {})
    run.refresh_from_db()
    assert [flag["code"] for flag in run.flags].count("unit_guessed") == 1
    page = owner_client.get(reverse("energy:run", args=[run.pk])).content.decode().replace("\xa0", " ")
    assert "as W it would be" in page
    file = LoadedFile.objects.get()
    assert owner_client.post(reverse("energy:log-confirm", args=[run.pk, file.pk])).status_code == 302
    run.refresh_from_db()
    assert "unit_guessed" not in [flag["code"] for flag in run.flags]


def test_a_thinned_file_keeps_its_rhythm_in_the_run(owner_client, record, noon):
    run = record((), ((0, "come_up"),))
    rows = (f"{(noon + timedelta(seconds=n)).isoformat()},{1180 + n % 3 if n % 900 < 300 else 1.2}" for n in range(24_000))
    file = SimpleUploadedFile("plug.csv", "\n".join(["time,power (W)", *rows]).encode())
    look = owner_client.post(reverse("energy:run-log", args=[run.pk]), {"log_file": file})["Location"]
    assert owner_client.post(f"{look}read/", {}).status_code == 302
    run.refresh_from_db()
    assert run.readings.count() < 20_000
    true_wh = sum((1180 + n % 3 if n % 900 < 300 else 1.2) for n in range(24_000)) / 3600
    assert run.summary["energy_wh"] == pytest.approx(true_wh, rel=0.001)
    assert run.summary["coverage"]["interval_s"] == 1
    assert not {"rare_watts", "coarse_log", "hole"} & {flag["code"] for flag in run.flags}


def test_a_long_file_shows_its_energy_when_it_is_asked_for_and_asks_what_only_its_end_tells(
    owner_client, send, run, noon, monkeypatch
):
    monkeypatch.setattr(log_files, "MOST_LOOKED_BYTES", 1000)
    look = send(csv(noon))
    assert "350.0 Wh" not in owner_client.get(look).content.decode()
    whole = owner_client.post(look, {"do": "whole"})
    assert (whole.status_code, "350.0 Wh" in whole.content.decode()) == (200, True)
    first, second = (csv(noon, seconds=60_000, watts=watts, every_s=4).decode() for watts in (700, 70))
    look = send(f"Hob\n{first}\nFridge\n{second}\n".encode())
    back = owner_client.get(f"{look}read/")
    assert back.status_code == 302
    assert "fridge (1,167 Wh)" in owner_client.get(back["Location"]).content.decode()
    owner_client.post(back["Location"], {"do": "look", "device": "hob"})
    assert "Only the rows of “hob” are read." in owner_client.get(look).content.decode()
