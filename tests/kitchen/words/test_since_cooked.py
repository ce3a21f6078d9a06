"""What changed since a revision was cooked, as a reader sees it."""

from kitchen.domain.remark import remark
from kitchen.domain.since_cooked import SinceCooked
from kitchen.words import ENGLISH
from kitchen.words.since_cooked import since_cooked_words


def test_what_differs_is_followed_by_what_it_means():
    found = SinceCooked((remark("less_food", by_g=1250), remark("stage_added", stage="open boil")), less=True, more=True)
    assert (
        since_cooked_words(found, ENGLISH)
        == "1,250 g less food, an “open boil” stage added, so the figures may be off for this one"
    )


def test_what_cannot_be_weighed_is_named():
    found = SinceCooked(more=True, unweighed=("spinach",))
    assert since_cooked_words(found, ENGLISH) == (
        "another amount of spinach (weight not known), so the figures may be off for this one"
    )


def test_nothing_is_said_where_nothing_differs():
    assert since_cooked_words(SinceCooked(), ENGLISH) == ""
