"""Bands of the clock: the more particular wins; gaps and overlaps are told in words."""

from datetime import date, datetime
from decimal import Decimal as D
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from energy.tariffs.domain.hours import Band, Hours

ALL = Band("all", D("0.30"))


def told(*bands, holidays=()):
    return Hours(bands, "Europe/London", frozenset(holidays)).mistakes()


def test_a_more_particular_band_wins_without_being_an_overlap():
    summer = Band("summer", D("0.20"), months=frozenset({6, 7, 8}))
    hours = Hours((ALL, summer), "Europe/London")
    assert hours.mistakes() == []
    assert [runs[0][2].name for runs in (hours.week(7)[0], hours.week(1)[0])] == ["summer", "all"]


def test_gaps_say_when():
    assert told(Band("day", D(1), 7 * 60, 23 * 60)) == [
        "No price is given from 00:00 to 07:00, any day.",
        "No price is given from 23:00 to 24:00, any day.",
    ]
    weekdays = Band("weekdays", D(1), days=frozenset(range(5)))
    assert told(weekdays) == ["No price is given from 00:00 to 24:00, Saturdays and Sundays."]
    assert told(Band("winter", D(1), months=frozenset({1, 2}))) == [
        "No price is given from 00:00 to 24:00, any day in March, April, May, June, July, August, September, October, November "
        "and December."
    ]


def test_overlaps_name_both():
    early, night = Band("early", D(1), 60, 120), Band("night", D(1), 0, 90)
    assert told(ALL, early, night) == ["Two prices are given from 01:00 to 01:30 (early and night), any day."]


def test_no_band_at_all_is_a_mistake():
    assert told() == ["A tariff by the clock needs a band at least."]


def test_a_holiday_is_a_sunday_unless_a_band_names_holidays():
    sundays = Band("sunday", D(1), days=frozenset({6}))
    weekdays = Band("week", D(2), days=frozenset(range(6)))
    plain = Hours((sundays, weekdays), "Europe/London", frozenset({date(2026, 12, 25)}))
    assert plain.day_class(date(2026, 12, 25)) == 6
    special = Hours(
        (sundays, weekdays, Band("feast", D(3), days=frozenset({7}))), "Europe/London", frozenset({date(2026, 12, 25)})
    )
    assert special.day_class(date(2026, 12, 25)) == 7
    assert special.mistakes() == []


@pytest.mark.parametrize(
    "bad", [{"start_min": -1}, {"start_min": 1440}, {"end_min": 1441}, {"days": frozenset({8})}, {"months": frozenset({0})}]
)
def test_nonsense_is_refused(bad):
    with pytest.raises(ValueError, match="“x”"):
        Band("x", D(1), **bad)


def test_a_week_has_every_minute_once():
    hours = Hours((ALL, Band("night", D(1), 22 * 60, 6 * 60, months=frozenset({1}))), "Europe/London")
    for day in hours.week(1):
        assert day[0][0] == 0
        assert day[-1][1] == 1440
        assert all(before[1] == after[0] for before, after in pairwise(day))


def test_a_band_without_hours_means_the_rest_of_the_day():
    hours = Hours((Band("night", D("0.10"), 22 * 60, 6 * 60), Band("day", D("0.31"))), "Europe/Berlin")
    assert hours.mistakes() == []
    at = [hours.at(datetime(2026, 3, 4, hour, 30, tzinfo=ZoneInfo("Europe/Berlin"))).name for hour in (5, 6, 21, 22)]
    assert at == ["night", "day", "day", "night"]
    doubled = Hours((Band("day", D("0.31")), Band("rest", D("0.30"))), "Europe/Berlin")
    assert doubled.mistakes() == ["Two prices are given from 00:00 to 24:00 (day and rest), any day."]
