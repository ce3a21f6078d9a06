"""The energy card's facts."""

from energy.estimates.domain.combine import combine_runs
from tests.energy.estimates.domain.cooks import facts, measured_run


def test_only_runs_that_made_the_figures_are_counted():
    assert facts().counted_runs == 0
    assert combine_runs([measured_run(105, 213), measured_run(98, 206, counts=False)]).counted_runs == 1
