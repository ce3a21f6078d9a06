"""The line through cooks of several sizes, against numpy."""

import numpy as np
import pytest
from scipy import stats

from energy.estimates.domain.two_sizes import SizedCook, size_line


def test_the_line_is_numpys():
    sizes, took = [0.5, 1.0, 1.0, 2.0, 3.0], [150, 238, 241, 420, 611]
    line = size_line([SizedCook(k, wh, 5) for k, wh in zip(sizes, took, strict=True)])
    slope, start = np.polyfit(sizes, took, 1)
    assert (line.slope_wh, line.start_wh) == (pytest.approx(slope), pytest.approx(start))


def test_the_interval_of_another_cook_is_the_textbooks():
    sizes, took = np.array([0.5, 1.0, 1.5, 2.0, 3.0]), np.array([150, 242, 310, 420, 605])
    line = size_line([SizedCook(k, wh, 0.1) for k, wh in zip(sizes, took, strict=True)])
    fit = stats.linregress(sizes, took)
    residual = np.sqrt(((took - fit.intercept - fit.slope * sizes) ** 2).sum() / 3)
    lever = 1 / 5 + (4 - sizes.mean()) ** 2 / ((sizes - sizes.mean()) ** 2).sum()
    assert line.half_width_wh(4) == pytest.approx(stats.t.ppf(0.975, 3) * residual * np.sqrt(1 + lever), rel=1e-3)


def test_two_sizes_know_only_what_their_meters_leave_open():
    line = size_line([SizedCook(1, 200, 8), SizedCook(2, 350, 8)])
    assert line.half_width_wh(1) == pytest.approx(8)
    assert line.half_width_wh(4) > line.half_width_wh(2)


@pytest.mark.parametrize("cooks", [[], [(1, 200)], [(1, 200), (1, 210)], [(1, 300), (2, 250)]])
def test_one_size_or_a_falling_line_is_no_line(cooks):
    assert size_line([SizedCook(k, wh, 5) for k, wh in cooks]) is None
