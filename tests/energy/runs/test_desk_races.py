"""Two phones at the same moment, and a server that dies in the middle: nothing is lost, nothing is doubled."""

from __future__ import annotations

import threading
from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import connection

from energy.models import DeskEvent, Reading, Run
from energy.runs.domain.desk import Press
from energy.runs.operations.desk import SaidElse, keep_press
from energy.runs.operations.run_rows import presses

pytestmark = pytest.mark.django_db(transaction=True)


def at_once(*tasks):
    """Run tasks in threads that begin together; return what each returned or raised."""
    gate, results = threading.Barrier(len(tasks)), [None] * len(tasks)

    def run(place, task):
        gate.wait()
        try:
            results[place] = task()
        except Exception as error:
            results[place] = error
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=pair) for pair in enumerate(tasks)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return results


def test_one_uuid_from_two_phones_makes_one_row(record, owner, noon):
    run = record(running=True)
    press = Press(uuid4(), "reading", noon + timedelta(minutes=32), {"energy_wh": 220})
    results = at_once(*[lambda: keep_press(run=Run.objects.get(pk=run.pk), press=press, by=owner, at=noon)] * 4)
    assert sorted(results) == ["kept", "known", "known", "known"]
    assert Reading.objects.filter(pk=press.id).count() == DeskEvent.objects.count() == 1


def test_one_uuid_in_two_cooks_is_kept_in_one(record, owner, noon):
    runs = [record(running=True), record(later=1, running=True)]
    press = Press(uuid4(), "reading", noon + timedelta(minutes=32), {"energy_wh": 220})
    tasks = [lambda run=run: keep_press(run=Run.objects.get(pk=run.pk), press=press, by=owner, at=noon) for run in runs]
    results = at_once(*tasks)
    assert "kept" in results
    assert any(isinstance(result, SaidElse) for result in results)
    assert Reading.objects.filter(pk=press.id).count() == 1


def test_two_phones_that_press_at_once_are_both_kept_and_summed(record, owner, noon):
    run = record(running=True)
    pressed = [Press(uuid4(), "reading", noon + timedelta(minutes=32 + place), {"energy_wh": 220 + place}) for place in range(6)]
    results = at_once(
        *(lambda press=press: keep_press(run=Run.objects.get(pk=run.pk), press=press, by=owner, at=noon) for press in pressed)
    )
    assert results == ["kept"] * 6
    run.refresh_from_db()
    assert run.readings.count() == 7 + 6
    assert run.summary["energy_wh"] == 225


def test_what_dies_in_the_middle_leaves_nothing_and_may_be_sent_again(record, owner, noon, monkeypatch):
    run = record(running=True)
    press = Press(uuid4(), "reading", noon + timedelta(minutes=32), {"energy_wh": 220})

    def die(*args):
        raise KeyboardInterrupt

    monkeypatch.setattr(presses, "_follow", die)
    with pytest.raises(KeyboardInterrupt):
        keep_press(run=run, press=press, by=owner, at=noon)
    assert not DeskEvent.objects.exists()
    monkeypatch.undo()
    assert keep_press(run=run, press=press, by=owner, at=noon) == "kept"
    assert Reading.objects.filter(pk=press.id).count() == 1
