"""The first column as people write it: minutes, or the clock on the wall, also over midnight and when the clocks change."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from django import forms
from django.utils import timezone

from energy.runs.forms.clock import AtField

LONDON = ZoneInfo("Europe/London")


def seconds(text, start="2026-10-14 18:30", zone=LONDON):
    field = AtField(required=False)
    with timezone.override(zone):
        field.read_clock(datetime.fromisoformat(start).replace(tzinfo=zone) if start else None)
        return field.clean(text)


@pytest.mark.parametrize(
    ("text", "expected_s"),
    [
        *(("18:42", 720), ("18:42:30", 750), ("18:30", 0), ("00:10", 20_400), ("6:25", 42_900)),
        *(("6:42 pm", 720), ("6:42 p.m.", 720), ("12:05 am", 20_100), ("6:42PM", 720)),
        *(("12", 720), ("12,5", 750), ("7 min", 420), ("", None)),
    ],
)
def test_the_clock_and_the_minute_say_the_same(text, expected_s):
    assert seconds(text) == expected_s


def test_a_clock_without_seconds_shows_the_minute_in_which_it_began():
    assert seconds("18:30", start="2026-10-14 18:30:40") == 0
    assert seconds("18:31", start="2026-10-14 18:30:40") == 20


def test_the_night_in_which_clocks_go_back_has_an_hour_more():
    """25 October 2026, 02:00 in London becomes 01:00 (Summer Time Act 1972 as amended: the last Sunday of October)."""
    assert seconds("03:30", start="2026-10-24 23:30") == 5 * 3600
    assert seconds("03:30", start="2026-10-23 23:30") == 4 * 3600


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("18:25", "23\u00a0h 55\u00a0min after the start at 18:30"),
        ("6:42", "12\u00a0h 12\u00a0min after the start at 18:30"),
        ("24:00", "no time of day"),
        ("13:05 pm", "no time of day"),
        ("18:61", "Type the clock, like 18:42"),
        ("soon", "“soon” is not a time"),
    ],
)
def test_a_time_that_cannot_be_meant_is_told(text, words):
    with pytest.raises(forms.ValidationError) as told:
        seconds(text)
    assert words in told.value.messages[0]


def test_a_clock_needs_to_know_the_start():
    with pytest.raises(forms.ValidationError, match="needs the day and the time"):
        seconds("18:42", start=None)
    assert seconds("12", start=None) == 720


def test_unasked_a_colon_counts_from_the_start():
    assert AtField().clean("1:05") == 3900
    with pytest.raises(forms.ValidationError, match="needs the day and the time"):
        AtField().clean("1:05 pm")
