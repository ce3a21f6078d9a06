"""Archives of a cook that goes on: packed at any moments and unpacked in any order, they come to what the source is."""

from __future__ import annotations

from datetime import timedelta
from uuid import UUID

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from energy.models import DeskEvent, LoadedFile, Meter, Reading, Run, SentReading
from energy.runs.domain.desk import Press
from energy.runs.operations.desk import keep_press, take_back
from energy.runs.operations.summing import refresh_summary
from tests.conftest import NOON
from tests.kitchen.packed import documents, pack, unpack

pytestmark = pytest.mark.django_db
SAID = {"reading": {"energy_wh": 150.5}, "stage": {"stage": "hold"}, "moment": {"text": "lid off"}}
KINDS = ("reading", "stage", "moment", "pause", "resume", "finish", "back", "before", "sent", "file")


def runs_of(packed):
    """Return what an archive says of runs; the order of rows of one moment says nothing."""
    (held,) = [document for name, document in documents(packed).items() if name.startswith("apps/energy/")]
    for run in held["runs"]:
        for name in ("presses", "readings", "moments", "files"):
            run[name].sort(key=lambda row: str(row.get("id") or row.get("digest")))
    return held


def sweep():
    Run.objects.all().delete()
    SentReading.objects.all().delete()


def press(run, owner, number, kind):
    """Let the cook go on by one thing: a press, one taken back, one taken back before it came, a device's reading, a file."""
    at = NOON + timedelta(minutes=2 * number, seconds=7)
    key = UUID(int=1000 + number)
    if kind == "back":
        known = DeskEvent.objects.filter(run=run, withdrawn_at=None).order_by("pk").first()
        take_back(run=run, key=known.pk if known else key, by=owner, at=at)
    elif kind == "before":
        take_back(run=run, key=key, by=owner, at=at)
    elif kind == "sent":
        SentReading.objects.create(meter=run.meter, at=at, power_w=640.0 + number)
    elif kind == "file":
        file = LoadedFile.objects.create(run=run, name=f"{number}.csv", digest=f"{number:064x}", rows=1, loaded_at=at)
        Reading.objects.create(id=key, run=run, at=at, power_w=650, origin="file", loaded=file)
    else:
        keep_press(run=run, press=Press(key, kind, at, {"kind": kind, **SAID.get(kind, {})}), by=owner, at=at)


@settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(
    steps=st.lists(st.tuples(st.sampled_from(KINDS), st.booleans()), min_size=1, max_size=12),
    order=st.randoms(use_true_random=False),
)
def test_packed_at_any_moments_and_unpacked_in_any_order(record, owner, meter, steps, order):
    sweep()
    run = record(running=True)
    archives = [pack(NOON)]
    for number, (kind, packs) in enumerate(steps, start=1):
        press(run, owner, number, kind)
        archives += [pack(NOON)] if packs else []
    run.refresh_from_db()
    refresh_summary(run=run)
    archives.append(pack(NOON))
    wanted, summary = runs_of(archives[-1]), Run.objects.get().summary
    order.shuffle(archives)
    sweep()
    for archive in archives:
        looked = unpack(archive, owner, NOON, check=True)
        account = unpack(archive, owner, NOON)
        assert (looked.added, looked.same, looked.left) == (account.added, account.same, account.left)
        assert not +account.left
    assert runs_of(pack(NOON)) == wanted
    refresh_summary(run=Run.objects.get())
    assert Run.objects.get().summary == summary
    assert all(unpack(archive, owner, NOON).nothing_new for archive in archives)


def test_the_rest_of_a_cook_that_was_under_way_is_added_and_counted(record, owner, noon):
    run = record(running=True)
    early = pack(noon)
    for number, kind in enumerate(("reading", "reading", "sent", "moment", "finish"), start=1):
        press(run, owner, number, kind)
    late = pack(noon)
    sweep()
    unpack(early, owner, noon)
    account = unpack(late, owner, noon)
    assert {kind: account.added[kind] for kind in ("runs", "readings", "presses", "device readings", "notes")} == {
        "runs": 0,
        "readings": 0,  # those that were pressed follow from their presses
        "presses": 4,
        "device readings": 1,
        "notes": 0,
    }
    assert account.same["runs"] == 1
    assert Run.objects.get().readings.filter(origin="desk").count() == 2
    assert Run.objects.get().ended_at == noon + timedelta(minutes=10, seconds=7)


def test_a_run_whose_start_was_moved_is_the_same_run(record, owner, noon):
    run = record(running=True)
    press(run, owner, 1, "reading")
    early = pack(noon)
    Run.objects.filter(pk=run.pk).update(started_at=noon - timedelta(minutes=5))
    account = unpack(early, owner, noon)
    assert Run.objects.count() == 1
    assert account.added["runs"] == 0
    assert any("start of the run" in sentence for sentence in account.said)


def test_presses_that_another_run_has_cannot_be_taken_and_are_counted(record, owner, noon):
    run = record(running=True)
    early = pack(noon)
    press(run, owner, 1, "reading")
    late = pack(noon)
    sweep()
    unpack(early, owner, noon)
    other = record(running=True, later=1)
    press(other, owner, 1, "reading")
    account = unpack(late, owner, noon)
    assert account.left["presses"] == 1


def test_device_readings_outside_runs_are_left_out_with_a_word(record, owner, noon, meter, tmp_path, capsys):
    from django.core.management import call_command

    record()
    SentReading.objects.create(meter=meter, at=noon - timedelta(days=3), power_w=1)
    SentReading.objects.create(meter=meter, at=noon + timedelta(minutes=3), power_w=2)
    SentReading.objects.create(meter=Meter.objects.create(name="Other"), at=noon + timedelta(minutes=3), power_w=3)
    call_command("pack", str(tmp_path / "library.zip"))
    assert "Not in it: 2 device readings outside runs. A backup keeps everything: manage.py backup" in capsys.readouterr().out
    account = unpack(pack(noon), owner, noon, check=True)
    assert "The archive was packed without 2 device readings outside runs." in account.said
