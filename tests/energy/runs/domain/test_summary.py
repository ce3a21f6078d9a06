"""The kept record of a run."""

import pytest

from energy.runs.domain.summary import CrossCheck, RunSummary
from kitchen.domain import record
from tests.energy.estimates.domain.cooks import measured_run


@pytest.mark.parametrize(("integral_wh", "agrees"), [(213, True), (222, True), (204, True), (222.1, False), (203.9, False)])
def test_a_cross_check_allows_both_uncertainties(integral_wh, agrees):
    assert CrossCheck(213, integral_wh, 9).agrees is agrees


def test_a_newer_record_is_refused_in_words():
    written = record.write(measured_run(105, 213).summary)
    with pytest.raises(record.UnreadableRecord, match="schema 3"):
        record.read(RunSummary, {**written, "schema": 3})
