"""What devices send, fuzzed: each line comes to a reading or to a reason, and nothing breaks."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.meters.domain.device_lines import BadLine, SentLine, TooMany, read_lines
from energy.runs.domain import wire
from energy.runs.domain.wire import Unfit

NOON = datetime(2026, 10, 14, 12, tzinfo=UTC)
NAMES = ["at", "t", "wh_total", "kwh_total", "w", "kw", "charge_pct", "volts"]
values = st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8), st.lists(st.integers(), max_size=2))
objects = st.dictionaries(st.sampled_from(NAMES), values, max_size=5)


@given(st.text())
def test_any_text_is_read_or_refused_with_a_sentence(text):
    try:
        lines = read_lines(text, NOON)
    except (Unfit, TooMany) as refused:
        if not str(refused).endswith("."):
            raise
        return
    assert all(isinstance(line, SentLine) or line.reason for line in lines)


@given(st.lists(objects, min_size=1, max_size=5))
def test_every_object_is_answered_for(said):
    text = "\n".join(json.dumps(one) for one in said)
    lines = read_lines(text, NOON)
    assert [line.line for line in lines] == [*range(1, len(said) + 1)]
    for line in lines:
        assert isinstance(line, BadLine) or any(figure is not None for figure in line.shows)


@given(st.text(alphabet="t,w;\n\"'0123456789.-e kwh_totalchargepct", max_size=80))
def test_any_table_is_read_or_refused(text):
    try:
        read_lines("t,w\n" + text, NOON)
    except (Unfit, TooMany):
        return


def test_one_endless_cell_is_refused_with_a_sentence():
    with pytest.raises(Unfit, match="cannot be read as CSV"):
        read_lines('w,t\n"' + "|" * 140_000, NOON)
    with pytest.raises(Unfit, match="is not known"):
        read_lines("w" + "|" * 140_000, NOON)


def test_a_name_that_is_said_twice_among_very_many_is_found_at_once():
    many = ",".join(f'"n{place}":1' for place in range(wire.MOST_NAMES + 1))
    with pytest.raises(Unfit, match="201 names; at most 200 are read"):
        wire.read_object(f"{{{many}}}".encode())
    with pytest.raises(Unfit, match="“w” is said twice"):
        wire.read_object(b'{"w": 1, "t": 2, "w": 3}')


@given(st.floats(min_value=0, max_value=1e6), st.integers(1_000_000_000, 1_791_979_200))
def test_units_are_those_of_the_names(figure, t):
    text = "\n".join(json.dumps({"t": t, name: value}) for name, value in (("wh_total", figure), ("kwh_total", figure / 1000)))
    plain, kilo = read_lines(text, NOON)
    assert plain.shows[0] == pytest.approx(kilo.shows[0], abs=1e-6)
    assert plain.at == datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=t)


def test_a_row_with_too_few_or_too_many_cells_is_named():
    lines = read_lines("t;w;wh_total\n1791979200;700\n1791979200;700;5\n1791979200;1;2;3\n", NOON)
    assert [isinstance(line, SentLine) for line in lines] == [False, True, False]
    assert lines[2] == BadLine(4, "This line has 4 cells; the header names 3.")


def test_a_mark_at_the_head_and_empty_lines_do_no_harm():
    assert [line.shows for line in read_lines('\ufeff\n{"w": 5}\n\n{"w": 6}\n', NOON)] == [(None, 5.0, None), (None, 6.0, None)]
