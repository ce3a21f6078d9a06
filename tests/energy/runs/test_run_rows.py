"""One writer of a run's rows: what one hand has entered stays, whatever another one does with what it had loaded before."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime, timedelta
from uuid import UUID, uuid4

import pytest

from energy.meters.operations import files
from energy.models import Run
from energy.runs.domain.desk import Press
from energy.runs.domain.log_columns import LogColumns
from energy.runs.domain.samples import Sample
from energy.runs.operations import marking
from energy.runs.operations.desk import keep_press, take_back
from energy.runs.operations.desk_forms import press_desk
from energy.runs.operations.recording import correct_reading, edit_run
from energy.runs.operations.run_rows import Gone
from energy.runs.operations.typed import RunDetails, StageStart
from energy.runs.queries.presses import presses_that_stand
from tests.conftest import NOON


def at_minute(minute: float) -> datetime:
    return NOON + timedelta(minutes=minute)


def loaded(run: Run) -> Run:
    return Run.objects.get(pk=run.pk)


def pauses(run: Run) -> list[list[float | None]]:
    """The pauses in minutes from noon."""
    return [
        [instant and (datetime.fromisoformat(instant) - NOON).total_seconds() / 60 for instant in pause]
        for pause in loaded(run).pauses
    ]


def details_of(run: Run, **changed: object) -> RunDetails:
    names = (
        "revision",
        "appliance",
        "source",
        "meter",
        "started_at",
        "servings",
        "ambient_c",
        "food_start_c",
        "altitude_m",
        "note",
    )
    return RunDetails(**{name: getattr(run, name) for name in names} | changed)


@pytest.fixture
def press(owner):
    def keep(run: Run, kind: str, minute: float, key: UUID | None = None, **said: object) -> UUID:
        key = key or uuid4()
        assert keep_press(run=run, press=Press(key, kind, at_minute(minute), said), by=owner, at=at_minute(minute)) == "kept"
        return key

    return keep


class TestWhatWasLost:
    """Three ways in which something that a cook had entered was lost."""

    def test_a_pause_that_the_phone_sends_while_a_form_is_open_stays(self, record, press):
        run = record(running=True)
        open_in_a_form = loaded(run)
        press(loaded(run), "pause", 12)
        edit_run(run=open_in_a_form, details=details_of(open_in_a_form, note="lid off"), at=NOON)
        assert pauses(run) == [[12, None]]
        assert loaded(run).note == "lid off"

    def test_pauses_move_with_a_run_that_moves_to_its_file(self, record, press, owner):
        run = record()
        press(loaded(run), "pause", 10)
        press(loaded(run), "resume", 20)
        before = loaded(run).summary["cooking_s"]
        nan = math.nan
        later = LogColumns([0.0, 1860.0], [0.0, 213.0], [nan, nan], [nan, nan], start=at_minute(180))
        facts = files.FileFacts("meter.csv", "0" * 64, {}, ())
        file = files.load_file(run=loaded(run), readings=later, facts=facts, placing="move", by=owner, at=NOON).file
        assert pauses(run) == [[190, 200]]
        assert loaded(run).summary["cooking_s"] == before
        files.unload_file(file=file)
        assert pauses(run) == [[10, 20]]

    def test_a_press_after_the_start_was_moved_leaves_earlier_pauses_alone(self, record, press):
        run = record(running=True)
        press(loaded(run), "pause", 12)
        press(loaded(run), "resume", 22)
        edit_run(run=loaded(run), details=details_of(run, started_at=at_minute(-60)), at=NOON)
        press(loaded(run), "pause", 30)
        assert pauses(run) == [[-48, -38], [30, None]]


class TestPressesFollowForms:
    def test_a_corrected_reading_is_corrected_at_the_desk(self, record, press):
        run = record(running=True)
        key = press(run, "reading", 32, energy_wh=220.0)
        correct_reading(reading=run.readings.get(pk=key), now=Sample(33 * 60, 222, note="read again"))
        stands = next(one for one in presses_that_stand(run) if one.id == key)
        assert (stands.at, stands.said["energy_wh"], stands.said["note"]) == (at_minute(33), 222, "read again")

    def test_a_corrected_reading_that_comes_once_more_is_known_and_stays_corrected(self, record, press, owner):
        run = record(running=True)
        key = press(run, "reading", 32, energy_wh=220.0)
        correct_reading(reading=run.readings.get(pk=key), now=Sample(33 * 60, 222))
        again = Press(key, "reading", at_minute(32), {"energy_wh": 220.0})
        assert keep_press(run=run, press=again, by=owner, at=NOON) == "known"
        assert run.readings.get(pk=key).energy_wh == 222

    def test_a_form_without_script_sent_again_after_the_run_was_moved_changes_nothing(self, record, owner):
        run = record(running=True)
        pressed = Press(uuid4(), "reading", at_minute(32), {"energy_wh": 220.0})
        press_desk(run=run, press=pressed, by=owner, at=at_minute(32))
        edit_run(run=run, details=details_of(run, started_at=at_minute(-60)), at=NOON)
        press_desk(run=run, press=replace(pressed, at=at_minute(33)), by=owner, at=at_minute(33))
        assert run.readings.get(pk=pressed.id).at == at_minute(-28)

    def test_a_reading_that_was_taken_back_meanwhile_is_not_written_again(self, record, press, owner):
        run = record(running=True)
        key = press(run, "reading", 32, energy_wh=220.0)
        open_in_a_form = run.readings.get(pk=key)
        take_back(run=loaded(run), key=key, by=owner, at=NOON)
        with pytest.raises(Gone):
            correct_reading(reading=open_in_a_form, now=Sample(33 * 60, 222))
        assert not run.readings.filter(pk=key).exists()

    def test_the_end_that_a_form_set_is_there_again_when_a_finish_is_taken_back(self, record, press, owner):
        run = record()
        ended_at = run.ended_at
        key = press(run, "finish", 45)
        assert loaded(run).ended_at == at_minute(45)
        take_back(run=loaded(run), key=key, by=owner, at=NOON)
        assert loaded(run).ended_at == ended_at

    def test_stages_from_a_press_that_a_form_takes_out_come_back_with_its_undo(self, record, press):
        run = record(running=True)
        key = press(run, "stage", 40, stage="rest")
        before = marking.mark_run(run=run, begins_s=0, ends_s=0, stages=[StageStart(0, "brown")], at=NOON)
        assert [stage.kind for stage in run.stages.all()] == ["brown"]
        assert key not in {one.id for one in presses_that_stand(run)}
        marking.unmark_run(run=loaded(run), before=before, at=NOON)
        assert run.stages.get(event=key).starts_at == at_minute(40)
