"""What would make a recipe's figures surer."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from energy.facts import RunFacts
from energy.words import ENGLISH
from energy.words.helping import what_would_help
from tests.energy.estimates.domain.test_estimating import balanced


def plain(words):
    return words.replace("\u00a0", " ")


def test_the_field_that_narrows_an_estimate_most_is_named_in_watt_hours():
    (field,) = what_would_help(balanced(assumed=("food_start", "height")), ENGLISH)
    assert plain(field).startswith(
        "Nobody noted the food’s temperature at the start. Noted, it would narrow an estimate for 12 on another day"
    )
    assert plain(field).endswith(" Wh.")
    assert what_would_help(balanced(), ENGLISH) == ()


def test_two_more_cooks_narrow_the_mean_as_far_as_the_meter_lets_them():
    once = RunFacts(datetime(2026, 10, 14, tzinfo=UTC), 236, 7, 690, 2280, True, "counter", "a pot", "a station", "a meter")
    sure = replace(balanced(), runs=(once,), uncertainty_wh=30.0, next_high_wh=236 + 40.0)
    (cooks,) = what_would_help(sure, ENGLISH)
    assert plain(cooks).startswith("The mean is known to ± 13 %; two more cooks would give about ± ")
    by_meter = replace(balanced(), runs=(once,), uncertainty_wh=30.0, next_high_wh=236 + 30.0)
    assert what_would_help(by_meter, ENGLISH) == ()
