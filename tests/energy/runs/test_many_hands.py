"""Phone, forms, sheet, marks, files and devices change one run in any order, each with what it had loaded before."""

from __future__ import annotations

import copy
import math
from datetime import UTC, datetime, timedelta
from uuid import UUID, uuid4, uuid5

from django.db import transaction
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule, run_state_machine_as_test

from energy.meters.domain.device_lines import SentLine
from energy.meters.operations import files
from energy.meters.operations.device_readings import keep_sent
from energy.meters.operations.devices import make_device
from energy.models import Meter, Run, SentReading
from energy.runs.domain.desk import Press, project
from energy.runs.domain.log_columns import LogColumns
from energy.runs.domain.samples import Sample
from energy.runs.operations import marking, sheet
from energy.runs.operations.desk import keep_press, take_back
from energy.runs.operations.recording import (
    add_reading,
    correct_reading,
    edit_run,
    finish_run,
    mark_next_stage,
    mark_stages,
    put_back_reading,
    remove_reading,
)
from energy.runs.operations.typed import NewNote, StageStart, TypedRows
from energy.runs.queries.presses import presses_that_stand
from tests.conftest import NOON
from tests.energy.runs.test_run_rows import at_minute, details_of, loaded

KINDS = st.sampled_from(["reading", "reading", "stage", "moment", "pause", "resume", "finish"])
STAGES = st.sampled_from(["brown", "come_up", "hold", "rest"])
MINUTES = st.integers(0, 90)
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
FACTS = files.FileFacts("meter.csv", "0" * 64, {}, ())


class RunOfManyHands(RuleBasedStateMachine):
    """A run that phone, forms, sheet, marks, a file and a device change, each through an object that it loaded at some time.

    ``readings`` and ``notes`` are what was acknowledged and not taken back: name -> [instant, figures] and name -> instant.
    """

    make_run: object = None
    owner: object = None

    def __init__(self) -> None:
        super().__init__()
        self.inner = transaction.atomic()
        self.inner.__enter__()
        self.pressed: list[Press] = []
        self.readings: dict[UUID, list[object]] = {}
        self.notes: dict[UUID, datetime] = {}
        self.of_file: dict[int, set[UUID]] = {}
        self.removed: list[dict[str, object]] = []
        self.added: list[dict[str, object]] = []
        self.marks: list[dict[str, object]] = []
        self.sent = 0

    def teardown(self) -> None:
        try:
            self.nothing_changes_when_all_comes_again()
        finally:
            transaction.set_rollback(True)
            self.inner.__exit__(None, None, None)

    @initialize(running=st.booleans())
    def begin(self, running: bool) -> None:
        self.run = self.make_run(running=running)
        meter, cook = Meter.objects.get(), self.run.operator
        self.device, _ = make_device(meter=meter, name="plug by the hob", by=cook, at=self.run.recorded_at)
        self.readings = {row.pk: [row.at, self.figures(row)] for row in self.run.readings.all()}
        self.loads = [loaded(self.run)]

    # What each hand holds: the run as it was loaded at some time.

    @rule()
    def load(self) -> None:
        self.loads.append(loaded(self.run))

    def hand(self, which: int) -> Run:
        return copy.copy(self.loads[which % len(self.loads)])

    @staticmethod
    def figures(row: object) -> tuple[object, ...]:
        return (row.energy_wh, row.power_w, row.charge_pct)

    def now(self) -> Run:
        return loaded(self.run)

    def shift(self, by: timedelta) -> None:
        for held in self.readings.values():
            held[0] += by
        self.notes = {key: at + by for key, at in self.notes.items()}

    # The phone.

    @rule(kind=KINDS, minute=MINUTES, stage=STAGES, wh=st.integers(0, 900), which=st.integers(0, 9))
    def press(self, kind: str, minute: int, stage: str, wh: int, which: int) -> None:
        said = {"reading": {"energy_wh": float(wh)}, "stage": {"stage": stage}, "moment": {"text": "windy"}}.get(kind, {})
        self.keep(Press(uuid4(), kind, at_minute(minute), said), which)

    def keep(self, press: Press, which: int) -> None:
        assert keep_press(run=self.hand(which), press=press, by=self.owner, at=NOON) == "kept"
        self.pressed.append(press)
        if press.replaces:
            self.forget(press.replaces)
        if press.kind == "reading":
            self.readings[press.id] = [press.at, (press.said["energy_wh"], None, None)]
        if press.kind == "moment":
            self.notes[press.id] = press.at

    def forget(self, key: UUID) -> None:
        self.readings.pop(key, None)
        self.notes.pop(key, None)

    @precondition(lambda self: self.pressed)
    @rule(place=st.integers(0, 99), wh=st.integers(0, 900), minute=MINUTES, which=st.integers(0, 9))
    def press_instead(self, place: int, wh: int, minute: int, which: int) -> None:
        old = self.pressed[place % len(self.pressed)]
        said = {"energy_wh": float(wh), "replaces": str(old.id)}
        self.keep(Press(uuid4(), "reading", at_minute(minute), said, replaces=old.id), which)

    @precondition(lambda self: self.pressed)
    @rule(place=st.integers(0, 99), which=st.integers(0, 9))
    def undo_press(self, place: int, which: int) -> None:
        key = self.pressed[place % len(self.pressed)].id
        assert take_back(run=self.hand(which), key=key, by=self.owner, at=NOON) in ("withdrawn", "known")
        self.forget(key)

    @rule(minute=MINUTES, which=st.integers(0, 9))
    def undo_comes_first(self, minute: int, which: int) -> None:
        press = Press(uuid4(), "reading", at_minute(minute), {"energy_wh": 1.0})
        assert take_back(run=self.hand(which), key=press.id, by=self.owner, at=NOON) == "withdrawn"
        assert keep_press(run=self.hand(which), press=press, by=self.owner, at=NOON) == "withdrawn"
        self.pressed.append(press)

    @rule()
    def nothing_changes_when_all_comes_again(self) -> None:
        if not hasattr(self, "run"):
            return
        before = self.rows()
        for press in self.pressed:
            assert keep_press(run=self.now(), press=press, by=self.owner, at=NOON) in ("known", "withdrawn")
        assert self.rows() == before

    # Forms.

    @rule(minute=MINUTES, wh=st.integers(0, 900), which=st.integers(0, 9))
    def type_reading(self, minute: int, wh: int, which: int) -> None:
        key, run = uuid4(), self.hand(which)
        add_reading(run=run, reading=Sample(minute * 60, wh), key=key)
        self.readings[key] = [self.now().started_at + timedelta(minutes=minute), (wh, None, None)]

    @precondition(lambda self: self.readings)
    @rule(place=st.integers(0, 99), minute=MINUTES, watts=st.integers(0, 900))
    def correct(self, place: int, minute: int, watts: int) -> None:
        key = list(self.readings)[place % len(self.readings)]
        reading = self.run.readings.select_related("run").get(pk=key)
        correct_reading(reading=reading, now=Sample(minute * 60, None, watts))
        self.readings[key] = [self.now().started_at + timedelta(minutes=minute), (None, watts, None)]

    @precondition(lambda self: self.readings)
    @rule(place=st.integers(0, 99))
    def remove(self, place: int) -> None:
        key = list(self.readings)[place % len(self.readings)]
        reading = self.run.readings.select_related("run").get(pk=key)
        at_s = (reading.at - self.now().started_at).total_seconds()
        self.removed.append(remove_reading(reading=reading, at=NOON))
        assert self.removed[-1]["at_s"] == at_s
        del self.readings[key]
        for names in self.of_file.values():
            names.discard(key)

    @precondition(lambda self: self.removed)
    @rule(which=st.integers(0, 9))
    def put_back(self, which: int) -> None:
        removed = self.removed.pop()
        put_back_reading(run=self.hand(which), removed=removed)
        row = self.run.readings.get(pk=removed["id"])
        assert self.figures(row) == (removed["energy_wh"], removed["power_w"], removed["charge_pct"])
        self.readings[row.pk] = [row.at, self.figures(row)]

    @rule(minutes=st.integers(-120, 120), which=st.integers(0, 9), note=st.sampled_from(["", "windy"]))
    def edit(self, minutes: int, which: int, note: str) -> None:
        run, before = self.hand(which), self.now().started_at
        started_at = run.started_at + timedelta(minutes=minutes)
        edit_run(run=run, details=details_of(run, started_at=started_at, note=note), at=NOON)
        self.shift(started_at - before)

    @rule(starts=st.dictionaries(MINUTES, STAGES, min_size=1, max_size=4), which=st.integers(0, 9))
    def mark_stages(self, starts: dict[int, str], which: int) -> None:
        stages = [StageStart(minute * 60, kind) for minute, kind in starts.items()]
        mark_stages(run=self.hand(which), stages=stages, at=NOON)
        zero = self.now().started_at
        stands = {((stage.starts_at - zero).total_seconds() / 60, stage.kind) for stage in self.run.stages.all()}
        assert stands == set(starts.items())

    @rule(minute=MINUTES, kind=STAGES, which=st.integers(0, 9))
    def next_stage(self, minute: int, kind: str, which: int) -> None:
        mark_next_stage(run=self.hand(which), stage=StageStart(minute * 60, kind), at=NOON)

    @rule(minute=MINUTES, which=st.integers(0, 9))
    def finish(self, minute: int, which: int) -> None:
        finish_run(run=self.hand(which), ended_at=at_minute(minute))
        assert self.now().ended_at is not None

    # Marks, sheet, file, device.

    @rule(begins=st.integers(-5, 20), spans=st.integers(1, 60), moved=st.integers(0, 30), which=st.integers(0, 9))
    def mark(self, begins: int, spans: int, moved: int, which: int) -> None:
        run = self.now()
        stages = [
            StageStart((stage.starts_at - run.started_at).total_seconds() + moved, stage.kind, key=stage.pk)
            for stage in run.stages.all()
        ]
        before = marking.mark_run(
            run=self.hand(which), begins_s=begins * 60, ends_s=(begins + spans) * 60, stages=stages, at=NOON
        )
        self.marks.append(before)

    @precondition(lambda self: self.marks)
    @rule(which=st.integers(0, 9))
    def unmark(self, which: int) -> None:
        marking.unmark_run(run=self.hand(which), before=self.marks.pop(), at=NOON)

    @rule(minute=MINUTES, kind=STAGES, wh=st.integers(0, 900), which=st.integers(0, 9))
    def type_sheet(self, minute: int, kind: str, wh: int, which: int) -> None:
        rows = TypedRows([Sample(minute * 60, wh)], [StageStart(minute * 60, kind)], [NewNote(minute * 60, "lid off")])
        once = uuid4()
        self.added.append(sheet.add_rows(run=self.hand(which), rows=rows, once=once, at=NOON))
        assert sheet.add_rows(run=self.hand(which), rows=rows, once=once, at=NOON) is None
        at = self.now().started_at + timedelta(minutes=minute)
        self.readings[uuid5(once, "reading 0")] = [at, (wh, None, None)]
        self.notes[uuid5(once, "note 0")] = at

    @precondition(lambda self: self.added)
    @rule(which=st.integers(0, 9))
    def take_sheet_back(self, which: int) -> None:
        added = self.added.pop()
        sheet.take_rows_back(run=self.hand(which), added=added, at=NOON)
        for sort in ("reading", "note"):
            self.forget(uuid5(UUID(added["once"]), f"{sort} 0"))

    @rule(placing=st.sampled_from(["dates", "start", "move"]), minute=st.integers(-60, 60), which=st.integers(0, 9))
    def load_file(self, placing: str, minute: int, which: int) -> None:
        nan, before = [math.nan] * 3, self.now().started_at
        log = LogColumns([0.0, 601.0, 1202.0], [0.0, 90.5, 180.5], nan, nan, start=at_minute(minute))
        came = files.load_file(run=self.hand(which), readings=log, facts=FACTS, placing=placing, by=self.owner, at=NOON)
        self.shift(self.now().started_at - before)
        rows = self.run.readings.filter(loaded=came.file)
        assert len(rows) == came.fresh
        self.of_file[came.file.pk] = {row.pk for row in rows}
        self.readings |= {row.pk: [row.at, self.figures(row)] for row in rows}

    @precondition(lambda self: self.of_file)
    @rule()
    def unload_file(self) -> None:
        pk, names = self.of_file.popitem()
        before = self.now().started_at
        files.unload_file(file=self.run.files.select_related("run").get(pk=pk))
        for name in names:
            self.forget(name)
        self.shift(self.now().started_at - before)

    @rule(minute=MINUTES, wh=st.integers(0, 900))
    def device_sends(self, minute: int, wh: int) -> None:
        self.sent += 1
        moment = at_minute(minute) + timedelta(milliseconds=self.sent)
        line = SentLine(1, Sample((moment - EPOCH).total_seconds(), float(wh)))
        result = keep_sent(device=self.device, lines=[line], at=moment)
        assert result[0].status == "accepted"

    # What must be true at any time.

    def rows(self) -> tuple[object, ...]:
        run = self.now()
        return (
            sorted((row.pk, row.at, self.figures(row), row.origin) for row in run.readings.all()),
            [(row.starts_at, row.kind, row.label, row.event) for row in run.stages.all()],
            sorted((row.pk, row.at, row.text) for row in run.moments.all()),
            (run.pauses, run.started_at, run.ended_at, run.typed_end, run.note),
        )

    @invariant()
    def what_was_acknowledged_is_there(self) -> None:
        if not hasattr(self, "run"):
            return
        assert {row.pk: [row.at, self.figures(row)] for row in self.run.readings.all()} == self.readings
        assert dict(self.run.moments.values_list("pk", "at")) == self.notes
        assert SentReading.objects.count() == self.sent

    @invariant()
    def rows_are_what_presses_say(self) -> None:
        if not hasattr(self, "run"):
            return
        run, says = self.now(), project(presses_that_stand(self.run))
        pressed = {row.pk: row.at for row in run.readings.filter(origin="desk")}
        assert pressed == {key: one.at for key, one in says.rows.items() if one.kind == "reading"}
        stages = {row.event: (row.starts_at, row.kind) for row in run.stages.exclude(event=None)}
        assert stages == {key: (one.at, one.said["stage"]) for key, one in says.rows.items() if one.kind == "stage"}
        assert run.pauses == [[at and at.isoformat() for at in pause] for pause in says.pauses]
        ends = [at for at in (says.ended_at, run.typed_end) if at]
        assert run.ended_at == (max(*ends, run.started_at) if ends else None)
        assert [stage.position for stage in run.stages.all()] == list(range(run.stages.count()))
        assert [stage.starts_at for stage in run.stages.all()] == sorted(stage.starts_at for stage in run.stages.all())


def test_many_hands_lose_nothing(record, owner):
    RunOfManyHands.make_run, RunOfManyHands.owner = staticmethod(record), owner
    patient = settings(max_examples=20, stateful_step_count=25, deadline=None, suppress_health_check=list(HealthCheck))
    run_state_machine_as_test(RunOfManyHands, settings=patient)
