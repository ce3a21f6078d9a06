"""The table of presses, by the server's arithmetic."""

from __future__ import annotations

import pytest

from energy.runs.domain.desk import project
from tests.energy.runs.domain.desk_table import CASES, gone, numbers, seconds, standing

ROWS = (("stages", "stage"), ("readings", "reading"), ("moments", "moment"))


def rows_of(follows, kind):
    """Return the numbers of the rows of one kind, in their order."""
    found = [one for one in follows.rows.values() if one.kind == kind]
    return numbers([one.id for one in sorted(found, key=lambda one: (one.at, str(one.id)))])


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_what_follows_from_presses(case):
    follows, wanted = project(standing(case["arrivals"])), case["follows"]
    assert {name: rows_of(follows, kind) for name, kind in ROWS} == {name: wanted[name] for name, _ in ROWS}
    assert [[seconds(one) for one in pause] for pause in follows.pauses] == wanted["pauses"]
    assert seconds(follows.ended_at) == wanted["ended_at_s"]


def test_the_table_tries_what_is_easily_got_wrong():
    arrivals = [case["arrivals"] for case in CASES]
    late = [row for row in arrivals if any(one.get("withdrawn") for one in row[:1])]
    moments = [[one["at_s"] for one in row if "at_s" in one] for row in arrivals]
    assert len(CASES) >= 40
    assert len(late) >= 1
    assert sum(any(gone(row)) for row in arrivals) >= 10
    assert sum(row != sorted(row) for row in moments) >= 10
    assert sum(len(set(row)) < len(row) for row in moments) >= 10
