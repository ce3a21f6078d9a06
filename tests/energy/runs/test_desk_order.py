"""Presses in any order, any prefix sent again, any press doubled: the same rows and the same figures come of them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from uuid import UUID

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from energy.models import Run
from energy.runs.domain.desk import Press
from energy.runs.operations.desk import SaidElse, keep_press, take_back

SAID = {
    "stage": [{"stage": "hold"}, {"stage": "rest", "label": "lid on"}],
    "moment": [{"text": "lid off"}],
    "pause": [{}],
    "resume": [{}],
    "finish": [{}],
}


@dataclass(frozen=True)
class Message:
    """One thing that a phone sends: a press, or (``kind`` empty) that one is taken back."""

    number: int
    kind: str
    at_s: int = 0
    wh: int = 0
    choice: int = 0
    replaces: int | None = None


@st.composite
def _messages(draw):
    """Return what a phone may send in the order of time: presses, some of which correct earlier ones, and takings back."""
    count = draw(st.integers(1, 8))
    sent = []
    for number in range(count):
        kind = draw(st.sampled_from(["reading", "reading", "stage", "moment", "pause", "resume", "finish"]))
        replaces = draw(st.one_of(st.none(), st.integers(0, number - 1))) if number else None
        sent.append(
            Message(number, kind, draw(st.integers(0, 3600)), draw(st.integers(0, 500)), draw(st.integers(0, 1)), replaces)
        )
    taken = draw(st.lists(st.integers(0, count - 1), max_size=3))
    return [*sent, *(Message(number, "") for number in taken)]


def send(run, message, by, at):
    key = UUID(int=1000 + message.number)
    if not message.kind:
        return take_back(run=run, key=key, by=by, at=at)
    said = (
        {"energy_wh": message.wh} if message.kind == "reading" else SAID[message.kind][message.choice % len(SAID[message.kind])]
    )
    replaces = None if message.replaces is None else UUID(int=1000 + message.replaces)
    moment = run.started_at + timedelta(seconds=message.at_s)
    return keep_press(run=run, press=Press(key, message.kind, moment, dict(said), None, replaces), by=by, at=at)


def came_of(record, messages, by, at):
    """Return all that a fresh cook holds after these messages; the cook is gone then."""
    run = record(((0, 0), (40, 300)), running=True)
    for message in messages:
        send(run, message, by, at)
    run = Run.objects.get(pk=run.pk)
    held = {
        "readings": list(run.readings.order_by("at", "energy_wh").values_list("at", "energy_wh", "origin")),
        "stages": list(run.stages.values_list("position", "starts_at", "kind", "label", "attended", "event")),
        "moments": list(run.moments.order_by("pk").values_list("pk", "at", "text")),
        "events": [
            (event.pk, event.kind, event.at, event.said, event.withdrawn_at is None) for event in run.events.order_by("pk")
        ],
        "run": (run.pauses, run.ended_at, run.summary, run.flags),
    }
    run.delete()
    return held


@pytest.mark.django_db
@settings(max_examples=20, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(messages=_messages(), data=st.data())
def test_any_order_and_any_replay_come_to_the_same(record, owner, noon, messages, data):
    expected = came_of(record, messages, owner, noon)
    shuffled = data.draw(st.permutations(messages))
    prefix = data.draw(st.integers(0, len(messages)))
    doubled = [message for message in shuffled for _ in range(data.draw(st.integers(1, 2)))]
    assert came_of(record, [*doubled, *shuffled[:prefix]], owner, noon) == expected


def test_a_uuid_of_another_cook_is_refused(record, owner, noon):
    first, second = record(running=True), record(later=1, running=True)
    send(first, Message(1, "reading", 60, 5), owner, noon)
    for message in (Message(1, "reading", 60, 5), Message(1, "")):
        with pytest.raises(SaidElse) as refused:
            send(second, message, owner, noon)
        assert refused.value.kept["run"] == first.pk
    assert first.readings.count() == second.readings.count() + 1


def test_a_uuid_under_which_a_form_kept_a_reading_is_refused(record, owner, noon):
    run = record(running=True)
    reading = run.readings.first()
    with pytest.raises(SaidElse):
        keep_press(run=run, press=Press(reading.pk, "reading", noon, {"energy_wh": 5}), by=owner, at=noon)


def test_what_a_form_removed_stays_removed(record, owner, noon):
    run = record(running=True)
    send(run, Message(1, "reading", 60, 5), owner, noon)
    run.readings.filter(origin="desk").delete()
    send(run, Message(2, "reading", 120, 9), owner, noon)
    send(run, Message(1, "reading", 60, 5), owner, noon)
    assert [reading.energy_wh for reading in run.readings.filter(origin="desk")] == [9]
