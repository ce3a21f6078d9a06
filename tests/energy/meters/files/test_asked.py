"""What a file does not tell is asked, and with the answer it is read."""

from __future__ import annotations

from dataclasses import replace

import pytest

from energy.meters.files.columns.shape import UnreadableFile
from energy.meters.files.looking import HEAD_BYTES, look_at
from energy.meters.files.reading import NeedsAnswer, read_meter_log
from energy.meters.files.told import column_of, with_columns
from tests.energy.meters.files.cook import TRUE_WH, every, table
from tests.energy.meters.files.samples_asked import ASKED

ZONE = "Europe/Vienna"


@pytest.mark.parametrize(("sample", "key", "answer"), ASKED, ids=lambda value: getattr(value, "name", ""))
def test_the_question_and_its_answer(sample, key, answer):
    look = look_at(sample.data[:HEAD_BYTES], zone=ZONE)
    assert look.refusal == ""
    assert key in [question.key for question in look.questions]
    with pytest.raises(NeedsAnswer) as asked:
        read_meter_log([sample.data], look.shape, zone=ZONE)
    assert asked.value.question.key == key
    log = read_meter_log([sample.data], replace(look.shape, **answer), zone=ZONE)
    assert log.total_wh == pytest.approx(sample.wh, rel=0.02)
    assert log.start.year == 2026


def test_columns_that_are_pointed_at_together_add_up():
    text = table([["when", "left", "right"], *([at.isoformat(), w, w / 2] for at, w, _ in every(10))])
    shape = with_columns(look_at(text.encode(), header_line=1).shape, ["1=time", "left=power:W", "3=power:W"])
    assert read_meter_log([text.encode()], shape).total_wh == pytest.approx(1.5 * TRUE_WH, rel=0.02)


def test_without_a_row_of_names_no_cell_is_one():
    text = "".join(f"{at.isoformat()};{w:.1f};230\n" for at, w, _ in every(10))
    look = look_at(text.encode())
    assert look.header == ("1", "2", "3")
    assert look.header_line == 0
    shape = with_columns(look.shape, ["1=time", "2=power:W"])
    assert read_meter_log([text.encode()], shape).total_wh == pytest.approx(TRUE_WH, rel=0.02)
    with pytest.raises(UnreadableFile, match="use their numbers"):
        column_of(look.shape, "watts")


def test_the_row_of_names_is_told_also_below_a_separator():
    rows = [["time", "W"], *([at.isoformat(), f"{w:.1f}"] for at, w, _ in every(10))]
    text = "sep=;\nour plug;in the hut\n" + table(rows, ";")
    assert look_at(text.encode(), header_line=3).header == ("time", "W")
    assert look_at(text.encode(), header_line=0).shape.header_row == -1
    assert "Line 99" in look_at(text.encode(), header_line=99_999).refusal


def test_two_columns_of_one_name_need_their_numbers():
    shape = look_at(b"time,W,W\n2026-10-14 18:30,5,6\n2026-10-14 18:31,5,6\n").shape
    with pytest.raises(UnreadableFile, match="2, 3"):
        column_of(shape, "W")


def test_a_name_that_says_feed_in_warns_when_it_is_used():
    text = table([["time", "feed-in (W)"], *([at.isoformat(), w] for at, w, _ in every(10))])
    shape = with_columns(look_at(text.encode()).shape, ["1=time", "2=power:W"])
    assert [doubt.code for doubt in read_meter_log([text.encode()], shape).doubts] == ["sent_out_used"]
