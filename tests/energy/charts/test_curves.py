"""The power curve: peaks on the paper, gaps bare, labels apart."""

from hypothesis import given
from hypothesis import strategies as st

from energy import charts
from energy.charts.lettering import span_of
from energy.runs.domain.curve import trace_of
from energy.runs.domain.samples import Sample
from energy.words import ENGLISH
from tests.energy.estimates.domain.cooks import stage


def corners(line):
    return [tuple(float(part) for part in pair.split(",")) for pair in line.split()]


def drawn(powers, *, narrow=False, stages=(), every_s=10, peak="at least 1,234 W"):
    samples = [Sample(every_s * place, power_w=power) for place, power in enumerate(powers)]
    end_s = every_s * (len(powers) - 1)
    return charts.power_curve(trace_of(samples, 0, end_s), stages, end_s, peak=peak, narrow=narrow, language=ENGLISH)


@given(st.lists(st.floats(6, 3000), min_size=6, max_size=700), st.booleans())
def test_the_highest_point_is_the_peak_and_all_stays_inside(powers, narrow):
    curve = drawn(powers, narrow=narrow)
    points = [point for line in curve.lines for point in corners(line)]
    assert min(y for _, y in points) == curve.peak.y
    assert all(curve.left <= x <= curve.right and curve.top <= y <= curve.bottom for x, y in points)
    left, right = span_of(curve.peak.label, curve.font_size + 1)
    assert left >= 0
    assert right <= curve.width
    assert curve.peak.label.y - curve.font_size >= 0


def test_a_gap_leaves_two_lines():
    samples = [Sample(at, power_w=600) for at in (*range(0, 100, 10), *range(1000, 1100, 10))]
    curve = charts.power_curve(trace_of(samples, 0, 1090), (), 1090, peak="600 W", language=ENGLISH)
    assert len(curve.lines) == len(curve.areas) == 2
    assert corners(curve.lines[0])[-1][0] < corners(curve.lines[1])[0][0]
    assert curve.title.replace("\u00a0", " ") == "The peak is 600 W, from the start; 15 min without a reading."


def test_nothing_read_draws_nothing():
    assert charts.power_curve(trace_of([], 0, 60), (), 60, peak="", language=ENGLISH) is None


def test_the_title_tells_the_peak_and_the_ticking():
    title = drawn([0] * 12 + [1200, 1200, 0, 0] * 20, peak="1,200 W").title.replace("\u00a0", " ")
    assert title == "The peak is 1,200 W, first after 2 minutes; the element came on 20 times."


def test_stages_take_the_place_of_the_minutes():
    curve = drawn([600] * 181, stages=[stage("brown", 98, 10), stage("hold", 200, 20)])
    assert curve.minutes == ()
    assert [mark.name.text for mark in curve.stages] == ["brown", "hold"]


def test_a_peak_that_nothing_tells_has_no_figure():
    curve = drawn([600] * 20, peak="")
    assert (curve.peak.label, curve.title) == (None, "The highest watts stand from the start.")
