"""The ladder: round axis lines, points on the climb, labels that thin out on a narrow drawing."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from energy import charts
from energy.charts.ladders import nice_step
from energy.charts.lettering import text_width
from energy.words import ENGLISH
from energy.words.figures import about_s
from energy.words.titles import Fineness
from tests.energy.estimates.domain.cooks import facts, stage

STAGES = facts().stages
POINTS = facts().ladder


def box(label, font):
    width = text_width(label.text, font)
    left = {"start": label.x, "middle": label.x - width / 2, "end": label.x - width}[label.anchor]
    return left, label.y - font, left + width, label.y


def meet(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def test_axis_lines_are_round_and_reach_the_top():
    ladder = charts.ladder(POINTS, STAGES, language=ENGLISH)
    assert [tick.label.text for tick in ladder.watt_hours] == ["0", "50", "100", "150", "200", "250"]
    assert (ladder.watt_hours[0].at, ladder.watt_hours[-1].at) == (ladder.bottom, ladder.top)


def test_the_line_ends_where_the_energy_is():
    ladder = charts.ladder(POINTS, STAGES, language=ENGLISH)
    x, y = (float(part) for part in ladder.line.split()[-1].split(","))
    assert x == ladder.right
    assert y == pytest.approx(ladder.bottom - (ladder.bottom - ladder.top) * 236 / 250, abs=0.1)
    assert ladder.area.split()[0] == f"{ladder.left:g},{ladder.bottom:g}"


def test_each_stage_that_draws_ends_in_a_point_on_the_line():
    ladder = charts.ladder(POINTS, STAGES, language=ENGLISH)
    assert [point.label.text for point in ladder.points] == ["98", "222", "236"]
    assert all(f"{point.x:g},{point.y:g}" in ladder.line.split() for point in ladder.points)


def test_the_title_states_the_result():
    title = charts.ladder(POINTS, STAGES, language=ENGLISH).title
    assert title == "236 watt-hours after 28 minutes; nothing more in the 10 minutes after that."
    assert charts.ladder([(0, 0), (60, 12)], language=ENGLISH).title == "12 watt-hours after 1 minute."
    assert charts.ladder([], language=ENGLISH).title == "Nothing was read yet."


def test_without_stages_the_axis_shows_minutes():
    ladder = charts.ladder([(0, 0), (600, 90), (1900, 200)], language=ENGLISH)
    assert [tick.label.text.replace("\u00a0", " ") for tick in ladder.minutes] == ["0 min", "10 min", "20 min", "30 min"]
    assert ladder.stages == ()
    assert charts.ladder(POINTS, STAGES, language=ENGLISH).minutes == ()


def test_a_narrow_drawing_drops_what_has_no_room():
    short = [stage("brown", 98, 9), stage("come_up", 4, 0.5), stage("hold", 14, 30)]
    wide, narrow = charts.ladder([], short, language=ENGLISH), charts.ladder([], short, narrow=True, language=ENGLISH)
    assert narrow.narrow
    assert narrow.width < wide.width
    assert narrow.stages[1].name is None
    assert sum(point.label is not None for point in narrow.points) <= sum(point.label is not None for point in wide.points)


def test_a_run_of_no_length_still_draws():
    ladder = charts.ladder([(0, 0)], language=ENGLISH)
    assert ladder.line == f"{ladder.left:g},{ladder.bottom:g}"


@given(
    st.lists(st.tuples(st.floats(0, 900), st.floats(0.2, 600)), min_size=1, max_size=10),
    st.booleans(),
)
@example([(5e-324, 1.0)], False)
def test_labels_never_meet_and_stay_inside(steps, narrow):
    stages = [stage("bake", energy_wh, minutes) for energy_wh, minutes in steps]
    ladder = charts.ladder([], stages, narrow=narrow, language=ENGLISH)
    over = [box(point.label, ladder.font_size) for point in ladder.points if point.label]
    below = [box(mark.name, ladder.font_size) for mark in ladder.stages if mark.name]
    for boxes in (over, below):
        assert not any(meet(one, other) for index, one in enumerate(boxes) for other in boxes[index + 1 :])
        assert all(left >= 0 and right <= ladder.width and top >= 0 and low <= ladder.height for left, top, right, low in boxes)


@given(st.floats(0.01, 1e6), st.integers(2, 10))
def test_an_axis_has_round_steps_and_few_lines(highest, lines):
    step = nice_step(highest, lines)
    assert step * lines >= highest * (1 - 1e-6)
    assert step * lines <= 10.1 * highest
    assert f"{step:.0e}"[0] in "125"


def test_an_estimate_labels_no_single_watt_hours():
    ladder = charts.ladder(POINTS, STAGES, fine=Fineness(10), language=ENGLISH)
    assert [point.label.text for point in ladder.points] == ["100", "220", "240"]
    assert ladder.title.startswith("240 watt-hours")


def test_what_has_no_name_on_a_ladder_is_told_below_it():
    short = [stage("brown", 98, 9), stage("come_up", 4, 0.5), stage("hold", 14, 30)]
    narrow = charts.ladder([], short, narrow=True, language=ENGLISH)
    assert narrow.unnamed.replace("\u00a0", " ") == "Too narrow for a label: come up 30 s."
    assert charts.ladder(POINTS, STAGES, language=ENGLISH).unnamed == ""


def test_batches_whose_stages_have_no_room_are_numbered():
    batch = [stage("brown", 80, 4), stage("come_up", 160, 8), stage("hold", 10, 6), stage("rest", 0, 2)]
    wide = charts.ladder([], batch * 2, batches=2, language=ENGLISH)
    assert [mark.name.text for mark in wide.stages[:2]] == ["brown", "come up"]
    narrow = charts.ladder([], batch * 3, batches=3, narrow=True, language=ENGLISH)
    assert [mark.name.text for mark in narrow.stages if mark.name] == ["batch 1", "batch 2", "batch 3"]
    assert [number for number, mark in enumerate(narrow.stages) if mark.name] == [0, 4, 8]
    assert narrow.unnamed == "In each batch: brown, come up, hold, rest."
    many = charts.ladder([], batch * 9, batches=9, narrow=True, language=ENGLISH)
    assert [mark.name.text for mark in many.stages if mark.name] == [str(number) for number in range(1, 10)]


def test_an_estimates_minutes_are_rounded_as_those_in_words():
    ladder = charts.ladder(
        [(0, 0), (4020, 400)], [stage("hold", 400, 67)], fine=Fineness(10, rounded_s=about_s), language=ENGLISH
    )
    assert ladder.stages[0].minutes.text.replace("\u00a0", " ") == "1 h 5 min"
    assert ladder.title == "400 watt-hours after 65 minutes."
