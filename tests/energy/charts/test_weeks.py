"""A tariff's week: boxes inside the drawing, names inside their boxes, the cheapest hours in the title."""

from decimal import Decimal as D

import pytest

from energy.charts.lettering import text_width
from energy.charts.weeks import week_drawing
from energy.tariffs.domain.hours import Band, Hours
from energy.words import ENGLISH

HOURS = Hours((Band("night", D("0.09"), 22 * 60, 6 * 60), Band("day", D("0.31"), 6 * 60, 22 * 60)), "Europe/Vienna")


@pytest.mark.parametrize("narrow", [False, True])
def test_boxes_fill_each_day_and_names_fit_into_them(narrow):
    drawn = week_drawing(HOURS, 7, narrow=narrow, language=ENGLISH)
    assert len(drawn.boxes) == 21
    for box in drawn.boxes:
        assert box.x >= 0
        assert box.x + box.width <= drawn.width
        if box.label:
            assert text_width(box.label.text, drawn.font_size) <= box.width
            assert box.y < box.label.y < box.y + drawn.box_height
    assert [label.text for label in drawn.days] == ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
    assert all(isinstance(label.y, float) for label in (*drawn.days, *drawn.hours))


def test_the_dearer_hour_is_the_fuller_box():
    assert {box.level for box in week_drawing(HOURS, 1, language=ENGLISH).boxes} == {0, 3}


def test_the_title_says_when_it_is_cheapest():
    title = week_drawing(HOURS, 1, language=ENGLISH).title
    assert title.endswith("on Mondays it is cheapest from 00:00 to 06:00 and 22:00 to 24:00.")
