"""One reader for every door: what the form, the page, a long file and the command line make of every sample is the same."""

from __future__ import annotations

from io import StringIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import CommandError, call_command
from django.urls import reverse

from energy.meters.files.shapes.registry import READERS
from energy.meters.queries import log_files
from energy.models import LoadedFile, Run
from energy.runs.domain.log_columns import LONGEST_S
from energy.runs.forms.log import LogForm
from tests.energy.meters.files.samples import SAMPLES
from tests.energy.meters.files.samples_asked import ASKED, READ
from tests.energy.meters.files.samples_rows import ROWS
from tests.energy.meters.files.samples_wild import WILD

ALL = (*SAMPLES, *WILD, *ROWS, *READ, *(sample for sample, _, _ in ASKED))


def by_form(data):
    form = LogForm({"log_text": ""}, {"log_file": SimpleUploadedFile("x.csv", data)})
    if form.is_valid():
        return form.log.total_wh, ""
    return None, " ".join(error for errors in form.errors.values() for error in errors)


def by_paste(data):
    form = LogForm({"log_text": data.decode("utf-8", "replace")})
    return form.log.total_wh if form.is_valid() else None


def by_page(path):
    read = log_files.read(path, None)
    return (None, read.refusal) if read.log is None else (read.log.total_wh, "")


def by_command(path, **more):
    said = StringIO()
    try:
        call_command("import_run", path, stdout=said, look=True, **more)
    except CommandError as refused:
        return None, str(refused)
    return next(line for line in said.getvalue().splitlines() if line.startswith("Taken:")), ""


@pytest.mark.any_engine
@pytest.mark.django_db
@pytest.mark.parametrize("sample", ALL, ids=lambda sample: sample.name)
def test_every_door_reads_the_same(sample, tmp_path):
    path = tmp_path / "log.csv"
    path.write_bytes(sample.data)
    form_wh, form_refusal = by_form(sample.data)
    page_wh, page_refusal = by_page(path)
    taken, refusal = by_command(path)
    if page_wh is None:
        assert form_wh is taken is None
        assert page_refusal.split(".")[0] in form_refusal
        assert page_refusal.split(".")[0] in refusal
        return
    assert f"{page_wh:,.1f} Wh" in taken or "only its charge" in taken
    if f"longer than {LONGEST_S / 86400:.0f} days" in form_refusal:
        return
    assert form_wh == page_wh
    try:
        sample.data.decode("utf-8")
    except UnicodeDecodeError:
        return
    assert sample.data[:3] == b"\xef\xbb\xbf" or by_paste(sample.data) == page_wh


@pytest.mark.any_engine
@pytest.mark.django_db
@pytest.mark.parametrize("reader", READERS, ids=lambda reader: reader.name)
def test_each_shape_has_a_sample_that_its_own_reader_reads(reader):
    form_wh, refusal = by_form(reader.sample.encode())
    assert refusal == ""
    assert form_wh == pytest.approx(reader.sample_wh, rel=0.02)


GEAR = {"recipe": "lentil-pot", "appliance": "big pot", "source": "Van battery", "meter": "Plug meter"}
TYPED = "minutes;wh;stage\n0;0;brown\n10;105,5;come up\n21;213;\n"
SENT = "Zeit;Leistung [kW]\n" + "".join(f"14.10.2026 18:{n:02d}:00;1,2\n" for n in range(31))


@pytest.mark.parametrize("text", [TYPED, SENT])
def test_a_run_of_a_file_says_the_same_from_the_page_and_from_the_command_line(text, owner_client, details, tmp_path):
    path = tmp_path / "log.csv"
    path.write_text(text)
    call_command("import_run", path, stdout=StringIO(), **GEAR)
    by_line = Run.objects.latest("pk")
    slug = by_line.revision.recipe.slug
    data = {
        **{"revision": by_line.revision_id, "appliance": by_line.appliance_id, "source": by_line.source_id},
        **{"meter": by_line.meter_id, "day": "2026-10-14", "time": "18:00", "servings": "4", "log_text": text},
    }
    page = owner_client.get(reverse("energy:run-new", args=[slug]))
    assert page.status_code == 200
    answer = owner_client.post(reverse("energy:run-new", args=[slug]), data)
    assert answer.status_code == 302, answer.content.decode()[:3000]
    by_page_run = Run.objects.latest("pk")
    assert by_page_run.pk != by_line.pk
    assert by_page_run.summary["energy_wh"] == by_line.summary["energy_wh"]
    assert by_page_run.flags == by_line.flags
    assert [file.rows for file in LoadedFile.objects.all()] == [by_line.readings.count()] * 2
    assert LoadedFile.objects.first().came["held"] == LoadedFile.objects.last().came["held"]
