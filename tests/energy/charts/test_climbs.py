"""Several ladders in one drawing: labels apart, dashes apart, one scale."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from energy import charts
from energy.charts.lettering import span_of
from energy.words import ENGLISH

climbs = st.lists(st.tuples(st.floats(1, 900), st.floats(1, 30_000)), min_size=2, max_size=6)


def together(ends, *, narrow=False):
    runs = [charts.NamedClimb(letter, [(0, 0), (at_s, wh)]) for letter, (wh, at_s) in zip("ABCDEF", ends, strict=False)]
    return charts.ladders_together(runs, narrow=narrow, language=ENGLISH)


@given(climbs, st.booleans())
def test_labels_stand_apart_and_inside(ends, narrow):
    drawing = together(ends, narrow=narrow)
    heights = sorted(climb.label.y for climb in drawing.climbs)
    assert all(after - before >= drawing.font_size for before, after in pairwise(heights))
    assert all(0 < y <= drawing.height for y in heights)
    assert all(span_of(climb.label, drawing.font_size)[1] <= drawing.width for climb in drawing.climbs)
    assert all(climb.label.x > drawing.right for climb in drawing.climbs)


@given(climbs)
def test_labels_follow_the_order_of_the_watt_hours(ends):
    drawing = together(ends)
    by_end = sorted(drawing.climbs, key=lambda climb: climb.end.y)
    heights = [climb.label.y for climb in by_end]
    assert heights == sorted(heights)


def test_six_runs_have_six_patterns():
    drawing = together([(100 + place, 600) for place in range(6)])
    assert len({climb.dashes for climb in drawing.climbs}) == 6


def test_all_share_one_scale():
    drawing = together([(100, 600), (200, 1200)])
    first, second = drawing.climbs
    assert drawing.bottom - second.end.y == 2 * (drawing.bottom - first.end.y)
    assert second.end.x == drawing.right
    assert drawing.title == "A 100 watt-hours in 10 minutes; B 200 watt-hours in 20 minutes."
