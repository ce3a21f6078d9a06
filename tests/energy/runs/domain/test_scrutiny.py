"""The remarks that go with a run's figures."""

import pytest

from energy.runs.domain.metering import MeterSpec, Sample, StageSpan, summarise
from energy.runs.domain.scrutiny import said
from kitchen.domain.remark import remark


def test_only_what_was_said_stays():
    assert said(None, remark("no_stages"), None, remark("by_charge")) == (remark("no_stages"), remark("by_charge"))


@pytest.mark.parametrize(
    ("samples", "code"),
    [
        ([Sample(0, 0), Sample(600, 9)], "by_counter"),
        ([Sample(0, None, 9), Sample(600, None, 9)], "by_held_watts"),
        ([Sample(at_s, None, 9) for at_s in range(0, 601, 10)], "by_sampled_watts"),
        ([Sample(0, charge_pct=9), Sample(600, charge_pct=8)], "by_charge"),
    ],
)
def test_the_first_note_says_how_the_energy_was_made(samples, code):
    assert summarise(samples, [], MeterSpec(), capacity_wh=500).notes[0].code == code


def test_moments_in_sentences_count_from_the_start_of_the_cook():
    samples = [Sample(3000, 50), Sample(3600, 150), Sample(4200, 4)]
    run = summarise(samples, [StageSpan("bake", "", 3000, 4200)], MeterSpec())
    assert run.flags[0].values["at_s"] == 20 * 60


def test_an_unread_rest_is_no_flag_but_an_unread_reduction_is():
    samples = [Sample(0, 0), Sample(600, 100)]
    for kind, flags in (("rest", 0), ("release", 0), ("reduce", 1), ("keep_warm", 1)):
        run = summarise(samples, [StageSpan("brown", "", 0, 600), StageSpan(kind, "", 600, 1800)], MeterSpec())
        assert len(run.flags) == flags
