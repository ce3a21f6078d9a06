"""A burst of presses on a run with very many readings is summed once in ten seconds, and its last press when somebody looks."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest

from energy.runs.domain.desk import Press
from energy.runs.operations import working_out
from energy.runs.operations.desk import keep_press


@pytest.fixture
def press(record, owner, noon, monkeypatch):
    """Press on a cook that counts as having very many readings; ``after_s`` is when. Return the cook."""
    monkeypatch.setattr(working_out, "MANY", 3)
    run = record(running=True)

    def log(wh, after_s, kind="reading"):
        said = {"energy_wh": wh} if kind == "reading" else {}
        moment = noon + timedelta(minutes=32, seconds=after_s)
        keep_press(run=run, press=Press(uuid4(), kind, moment, said), by=owner, at=moment)
        run.refresh_from_db()
        return run

    return log


def test_a_burst_is_summed_once_in_ten_seconds(press):
    assert press(220, 0).summary["energy_wh"] == 220
    run = press(221, 3)
    assert (run.summary["energy_wh"], run.behind) == (220, True)
    assert press(222, 11).summary["energy_wh"] == 222


def test_what_is_left_is_summed_when_somebody_looks(press, owner_client):
    press(220, 0)
    run = press(221, 3)
    owner_client.get(f"/bench/runs/{run.pk}/")
    run.refresh_from_db()
    assert (run.summary["energy_wh"], run.behind) == (221, False)


def test_a_finish_sums_at_once(press):
    press(220, 0)
    press(221, 3)
    run = press(0, 5, kind="finish")
    assert (run.summary["energy_wh"], run.behind) == (221, False)


def test_a_small_run_is_summed_at_every_press(press, monkeypatch):
    monkeypatch.setattr(working_out, "MANY", 2000)
    press(220, 0)
    assert press(221, 1).summary["energy_wh"] == 221
