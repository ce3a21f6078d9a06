"""Thinning and stretching a ladder keeps its ends, its order and its corners."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.runs.domain.ladder import refit, stage_corners, thin
from tests.energy.estimates.domain.cooks import facts

climbs = st.lists(st.tuples(st.floats(1, 100), st.floats(0, 50)), min_size=1, max_size=400).map(
    lambda steps: [
        (0.0, 0.0),
        *((sum(s for s, _ in steps[: n + 1]), sum(wh for _, wh in steps[: n + 1])) for n in range(len(steps))),
    ]
)


@given(climbs, st.integers(2, 60))
def test_thinning_keeps_ends_order_and_number(points, most):
    kept = thin(points, most)
    assert len(kept) <= max(most, 2)
    assert (kept[0], kept[-1]) == (points[0], points[-1])
    assert list(kept) == sorted(kept)
    assert set(kept) <= set(points)


def test_corners_stay_while_there_are_few():
    points = [(float(n), float(n % 2 + n)) for n in range(150)]
    assert len(thin(points)) == 150


def test_fewer_than_two_points_draw_no_line():
    with pytest.raises(ValueError, match="two points"):
        thin([(0, 0), (1, 1)], most=1)


def test_stretching_to_the_same_corners_changes_nothing():
    corners = stage_corners(facts().stages)
    assert refit(corners, corners, corners) == tuple(corners)


def test_a_flat_stage_that_gains_energy_climbs_evenly():
    assert refit([(0, 0), (50, 0), (100, 0)], [(0, 0), (100, 0)], [(0, 0), (100, 10)]) == ((0, 0), (50, 5), (100, 10))
