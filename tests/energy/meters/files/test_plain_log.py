"""Logs as they come: separators, decimal commas, clocks, stages; and what is wrong with a bad one, by row and column."""

import datetime

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from energy.meters.files import any_log
from energy.meters.files.columns.shape import UnreadableFile
from energy.runs.domain.metering import MeterSpec, summarise

UTC = datetime.UTC


def read_log(text):
    return any_log.read_log(text.encode("utf-8", "replace"))


def shown(text):
    return [(s.at_s, s.energy_wh, s.power_w, s.charge_pct) for s in read_log(text).samples()]


@pytest.mark.parametrize(
    "text",
    [
        "seconds,wh,watts\n0,0,700\n60,11.5,690\n",
        "seconds;wh;watts\n0;0;700\n60;11,5;690\n",
        "seconds\twh\twatts\n0\t0\t700\n60\t11,5\t690\n",
        "\ufeffminutes,energy_wh,power_w\r\n0,0,700\r\n1,11.5,690\r\n",
        "sep=;\nTime (s);Energy (Wh);Power [W]\n0;0;700 W\n60;11,5;690 W\n",
        "# our plug meter\n\nremark,minutes,kwh,w\nhello,0,0,700\n,1,0.0115,690\n",
        'seconds,wh,watts\n0,0,700\n60,"11,5",690\n',
        "time,wh,watts\n0:00:00,0,700\n0:01:00,11.5,690\n",
        "time,wh,watts\n19:04:30,0,700\n19:05:30,11.5,690\n",
        "time,wh,watts\n2026-10-14T19:04:30+02:00,0,700\n2026-10-14T19:05:30+02:00,11.5,690\n",
    ],
)
def test_the_same_log_in_many_hands(text):
    assert shown(text) == [(0, 0, 700, None), (60, 11.5, 690, None)]


def test_an_instant_gives_the_start():
    assert read_log("time,wh\n2026-10-14T19:05:00+02:00,1\n").start == datetime.datetime(2026, 10, 14, 17, 5, tzinfo=UTC)
    assert read_log("time,wh\n2026-10-14T17:05:00Z,1\n").start == datetime.datetime(2026, 10, 14, 17, 5, tzinfo=UTC)
    assert read_log("time,wh\n2026-10-14 19:05,1\n").start == datetime.datetime(2026, 10, 14, 19, 5, tzinfo=UTC)
    assert read_log("seconds,wh\n5,1\n").start is None


def test_a_log_across_midnight_goes_on():
    assert [s.at_s for s in read_log("time,wh\n23:59:30,0\n00:00:30,5\n00:10:00,9\n").samples()] == [0, 60, 630]


def test_a_log_across_the_end_of_summer_time_keeps_its_seconds():
    text = "time,wh\n2026-10-25T02:59:00+02:00,0\n2026-10-25T02:01:00+01:00,5\n"
    assert [s.at_s for s in read_log(text).samples()] == [0, 120]


def test_rows_out_of_order_are_put_in_order_and_told():
    log = read_log("seconds,wh\n0,0\n120,20\n60,11\n")
    assert [s.at_s for s in log.samples()] == [0, 60, 120]
    assert log.notes == ("The time steps backward once: the rows were put in order.",)


def test_a_clock_that_jumps_back_a_little_stays_positive():
    assert [s.at_s for s in read_log("time,wh\n19:05:00,0\n19:04:00,0\n19:06:00,4\n").samples()] == [0, 60, 120]


def test_stages_last_until_the_next_one():
    log = read_log("minutes,wh,stage\n0,0,brown\n5,56,\n10,105,come up: to pressure\n21,213,Keep-Warm\n31,214,\n")
    assert [(s.kind, s.label, s.start_s, s.end_s) for s in log.stages] == [
        ("brown", "", 0, 600),
        ("come_up", "to pressure", 600, 1260),
        ("keep_warm", "", 1260, 1860),
    ]
    assert [s.attended for s in log.stages] == [True, False, False]


def test_a_row_may_mark_a_stage_without_a_figure():
    log = read_log("minutes,wh,stage\n0,0,brown\n10,,hold\n21,213,\n")
    assert len(list(log.samples())) == 2
    assert log.stages[1].start_s == 600


def test_empty_cells_and_rows_are_passed_over():
    assert shown("seconds,wh,watts\n0,,700\n,,\n10,,\n60,3,\n") == [(0, None, 700, None), (60, 3, None, None)]


def test_a_log_goes_straight_into_the_arithmetic():
    log = read_log("minutes;wh;stage\n0;0;brown\n5;56;\n10;105;come up\n12;118;\n21;213;rest\n31;213;\n")
    run = summarise(list(log.samples()), log.stages, MeterSpec(1, 2))
    assert [stage.energy_wh for stage in run.stages] == [105, 108, 0]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", ["empty", "Choose another"]),
        ("\n \n# only a remark\n", ["empty"]),
        ("seconds,wh\n", ["no readings below them"]),
        ("date,amps\n1,2\n", ["“date”, “amps”", "“time”", "point at it"]),
        ("seconds,volts\n1,2\n", ["“seconds”, “volts”", "No column"]),
        ("wh,watts\n1,2\n", ["No column holds a time"]),
        ("seconds,wh\n0,0\n60,eleven\n", ["Row 3", "column “wh”", "“eleven”", "not a number", "12.5"]),
        ("seconds,watts\n0,-5\n", ["Row 2", "“watts”", "“-5”", "below zero"]),
        ("seconds,charge_pct\n0,130\n", ["Row 2", "“charge_pct”", "more than 100 %"]),
        ("seconds,watts\n0,1e9\n", ["more than 100,000", "unit"]),
        ("seconds,watts\n0,nan\n", ["“nan”", "not a number"]),
        ("seconds,wh\n,5\n", ["Row 2", "leaves the time out"]),
        ("minutes,wh,stage\n0,0,fry\n", ["“fry”", "not a kind of stage", "come up"]),
        ("seconds,wh\n0,1,5\n", ["Row 2", "more cells", "semicolons"]),
        ("time,wh\n2026-10-14T19:06,6\n2026-11-14T19:07,6\n", ["longer than 14 days"]),
        ("time,wh\n19:05,5\n2026-10-14T19:06,6\n", ["in one way"]),
        ("time,wh\n2026-10-14T19:06,6\n2026-10-14T19:07Z,6\n", ["in one way"]),
        ("seconds,watts\n0,1e999\n", ["“1e999”", "not a number"]),
        ("PK\x03\x04\0\0", ["not a text file"]),
        ("زمن,طاقة\n0,1\n", ["No column holds a time"]),
    ],
)
def test_a_bad_log_says_where_and_what_to_do(text, words):
    with pytest.raises(UnreadableFile) as caught:
        read_log(text)
    for part in words:
        assert part in str(caught.value)


def test_a_long_cell_is_cut_in_the_sentence():
    with pytest.raises(UnreadableFile) as caught:
        read_log(f"seconds,wh\n0,{'x' * 5000}\n")
    assert len(str(caught.value)) < 300


def refusal(text):
    """What a log is refused with, or nothing when it can be read."""
    try:
        read_log(text)
    except UnreadableFile as error:
        return str(error)
    return ""


@given(st.text(max_size=300))
def test_whatever_is_pasted_is_read_or_refused_in_words(text):
    assert refusal(text)[-1:] in ("", ".")


@given(
    st.text(alphabet='0123456789,.;:-\n\r"\t eEbrown', max_size=200),
    st.sampled_from(["seconds,wh", "time;watts;stage", "minutes\tkwh"]),
)
def test_whatever_stands_below_a_good_first_row_is_read_or_refused_in_words(text, first):
    assert refusal(f"{first}\n{text}")[-1:] in ("", ".")


@given(st.lists(st.tuples(st.integers(0, 100_000), st.integers(0, 10**6)), min_size=1, max_size=30), st.sampled_from(",;\t"))
def test_what_is_written_is_read_back(rows, separator):
    rows = list(zip(sorted({at_s for at_s, _ in rows}), sorted(tenths for _, tenths in rows), strict=False))
    assume(len({tenths for _, tenths in rows}) > 1)
    text = "\n".join([separator.join(("seconds", "wh")), *(f"{at_s}{separator}{tenths / 10}" for at_s, tenths in rows)])
    assert sorted((s.at_s, s.energy_wh) for s in read_log(text).samples()) == sorted((at_s, tenths / 10) for at_s, tenths in rows)
