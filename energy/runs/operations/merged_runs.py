"""A run out of an archive that is here already: what the archive has beyond it is added, press by press and reading by reading.

Two archives of one cook may come in any order, the earlier one last: what is here is never undone. A press that was taken back in
either is taken back; the later one of two ends stands; columns that are empty here are filled in.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from energy.documents import RunDocument
from energy.models import DeskEvent, Moment, Reading, Run, SentReading
from energy.runs.domain.desk import project
from energy.runs.operations.run_rows import (
    HeldRun,
    bring_moments,
    bring_presses,
    bring_readings,
    bring_stages,
    hold_run,
    later_end,
    pressing,
)
from energy.runs.operations.unpacked_runs import (
    event_rows,
    file_rows,
    moment_rows,
    pauses_of,
    reading_rows,
    sent_rows,
    stage_rows,
)
from energy.runs.queries.presses import press_of_event, presses_that_stand
from kitchen.archivists import Desk
from kitchen.models import Revision

_AT_ONCE = 500
_FILLED_IN = ("ambient_c", "food_start_c", "note", "portions_served", "portions_left", "portions_thrown")
_SAID_ONCE = ("started_at", "servings", "altitude_m")


def run_here(packed: RunDocument, revision: Revision, gear: Mapping[str, Any]) -> Run | None:
    """Return the run here that an archive means: of this revision, and begun then with this meter or sharing a press."""
    runs = Run.objects.filter(revision=revision)
    same = runs.filter(started_at=packed.started_at, meter=gear["meter"]).first()
    names = [UUID(press.id) for press in packed.presses[:_AT_ONCE] if _is_uuid(press.id)]
    return same or runs.filter(events__in=names).first()


def _is_uuid(name: str) -> bool:
    try:
        UUID(name)
    except ValueError:
        return False
    return True


def merge_run(run: Run, packed: RunDocument, desk: Desk, place: str) -> None:
    """Add to a run what an archive has beyond it, and count what was added, is here, and cannot be taken."""
    with hold_run(run) as held:
        before = desk.account.added.total()
        with pressing(held):
            _merge_presses(held, packed, desk, place)
        _merge_files_and_readings(held, packed, desk, place)
        _merge_moments(held, packed, desk, place)
        _merge_sent(held, packed, desk, place)
        _merge_stages(held, packed, desk, place)
        _merge_columns(held, packed, desk, place)
        if desk.account.added.total() > before:
            held.touch()


def _merge_presses(held: HeldRun, packed: RunDocument, desk: Desk, place: str) -> None:
    here = {event.pk: event for event in held.run.events.all()}
    new, learned = [], []
    for row in event_rows(held.run, packed.presses, desk, place):
        known = here.get(row.pk)
        if known is None:
            new.append(row)
        elif _learned(known, row):
            learned.append(known)
            desk.account.added["presses"] += 1
        else:
            desk.account.same["presses"] += 1
    free = _not_elsewhere(DeskEvent, new, desk, "presses")
    bring_presses(free, learned)
    desk.account.added["presses"] += len(free)


def _learned(known: DeskEvent, packed: DeskEvent) -> bool:
    """Let a press that is here take on what the archive knows of it beyond that; return whether there was anything."""
    learned = False
    if not known.kind and packed.kind:
        for name in ("kind", "at", "said", "skew_s", "received_at"):
            setattr(known, name, getattr(packed, name))
        learned = True
    if packed.withdrawn_at is not None and known.withdrawn_at is None:
        known.withdrawn_at, learned = packed.withdrawn_at, True
    if packed.amended and not known.amended:
        known.amended, known.at, learned = packed.amended, packed.at, True
    return learned


def _not_elsewhere(model: Any, rows: list[Any], desk: Desk, kind: str) -> list[Any]:
    """Return the rows whose name no other run has; the others cannot be taken."""
    taken: set[UUID] = set()
    for start in range(0, len(rows), _AT_ONCE):
        names = [row.pk for row in rows[start : start + _AT_ONCE]]
        taken |= set(model.objects.filter(pk__in=names).values_list("pk", flat=True))
    desk.account.left[kind] += len(taken)
    return [row for row in rows if row.pk not in taken]


def _merge_files_and_readings(held: HeldRun, packed: RunDocument, desk: Desk, place: str) -> None:
    run = held.run
    here = {(file.digest, file.loaded_at): file for file in run.files.all()}
    files = [here.get((row.digest, row.loaded_at), row) for row in file_rows(run, packed.files, desk, place)]
    for file in files:
        if file.pk is None:
            file.save(force_insert=True)
            desk.account.added["files"] += 1
    pressed = {str(name) for name in run.events.values_list("pk", flat=True)}
    known = {str(name) for name in run.readings.values_list("pk", flat=True)}
    documents = [one for one in packed.readings if one.id not in known and one.id not in pressed]
    desk.account.same["readings"] += len(packed.readings) - len(documents)
    moments = set(run.readings.filter(origin="typed").values_list("at", *_SHOWN)) if documents else set()
    rows = [row for row in reading_rows(run, documents, files, place) if not _is_typed_again(row, moments, documents)]
    free = _not_elsewhere(Reading, rows, desk, "readings")
    bring_readings(held, free)
    desk.account.added["readings"] += len(free)


_SHOWN = ("energy_wh", "power_w", "charge_pct")


def _is_typed_again(row: Reading, moments: set[tuple[Any, ...]], documents: list[Any]) -> bool:
    """Whether a reading without a name of its own is here: archives of version 0.1.0 gave readings none."""
    nameless = any(one.id is None for one in documents)
    return nameless and (row.at, *(getattr(row, name) for name in _SHOWN)) in moments


def _merge_moments(held: HeldRun, packed: RunDocument, desk: Desk, place: str) -> None:
    run = held.run
    here = {str(moment.pk): moment for moment in run.moments.all()}
    gone = {str(name) for name in run.events.exclude(withdrawn_at=None).values_list("pk", flat=True)}
    rows = moment_rows(run, packed.moments, place)
    shown = [(here.get(one.id or ""), row.photo) for one, row in zip(packed.moments, rows, strict=True)]
    photos = [(known.pk, photo) for known, photo in shown if known is not None and known.photo_id is None and photo is not None]
    new = [row for one, row in zip(packed.moments, rows, strict=True) if (one.id or "") not in here and one.id not in gone]
    free = _not_elsewhere(Moment, new, desk, "notes")
    bring_moments(free, photos)
    desk.account.added["notes"] += len(free)


def _merge_sent(held: HeldRun, packed: RunDocument, desk: Desk, place: str) -> None:
    """Add what the meter's device sent; each moment of a meter is kept once."""
    rows = list(sent_rows(held.run, packed.sent, place))
    there = SentReading.objects.filter(meter=held.run.meter)
    before = there.count()
    SentReading.objects.bulk_create(rows, batch_size=_AT_ONCE, ignore_conflicts=True)
    new = there.count() - before
    desk.account.added["device readings"] += new
    desk.account.same["device readings"] += len(rows) - new


def _merge_stages(held: HeldRun, packed: RunDocument, desk: Desk, place: str) -> None:
    """Add the stages that no press began where none is here; two ways to cut one cook are not mixed."""
    pressed = {str(name) for name in held.run.events.values_list("pk", flat=True)}
    theirs = [row for row in stage_rows(held.run, packed.stages, place) if str(row.event) not in pressed]
    ours = [stage for stage in held.run.stages.all() if str(stage.event) not in pressed]
    says = [{(stage.starts_at, stage.kind, stage.label) for stage in stages} for stages in (ours, theirs)]
    if says[0] <= says[1]:
        new = [row for row in theirs if (row.starts_at, row.kind, row.label) not in says[0]]
        bring_stages(held, new)
        desk.account.added["stages"] += len(new)
    elif not says[1] <= says[0]:
        desk.account.left["stages"] += len(says[1] - says[0])
        _tell_other(held.run, "stages", desk)


def _merge_columns(held: HeldRun, packed: RunDocument, desk: Desk, place: str) -> None:
    """Fill in what is empty here, take the later end and the later verdict, and tell what is otherwise."""
    run = held.run
    for name in _FILLED_IN:
        if getattr(run, name) in (None, "") and getattr(packed, name) not in (None, ""):
            setattr(run, name, getattr(packed, name))
            desk.account.added["details of runs"] += 1
    for name in _SAID_ONCE:
        if getattr(run, name) != getattr(packed, name):
            _tell_other(run, "start" if name == "started_at" else name.removesuffix("_m"), desk)
    if packed.verdict_at is not None and (run.verdict_at is None or run.verdict_at < packed.verdict_at):
        run.verdict, run.verdict_reason, run.verdict_at = packed.verdict, packed.verdict_reason, packed.verdict_at
        desk.account.added["verdicts"] += 1
    _merge_pauses(run, packed, place)
    _merge_end(run, packed)


def _merge_pauses(run: Run, packed: RunDocument, place: str) -> None:
    """Add the pauses that no press of either made."""
    ours = project(presses_that_stand(run))
    followed = {began.isoformat() for began, _ in ours.pauses}
    pressed = {event.at.isoformat() for event in run.events.filter(kind="pause") if event.at is not None}
    known = {str(pause[0]) for pause in run.pauses} | followed | pressed
    new = [pause for pause in pauses_of(packed, place) if str(pause[0]) not in known]
    if new:
        run.pauses = sorted([*run.pauses, *new], key=lambda pause: datetime.fromisoformat(str(pause[0])))


def _merge_end(run: Run, packed: RunDocument) -> None:
    finished = project(press_of_event(event) for event in run.events.filter(withdrawn_at=None, kind="finish")).ended_at
    theirs = packed.typed_end
    if theirs is None and not any(press.kind == "finish" for press in packed.presses):
        theirs = packed.ended_at
    ends = [end for end in (run.typed_end, theirs) if end is not None]
    run.typed_end = max(ends) if ends else None
    run.ended_at = later_end(run, finished)


def _tell_other(run: Run, what: str, desk: Desk) -> None:
    desk.account.said.append(
        f"The {what} of the run of {run.started_at:%d %B %Y, %H:%M} UTC are otherwise here than in the archive; yours stay."
    )
