"""How sure a meal's figures are, in words."""

from dataclasses import replace
from types import SimpleNamespace

from energy.estimates.domain.drawn import Between
from energy.estimates.domain.meal import meal_energy
from energy.facts import SizeFacts
from energy.words import ENGLISH, sentence
from energy.words.how_sure import energy_words, span_words, standing_words, sure_wh
from tests.energy.estimates.domain.cooks import facts
from tests.energy.estimates.domain.test_estimating import balanced

THREE = tuple(SimpleNamespace(counts=True, method="counter") for _ in range(3))
LEAST = Between(246.0, 246.0, 368.0)
SIZES = (SizeFacts(6, 236, 7, 1), SizeFacts(9, 320, 8, 1))


def plain(text):
    return text.replace("\u00a0", " ")


def words(given, servings, **more):
    return standing_words(meal_energy(given, servings, {}, **more), ENGLISH)


def test_what_was_measured_says_how_often():
    assert words(facts(runs=THREE[:2]), 6) == "measured twice"


def test_an_estimate_says_how_many_runs_it_comes_from():
    assert words(facts(runs=THREE[:1]), 12) == "estimated in proportion from one run for 6"
    assert words(facts(runs=THREE), 12) == "estimated in proportion from 3 runs for 6"
    assert (
        words(facts(runs=THREE), 12, batches=2) == "estimated in proportion from 3 runs for 6, in 2 batches, one after the other"
    )


def test_a_balance_and_a_line_through_sizes_are_named():
    assert words(balanced(), 12) == "estimated by the heat balance from 0 runs for 6"
    assert words(replace(balanced(), sizes=SIZES), 12) == "estimated from cooks for 6 and 9"


def test_the_least_of_an_energy_is_rounded_down():
    high = meal_energy(balanced(), 6, {"altitude_m": 2000})
    least = replace(high, estimate=replace(high.estimate, low_wh=246.0, uncertainty_wh=61.0))
    assert plain(energy_words(least, ENGLISH)) == "at least 240 Wh"
    assert plain(sure_wh(least, LEAST, ENGLISH)) == "at least 240 Wh"
    assert plain(span_words(least, 6 * 3600 + 59 * 60, ENGLISH)) == "at least 6 h 50 min"
    assert plain(sure_wh(meal_energy(balanced(), 12, {}), LEAST, ENGLISH)) == "240 to 380 Wh"


def test_the_caution_beside_fuels_stands_as_it_is():
    caution = sentence(ENGLISH, "fuel_caution")
    assert caution.startswith("Never burn a stove, a barbecue or a lantern inside a tent, an awning or a vehicle, not even with")
    assert caution.endswith("carbon monoxide has no smell and kills. An alarm is no substitute.")
