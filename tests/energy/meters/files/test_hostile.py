"""Whatever bytes come in, they are read or refused in a sentence, in bounded time: never a traceback."""

from __future__ import annotations

import json
import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from energy.meters.files.columns.shape import POWER, TIME, ColumnRole, LogShape, UnreadableFile
from energy.meters.files.looking import HEAD_BYTES, look_at
from energy.meters.files.reading import read_meter_log
from tests.energy.meters.files.samples import SAMPLES
from tests.energy.meters.files.samples_wild import WILD

ZONE = "Europe/Vienna"
ALL = (*SAMPLES, *WILD)
CELLS = (
    *("0", "-1", "1,5", "1.5", "1e308", "-1e308", "nan", "inf", "٣", "½", "9" * 400, "x" * 5000, "", " ", '"', "'", '="', "\0"),
    *("unavailable", "unknown", "24:00", "25:61", "00:00", "14.10.2026", "31/02/2026", "2026-10-14T18:30:00+99:99", "1760461500"),
    *("2026-10-25 02:30", "9999-12-31 23:59", "0001-01-01", "1 kW", "2 Wh", "W", "kWh", "[", "{", "}", "null", "\ufeff", "🍲"),
)
NAMES = ("time", "Date", "Power (W)", "kWh", "Energy total", "VA", "state", "entity_id", "unit", "Hour", "00:15", "elapsed (min)")


def told(data: bytes) -> str:
    """What a file is refused with, or nothing where it was read; what was read holds only plain numbers in the order of time."""
    look = look_at(data[:HEAD_BYTES], zone=ZONE)
    if look.refusal:
        return look.refusal
    assert LogShape.from_dict(look.shape.to_dict()) == look.shape
    assert len(look.roles) == len(look.header)
    try:
        log = read_meter_log([data], look.shape, zone=ZONE)
    except UnreadableFile as refused:
        return str(refused)
    assert list(log.times_s) == sorted(set(log.times_s))
    assert math.isfinite(log.total_wh)
    assert log.total_wh >= 0
    assert all(math.isnan(value) or math.isfinite(value) for value in (*log.power_w, *log.energy_wh, *log.charge_pct))
    return ""


def fair(sentence: str) -> bool:
    return sentence == "" or ((sentence[0].isupper() or sentence[0] == "“") and sentence[-1] in ".?" and len(sentence) < 600)


@given(st.binary(max_size=600))
def test_any_bytes(data):
    assert fair(told(data))


@given(st.text(max_size=400), st.sampled_from(["utf-8", "utf-16", "utf-8-sig"]))
def test_any_text(text, encoding):
    assert fair(told(text.encode(encoding, "surrogatepass")))


@given(
    st.lists(st.sampled_from(NAMES), min_size=1, max_size=6),
    st.lists(st.lists(st.sampled_from(CELLS), max_size=7), max_size=12),
    st.sampled_from([",", ";", "\t", "|", " "]),
)
@settings(max_examples=100)
def test_any_cells_below_good_names(names, rows, delimiter):
    text = "\n".join(delimiter.join(row) for row in [names, *rows])
    assert fair(told(text.encode("utf-8", "replace")))


@given(st.sampled_from(ALL), st.data())
@settings(max_examples=100, suppress_health_check=[HealthCheck.data_too_large, HealthCheck.too_slow], deadline=None)
def test_a_sample_cut_off_or_spoilt_anywhere(sample, data):
    spoilt = bytearray(sample.data[:4000])
    for _ in range(data.draw(st.integers(0, 6))):
        if spoilt:
            spoilt[data.draw(st.integers(0, len(spoilt) - 1))] = data.draw(st.integers(0, 255))
    assert fair(told(bytes(spoilt[: data.draw(st.integers(0, len(spoilt)))])))


@given(st.sampled_from([one for one in ALL if b"\n" in one.data[:3000]]), st.randoms(use_true_random=False))
@settings(max_examples=60, deadline=None)
def test_a_sample_with_its_cells_shuffled(sample, chance):
    lines = sample.data[:3000].split(b"\n")
    cells = [line.split(b",") for line in lines]
    loose = [cell for row in cells for cell in row]
    chance.shuffle(loose)
    pool = iter(loose)
    assert fair(told(b"\n".join(b",".join(next(pool) for _ in row) for row in cells)))


LEAVES = st.none() | st.booleans() | st.floats() | st.text(max_size=8)
JSONS = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=20,
)


@given(JSONS)
def test_any_json(value):
    assert fair(told(json.dumps(value).encode()))
    assert fair(told((json.dumps(value) + "\n" + json.dumps({"time": 1760461500, "w": value})).encode()))


@pytest.mark.parametrize(
    "data",
    [
        b"[" * 100_000,
        b'{"a":' * 50_000,
        b'{"a":' * 500 + b"1" + b"}" * 500,
        b"time,w\n" + b'"' + b"x" * 300_000,
        b"time,w\n2026-10-14 18:30:00," + b"9" * 200_000 + b"\n",
        b"time,w\n" + b"," * 20_000,
        b"a" * 2_000_000,
        b"time;w\n" + b"\x00" * 1000,
        b"\xff\xfe" + b"\x00\xd8" * 400,
        b"\n" * 100_000,
        b"time,w\n" + b"2026-10-14 18:30:00,5\n" * 50,
        b"0,0\n" * 1000,
    ],
    ids=range(12),
)
def test_hostile_shapes_are_refused_soon(data):
    assert fair(told(data))


COLUMNS = st.lists(
    st.builds(ColumnRole, st.integers(0, 5), st.sampled_from([TIME, POWER, "date", "device", "energy_interval"])), max_size=4
)
SHAPES = st.builds(
    LogShape,
    delimiter=st.sampled_from([",", ";"]),
    decimal=st.sampled_from([".", ","]),
    header_row=st.integers(-1, 3),
    layout=st.sampled_from(["long", "wide", "across", "records"]),
    first_slot=st.integers(0, 3),
    slots=st.integers(0, 100),
    zone=st.sampled_from(["", "Europe/Vienna", "Nowhere/Town"]),
    elapsed=st.sampled_from(["", "s", "mm:ss", "day number", "60 min from 1", "nonsense"]),
    columns=COLUMNS.map(tuple),
)


@given(SHAPES)
def test_any_kept_shape_reads_or_refuses(shape):
    data = b"time,w,kwh\n2026-10-14 18:30:00,700,1\n2026-10-14 18:40:00,0,2\n"
    said = look_at(data, zone=ZONE, shape=shape).refusal
    try:
        read_meter_log([data], shape, zone=ZONE)
    except UnreadableFile as refused:
        said = said or str(refused)
    assert fair(said)


@pytest.mark.parametrize(
    "data",
    [
        b"Date," + b",".join(b"%02d:00" % hour for hour in range(24)) + b"\n2026-10-14" + b",1e308" * 24 + b"\n",
        b"time,P\n" + b"2026-10-14 18:30,1 Wh\n2026-10-14 18:31,2 Wh\n2026-10-14 18:32,3 Wh\n",
        b'{"J": {"W": 0.0}}\n{"time": 1760461500, "w": 0}\n',
        b"Hour;2026-10-14;2026-10-15;2026-10-16;2026-10-17;2026-10-18\n1;1;1;1;1;1\n;1;1;1;1;1\n2;1;1;1;1;1\n3;1;1;1;1;1\n",
    ],
    ids=["beyond every display", "energy under a name of power", "two units in one name", "an hour left out"],
)
def test_what_once_was_misread(data):
    assert fair(told(data))


@pytest.mark.parametrize("mark", [",", ";", "\t", "|"])
def test_very_many_columns_are_refused_before_each_is_looked_at(mark):
    assert told(("time" + mark * 2_001 + "\n").encode()).startswith("Row 1 has 2,002 columns, and at most 2,000 are read.")
