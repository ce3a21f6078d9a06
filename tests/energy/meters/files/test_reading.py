"""What holds for every file: energy adds up over any cut, order does not matter, resets never take energy away."""

from __future__ import annotations

import json
import random
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from energy.meters.files.columns.shape import POWER, LogShape, UnreadableFile
from energy.meters.files.looking import look_at
from energy.meters.files.reading import NeedsAnswer, part_between, read_meter_log
from energy.meters.files.series.settling import Track, energy_of, energy_of_watts
from energy.meters.files.told import only_column, with_column

START = datetime(2026, 10, 14, 16, 30, tzinfo=UTC)
HEAD = "time,power_w\n"


def stamp(second):
    return (START + timedelta(seconds=second)).isoformat()


def read(text, **more):
    data = text.encode()
    look = look_at(data, zone="Europe/Vienna")
    assert not look.refusal
    return read_meter_log([data], more.pop("shape", look.shape), zone="Europe/Vienna", **more)


@given(st.lists(st.integers(0, 3000), min_size=8, max_size=60), st.integers(2, 50), st.booleans())
@settings(max_examples=60, deadline=None)
def test_energy_is_additive_over_any_cut(watts, place, held):
    log = read(HEAD + "".join(f"{stamp(10 * n)},{w}\n" for n, w in enumerate(watts)))
    place = min(place, len(watts) - 2)
    cut = START + timedelta(seconds=10 * place)
    parts = [part_between(log, None, cut), part_between(log, cut, None)]
    whole = energy_of_watts(Track(log.times_s, log.power_w), held=held)
    assert sum(energy_of_watts(Track(one.times_s, one.power_w), held=held) for one in parts) == pytest.approx(whole)


@given(st.lists(st.integers(0, 3000), min_size=8, max_size=40), st.integers(0, 10**6))
@settings(max_examples=60, deadline=None)
def test_the_order_of_rows_never_matters(watts, seed):
    rows = [f"{stamp(10 * n)},{w}\n" for n, w in enumerate(watts)]
    mixed = list(rows)
    random.Random(seed).shuffle(mixed)
    one, other = read(HEAD + "".join(rows)), read(HEAD + "".join(mixed))
    assert (one.times_s, one.power_w, one.total_wh) == (other.times_s, other.power_w, other.total_wh)


@given(st.lists(st.integers(0, 50_000), min_size=2, max_size=40))
@settings(max_examples=60, deadline=None)
def test_resets_never_give_negative_energy(counts):
    log = read("time,wh_total\n" + "".join(f"{stamp(60 * n)},{wh}\n" for n, wh in enumerate(counts)))
    assert log.total_wh >= 0
    assert energy_of(Track(log.times_s, log.energy_wh)) >= 0


def test_the_last_watts_of_a_log_of_changes_hold_until_told():
    text = "last_changed,entity_id,state\n" + "".join(
        f"{stamp(at_s)},sensor.plug_power,{watts}\n" for at_s, watts in ((0, 600), (600, 0), (1900, 1200))
    )
    assert read(text).total_wh == pytest.approx(100)
    assert read(text, until=START + timedelta(seconds=2500)).total_wh == pytest.approx(300)


def test_several_devices_are_asked_for_and_the_answer_is_taken():
    rows = "".join(f"{stamp(60 * n)},{name},{watts}\n" for n in range(30) for name, watts in (("Hob", 900), ("Fridge", 100)))
    text = "time,device,watts\n" + rows
    with pytest.raises(NeedsAnswer) as asked:
        read(text)
    assert [value for value, _ in asked.value.question.choices] == ["hob", "fridge", "+"]
    shape = LogShape.from_dict({**look_at(text.encode()).shape.to_dict(), "device": "fridge"})
    assert read(text, shape=shape).total_wh == pytest.approx(100 * 29 / 60, rel=0.02)


def test_one_of_several_columns_is_pointed_at():
    text = "time,left ring (W),right ring (W)\n" + "".join(f"{stamp(10 * n)},{900},{400}\n" for n in range(61))
    with pytest.raises(NeedsAnswer, match="Several columns"):
        read(text)
    shape = look_at(text.encode()).shape
    assert read(text, shape=only_column(shape, POWER, "right ring (W)")).total_wh == pytest.approx(400 / 6)
    assert read(text, shape=with_column(shape, "2=ignore")).total_wh == pytest.approx(400 / 6)


@pytest.mark.parametrize("text", ["P=watts", "nothing", "9999999=power", "time=power:kWh"])
def test_a_wrong_word_about_a_column_is_refused(text):
    with pytest.raises(UnreadableFile):
        with_column(look_at(b"time,w\n2026-10-14 18:30,5\n2026-10-14 18:31,5\n").shape, text)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("time,w\n14.10.2026 18:30,1180,5\n14.10.2026 18:31,1180,5\n14.10.2026 18:32,2,5\n", "decimals have commas"),
        ("time,w\n1.76E+09,5\n" * 1 + "1.76E+09,5\n" * 20, "same time"),
        ("time,V\n" + "".join(f"{stamp(n)},230\n" for n in range(9)), "volts or amps"),
    ],
)
def test_the_true_reason_of_a_refusal(text, words):
    look = look_at(text.encode())
    said = look.refusal
    if not said:
        with pytest.raises(UnreadableFile) as refused:
            read_meter_log([text.encode()], look.shape)
        said = str(refused.value)
    assert words in said


@pytest.mark.parametrize(
    ("header", "cell", "wh"),
    [
        ("time,energy", "{:.3f}", 100.0),
        ("time,watts,energy", "600,{:.3f}", 100.0),
        ("time,watts,energy", "600,{:.0f}", 100.0),
    ],
)
def test_a_unit_that_is_not_named_is_told_by_its_size(header, cell, wh):
    scale = 0.001 if "3f" in cell else 60
    rows = "".join(f"{stamp(10 * n)},{cell.format((5000 + n / 60 * 100) * scale)}\n" for n in range(61))
    log = read(f"{header}\n{rows}")
    assert log.total_wh == pytest.approx(wh, rel=0.02)
    if not header.startswith("time,watts"):
        assert [doubt.code for doubt in log.doubts] == ["unit_guessed"]
        assert log.doubts[0].values["other_wh"] == pytest.approx(
            log.total_wh * 1000 ** (-1 if log.doubts[0].values["unit"] == "kWh" else 1)
        )


def test_an_idle_beginning_says_nothing_of_the_unit():
    rows = "".join(f"{stamp(n)},{1.2 if n < 5000 else 900.0}\n" for n in range(5601))
    assert read(f"time,power\n{rows}").total_wh == pytest.approx(150 + 1.2 * 5000 / 3600, rel=0.01)


def test_a_quality_beside_values_is_no_device():
    rows = "".join(f"{stamp(900 * n)},0.25,{'A' if n % 3 else 'E'}\n" for n in range(12))
    assert read(f"start,kWh,quality\n{rows}").total_wh == pytest.approx(3000)


def test_meters_by_number_are_several_devices():
    rows = "".join(f"{stamp(900 * n)},{meter},{kwh}\n" for n in range(12) for meter, kwh in ((1001, 0.25), (1002, 0.5)))
    with pytest.raises(NeedsAnswer, match="several devices"):
        read(f"start,meter id,kWh\n{rows}")


def test_device_and_quantity_in_two_columns():
    told = (("W", 600), ("V", 230), ("A", 2.6))
    rows = "".join(f"{stamp(10 * n)},hob,{what},{value}\n" for n in range(61) for what, value in told)
    assert read(f"time,device,metric,value\n{rows}").total_wh == pytest.approx(100, rel=0.02)


def test_progress_is_told_as_bytes_come():
    seen = []
    text = HEAD + "".join(f"{stamp(n)},5\n" for n in range(9))
    read_meter_log([text[:40].encode(), text[40:].encode()], look_at(text.encode()).shape, progress=seen.append)
    assert seen == [40, len(text)]


@pytest.mark.parametrize(
    "kept", [{"columns": [{"index": 0, "role": "x"}]}, {"header_row": "no"}, {"zone": "Nowhere"}, {"columns": 5}]
)
def test_a_spoilt_preset_is_refused(kept):
    with pytest.raises(UnreadableFile):
        LogShape.from_dict(json.loads(json.dumps(kept)))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Time (UTC),W\n2026-10-14 16:30,5\n2026-10-14 16:31,5\n", "those of UTC"),
        ("Fecha;Hora;Consumo_kWh\n" + "".join(f"14/10/2026;{n};0,1\n" for n in range(1, 25)), "numbered in their day, from 1"),
        ("start,mean W\n" + "".join(f"{stamp(300 * n)},600\n" for n in range(9)), "mean of the interval that begins"),
    ],
)
def test_how_it_is_read_is_told(text, words):
    assert any(words in said for said in look_at(text.encode(), zone="Europe/Vienna").words)


def test_a_zone_in_the_name_of_the_time_counts():
    assert read("Time (UTC),W\n2026-10-14 16:30,5\n2026-10-14 16:31,5\n").start.hour == 16


@pytest.mark.parametrize("sign", ['"', '"";', "\r"])
def test_a_named_separator_that_can_part_nothing_is_passed_over(sign):
    log = read(f"sep={sign}\n{HEAD.replace(',', ';')}" + "".join(f"{stamp(10 * n)};{100}\n" for n in range(7)))
    assert log.total_wh == pytest.approx(100 / 60, rel=0.01)


@pytest.mark.parametrize("sign", ['"', "\r", "\n", "\0", ";;", ""])
def test_a_kept_separator_that_can_part_nothing_is_refused_in_words(sign):
    with pytest.raises(UnreadableFile, match="One sign parts the columns"):
        LogShape.from_dict({**LogShape().to_dict(), "delimiter": sign})
