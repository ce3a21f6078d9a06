"""What a desk, a device and a meter's file left in a run goes round in an archive; a token never does."""

from __future__ import annotations

import io
import json
from datetime import timedelta
from uuid import UUID

import pytest
from PIL import Image

from energy.meters.operations.devices import make_device
from energy.models import DeviceToken, FileShape, LoadedFile, Reading, Run, SentReading
from energy.runs.domain.desk import Press
from energy.runs.operations.desk import keep_press, take_back
from energy.runs.operations.desk_photos import keep_photo
from energy.runs.operations.summing import refresh_summary
from kitchen.archivists import ArchiveRefused
from kitchen.models import Photo, Recipe, Revision
from tests.kitchen.packed import documents, pack, unpack, with_document

pytestmark = pytest.mark.django_db
PAUSE = UUID(int=5)


@pytest.fixture
def desk_run(record, owner, noon, meter, settings, tmp_path):
    """A cook with presses, one taken back, one taken back before it came, a picture, a file's readings and a device's."""
    settings.MEDIA_ROOT = tmp_path
    run = record(running=True)
    picture = io.BytesIO()
    Image.new("RGB", (64, 48), "tomato").save(picture, "JPEG")
    keep_photo(run=run, key=UUID(int=20), picture=picture.getvalue(), by=owner, at=noon)
    said = {"reading": {"energy_wh": 150}, "stage": {"stage": "hold"}, "moment": {"text": "lid off", "photo": str(UUID(int=20))}}
    for number, kind in enumerate(("reading", "stage", "moment", "pause", "pause", "resume", "finish"), start=1):
        moment = noon + timedelta(minutes=4 * number)
        keep_press(run=run, press=Press(UUID(int=number), kind, moment, {"kind": kind, **said.get(kind, {})}), by=owner, at=noon)
    for number in (5, 9):
        take_back(run=run, key=UUID(int=number), by=owner, at=noon)
    file = LoadedFile.objects.create(run=run, name="plug.csv", digest="e" * 64, shape={"delimiter": ";"}, rows=1, loaded_at=noon)
    Reading.objects.create(run=run, at=noon + timedelta(minutes=6), power_w=650, origin="file", loaded=file)
    SentReading.objects.create(meter=meter, at=noon + timedelta(minutes=7, microseconds=250), power_w=640)
    SentReading.objects.create(meter=meter, at=noon - timedelta(minutes=7), power_w=1)
    FileShape.objects.create(name="the plug in the shed", shape={"columns": ["t", "w"]}, made_at=noon)
    Run.objects.filter(pk=run.pk).update(
        once=UUID(int=77), verdict_at=noon, verdict="accepted", verdict_reason="as good as it gets"
    )
    run.refresh_from_db()
    refresh_summary(run=run)
    return run


def sweep():
    Run.objects.all().delete()
    SentReading.objects.all().delete()
    FileShape.objects.all().delete()


def runs_of(packed):
    return next(document for name, document in documents(packed).items() if name.startswith("apps/energy/"))


def test_all_of_it_goes_round(desk_run, owner, noon):
    before, packed = desk_run.summary, runs_of(pack(noon))
    held = packed["runs"][0]
    assert [len(held[name]) for name in ("presses", "files", "moments", "sent", "pauses")] == [9, 1, 1, 1, 1]
    archive = pack(noon)
    sweep()
    account = unpack(archive, owner, noon)
    assert account.added["runs"] == 1
    again = Run.objects.get()
    assert (again.once, again.verdict_at, again.summary) == (UUID(int=77), noon, before)
    assert again.moments.get().photo == Photo.objects.get()
    assert again.readings.get(origin="file").loaded == again.files.get()
    assert again.events.get(pk=PAUSE).withdrawn_at == noon
    assert again.stages.get(kind="hold").event == UUID(int=2)
    assert SentReading.objects.get().at == noon + timedelta(minutes=7, microseconds=250)
    assert runs_of(pack(noon)) == packed
    assert FileShape.objects.get().shape == {"columns": ["t", "w"]}
    assert unpack(archive, owner, noon).nothing_new


def test_a_phone_may_send_what_it_sent_before(desk_run, owner, noon):
    archive = pack(noon)
    sweep()
    unpack(archive, owner, noon)
    run = Run.objects.get()
    count = run.readings.count()
    press = Press(UUID(int=1), "reading", noon + timedelta(minutes=4), {"kind": "reading", "energy_wh": 150})
    assert keep_press(run=run, press=press, by=owner, at=noon) == "known"
    assert take_back(run=run, key=UUID(int=1), by=owner, at=noon) == "withdrawn"
    assert run.readings.count() == count - 1


def test_uuids_that_are_taken_here_give_way(desk_run, owner, noon):
    archive = pack(noon)
    elsewhere = Revision.objects.create(recipe=desk_run.revision.recipe, number=9, created_at=noon)
    Run.objects.update(revision=elsewhere)
    count = desk_run.readings.count()
    unpack(archive, owner, noon)
    assert Run.objects.count() == 2
    fresh = Run.objects.exclude(pk=desk_run.pk).get()
    assert (fresh.once, fresh.events.count(), fresh.readings.count()) == (None, 0, count)
    assert desk_run.readings.count() == count


def test_a_token_is_never_packed(desk_run, meter, owner, noon):
    _, token = make_device(meter=meter, name="plug by the hob", by=owner, at=noon)
    text = json.dumps(documents(pack(noon)))
    assert token not in text
    assert DeviceToken.objects.get().digest not in text
    assert "plug by the hob" not in text


def test_an_archive_from_before_desks_still_unpacks(run, owner, noon):
    new = {"verdict_at", "once", "pauses", "moments", "presses", "files", "sent"}

    def older(document):
        document["schema"] = 1
        for held in document["runs"]:
            for name in new:
                del held[name]
            for row in (*held["stages"], *held["readings"]):
                for name in ("event", "id", "loaded"):
                    row.pop(name, None)

    packed = pack(noon)
    name = next(name for name in documents(packed) if name.startswith("apps/energy/"))
    before = run.summary
    sweep()
    unpack(with_document(packed, name, older), owner, noon)
    assert Run.objects.get().summary == before


def spoil(place, **values):
    return lambda document: document["runs"][0][place][0].update(values)


@pytest.mark.parametrize(
    "change",
    [
        spoil("presses", id="no uuid"),
        spoil("presses", kind="stage", said={}),
        spoil("presses", kind="dance"),
        spoil("presses", said={"energy_wh": []}),
        spoil("presses", said={"energy_wh": "many"}),
        spoil("readings", loaded=7),
        spoil("readings", id=str(UUID(int=1))),
        lambda document: document["runs"][0].update(pauses=[["2026-10-14T12:00:00"]]),
        lambda document: document["runs"][0].update(pauses=[["2026-10-14T12:00:00+00:00", "yesterday"]]),
        lambda document: document["runs"][0].update(once="me"),
    ],
)
def test_what_makes_no_sense_is_refused_whole(desk_run, owner, noon, change):
    packed = pack(noon)
    name = next(name for name in documents(packed) if name.startswith("apps/energy/"))
    sweep()
    with pytest.raises(ArchiveRefused):
        unpack(with_document(packed, name, change), owner, noon)
    assert not Run.objects.exists()
    assert Recipe.objects.count() == 1
