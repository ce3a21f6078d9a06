"""Whatever bytes come: a look never raises, a reading raises refusals alone, and energy is a number that is not negative."""

import json
import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from energy.meters.files.columns.shape import LogShape, UnreadableFile
from energy.meters.files.looking import look_at
from energy.meters.files.reading import read_meter_log
from tests.energy.meters.files.cook import SUMS_WH, every, table
from tests.energy.meters.files.samples import SAMPLES

FULL = [sample for sample in SAMPLES if not sample.refusal]


def energy(data, shape=None):
    """Read a file, or return None where it is refused in words."""
    look = look_at(data[: 1 << 18], zone="Europe/Vienna", shape=shape)
    if look.refusal:
        assert look.refusal[-1] in ".?"
        return None
    words, log = "", None
    try:
        log = read_meter_log([data], look.shape, zone="Europe/Vienna")
    except UnreadableFile as refused:
        words = str(refused)
    if log is None:
        assert words[-1] in ".?"
        return None
    assert math.isfinite(log.total_wh)
    assert log.total_wh >= 0
    assert all(math.isfinite(at_s) for at_s in log.times_s)
    return log.total_wh


@given(st.binary(max_size=400))
def test_any_bytes(data):
    energy(data)


@given(st.text(alphabet='0123456789,.;:-/\n\r"\t eEWkh[]{}TZ+', max_size=400))
def test_any_text_of_separators(text):
    energy(text.encode())


CELLS = st.sampled_from(
    ["2026-10-14 18:30:00", "14.10.2026", "19:05", "1,5", "1e308", "-1e308", "nan", "0001-01-01T00:00", "9999-12-31T23:59:59Z"]
    + ["-62135596800", "1760461500", "-1", "99999999999999999999", "off", "", "Power (W)", "kWh", "2026-02-30", "24:00", "٣", "²"]
    + ["9999-12-31", "2199-12-31 24:00", "0/0/0", "1" * 5000, "\x00", "=1180", "1'180.5", "1_000", "2026-10-25 02:30:00+99:99"]
)


@given(
    st.sampled_from(
        ["time,power_w", "Zeit;Zähler kWh", "time\tvalue\tunit", "Date,1,2,3", "s,W", "entity_id,state,last_changed"]
    ),
    st.lists(st.lists(CELLS, min_size=1, max_size=5), max_size=12),
)
def test_odd_cells_below_good_names(names, rows):
    delimiter = next(sign for sign in ";\t," if sign in names)
    energy("\n".join([names, *(delimiter.join(row) for row in rows)]).encode("utf-8", "replace"))


@settings(max_examples=60)
@given(st.sampled_from(FULL), st.randoms(use_true_random=False), st.integers(0, 10**6))
def test_cut_and_shuffled_samples(sample, chance, place):
    cut = sample.data[: place % (len(sample.data) + 1)]
    energy(cut)
    cells = cut[:4000].split(b",")
    chance.shuffle(cells)
    energy(b",".join(cells))
    spoiled = bytearray(cut[:4000])
    for _ in range(min(20, len(spoiled))):
        spoiled[chance.randrange(len(spoiled))] = chance.randrange(256)
    energy(bytes(spoiled))


@pytest.mark.parametrize("data", [
    b"[" * 100_000,
    b'{"a":' * 50_000,
    b'[{"time":' + b"[" * 20_000 + b"]" * 20_000 + b"}]",
    b'{"t":1790000000,"w":' + b"9" * 6000 + b"}\n" * 3,
    b'{"t":1790000000,"w":NaN}\n{"t":1790000010,"w":Infinity}\n{"t":1790000020,"w":1e999}\n',
    b"time,w\n" + b"1" * 2_000_000,
    b'time,w\n"' + b"x" * 300_000,
    b"time,w\n" + b'2026-10-14 18:30:00,"' + b"\n" * 300_000,
    b"," * 20_000 + b"\n" + b"1," * 10_000,
    ("time," + ",".join(f"power {n} W" for n in range(3000)) + "\n" + "2026-10-14 18:30:00" + ",5" * 3000 + "\n").encode() * 2,
    b"time,w\n" + b"2026-10-14 18:30:00,5\x00\x00\n" * 4,
    b"seconds,w\n-1e300,1\n1e300,1\n",
    b"seconds,wh\n0,1e308\n1,1e308\n2,-1e308\n",
    b"hours,w\n0,1\n1e11,1\n2e11,1e12\n",
    b"sep=\n1,2\n", b"sep=\"\n1,2\n", b"sep=\r\n", b"sep=\xc3\xa4\n1\xc3\xa42\n",
    b"\xff\xfe", b"\xff\xfea", b"\xef\xbb\xbf", b'{"a":[]}', b"{}", b"[[]]", b'[[],[]]',
])  # fmt: skip
def test_what_is_meant_to_break_it(data):
    energy(data)


def test_devices_without_end_are_refused_in_words():
    rows = [["entity_id", "state", "last_changed"]]
    rows += [[f"sensor.plug_{n % 300}_power", 5, f"2026-10-14T18:{n // 60 % 60:02d}:{n % 60:02d}+00:00"] for n in range(1200)]
    assert energy(table(rows).encode()) is None


def counters(step_s):
    return [(at, wh) for at, _, wh in every(step_s)]


def counter_text(rows):
    return table([["time", "Energy total (Wh)"], *([at.isoformat(), f"{wh:.6f}"] for at, wh in rows)]).encode()


SHAPE = look_at(counter_text(counters(60)), zone="UTC").shape


@given(st.randoms(use_true_random=False))
def test_the_order_of_rows_does_not_matter(chance):
    rows = counters(60)
    random.Random(chance.random()).shuffle(rows)
    assert read_meter_log([counter_text(rows)], SHAPE).total_wh == pytest.approx(SUMS_WH[-1], rel=1e-6)


@given(st.integers(1, len(counters(60)) - 2))
def test_energy_adds_up_over_any_cut(place):
    rows = counters(60)
    parts = [read_meter_log([counter_text(part)], SHAPE).total_wh for part in (rows[: place + 1], rows[place:])]
    assert sum(parts) == pytest.approx(SUMS_WH[-1], rel=1e-6)


def test_a_log_that_holds_everything_twice_says_the_same():
    once = counter_text(counters(60))
    twice = once + once.split(b"\n", 1)[1]
    assert read_meter_log([twice], SHAPE).total_wh == pytest.approx(read_meter_log([once], SHAPE).total_wh)


PLAIN = st.none() | st.floats() | st.text(max_size=5) | st.integers()
NESTED = st.recursive(PLAIN, lambda one: st.lists(one) | st.dictionaries(st.text(max_size=5), one), max_leaves=20)


@given(NESTED)
def test_any_json(value):
    energy(json.dumps(value).encode())


PARTS = [
    "kind",
    "columns",
    "layout",
    "slots",
    "decimal",
    "header",
    "zone",
    "delimiter",
    "encoding",
    "elapsed",
    "first_slot",
    "header_row",
]
ROLES = st.sampled_from(["time", "power", "W", "energy_total"])
COLUMNS = st.lists(st.none() | st.dictionaries(st.sampled_from(["index", "role", "unit"]), st.integers() | ROLES))
KEPT = st.dictionaries(st.sampled_from(PARTS), st.none() | st.integers() | st.text(max_size=3) | COLUMNS, max_size=6)


@given(KEPT)
def test_a_kept_shape_of_nonsense_is_refused_or_harmless(held):
    try:
        shape = LogShape.from_dict(held)
    except UnreadableFile:
        return
    energy(counter_text(counters(600)), shape)
