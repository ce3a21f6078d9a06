"""What follows from presses: the order in which they arrive never matters."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta
from uuid import UUID

from hypothesis import given
from hypothesis import strategies as st

from energy.runs.domain.desk import KINDS, Press, project

NOON = datetime(2026, 10, 14, 12, tzinfo=UTC)
SAID = {
    "reading": {"energy_wh": 5, "note": "at the lid"},
    "stage": {"stage": "hold"},
    "moment": {"text": "lid off"},
}


def press(number: int, kind: str, at_s: float, **said: object) -> Press:
    return Press(UUID(int=number), kind, NOON + timedelta(seconds=at_s), {**SAID.get(kind, {}), **said})


presses = st.lists(st.tuples(st.sampled_from(KINDS), st.integers(0, 3600)), max_size=25).map(
    lambda pairs: [press(number, kind, at_s) for number, (kind, at_s) in enumerate(pairs)]
)


@given(presses, st.randoms(use_true_random=False))
def test_order_never_matters(pressed, chance):
    shuffled = list(pressed)
    chance.shuffle(shuffled)
    assert project(shuffled) == project(pressed)


@given(presses)
def test_pauses_follow_each_other_inside_the_run(pressed):
    desk = project(pressed)
    instants = [instant for pause in desk.pauses for instant in pause if instant is not None]
    assert instants == sorted(instants)
    assert all(desk.ended_at is None or instant <= desk.ended_at for instant in instants)
    assert all(went_on is not None for _, went_on in desk.pauses[:-1])


@given(presses)
def test_every_reading_and_moment_stands_and_the_latest_finish_ends_it(pressed):
    desk = project(pressed)
    for kind in ("reading", "moment"):
        assert {key for key, one in desk.rows.items() if one.kind == kind} == {one.id for one in pressed if one.kind == kind}
    assert desk.ended_at == max((one.at for one in pressed if one.kind == "finish"), default=None)


def test_a_double_tap_begins_one_stage():
    stages = project(
        [press(1, "stage", 60), press(2, "stage", 63), press(3, "stage", 64, stage="rest"), press(4, "stage", 80)]
    ).rows.values()
    assert sorted((stage.at - NOON).total_seconds() for stage in stages) == [60, 64, 80]


def test_a_slow_row_of_taps_is_counted_from_the_last_one_kept():
    taps = [press(number, "stage", 8 * number) for number in range(4)]
    random.Random(1).shuffle(taps)
    assert sorted((stage.at - NOON).total_seconds() for stage in project(taps).rows.values()) == [0, 16]


def test_a_pause_after_the_end_and_a_second_pause_do_nothing():
    desk = project([press(1, "pause", 10), press(2, "pause", 20), press(3, "finish", 60), press(4, "pause", 90)])
    assert desk.pauses == ((NOON + timedelta(seconds=10), NOON + timedelta(seconds=60)),)
