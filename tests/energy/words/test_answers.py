"""What a reader asks under a recipe, in sentences."""

from dataclasses import replace
from decimal import Decimal

import pytest

from energy.estimates.domain.meal import meal_energy
from energy.facts import SourceFacts
from energy.gear.domain.sources import hook_up_verdict, will_it_run
from energy.gear.domain.supply import supply_for
from energy.words import ENGLISH, words_of
from energy.words.answers import beside_another, putting_it_back, turned_down, verdict_words
from tests.energy.estimates.domain.cooks import facts, stage
from tests.energy.estimates.domain.test_estimating import balanced


def plain(text):
    return text.replace("\u00a0", " ")


def test_a_panel_gives_three_quarters_of_its_rating():
    kit = {"panel_w": 200.0}
    meal = meal_energy(facts(), 6, kit)
    said = plain(putting_it_back(meal, kit, ENGLISH)[0])
    assert said.startswith("Your 200 W panel puts it back in about 1 h 50 min") or "full sun" in said
    assert "75 %" in said


def test_nothing_is_put_back_where_nothing_is_known():
    assert putting_it_back(meal_energy(facts(), 6, {}), {}, ENGLISH) == ()


LOSSY = replace(balanced(until=1), stages=(stage("come_up", 330, 30), stage("hold", 170, 60)), energy_wh=500.0)


@pytest.mark.parametrize(
    ("inverter_w", "words"),
    [
        (50.0, "Turned down to 45 W, if the cooker can be, it does not get there: holding its temperature takes"),
        (210.0, "Turned down to 189 W, if the cooker can be, it may not get there: holding its temperature alone may take up to"),
        (600.0, "Turned down to 540 W, if the cooker can be, it reaches its temperature in 31 to 48 min; heating"),
    ],
)
def test_turned_down_it_gets_there_may_not_or_does_not(inverter_w, words):
    kit = {"inverter_w": inverter_w}
    said = plain(turned_down(meal_energy(LOSSY, 6, kit), kit, ENGLISH))
    assert words in said
    assert ("it takes at least" in said) == ("may not" in words)
    assert "no words" not in said


def test_turned_down_batches_are_named():
    kit = {"inverter_w": 600.0}
    said = plain(turned_down(meal_energy(LOSSY, 12, kit, batches=2), kit, ENGLISH))
    assert "each of the 2 batches reaches its temperature in" in said
    assert said.endswith("for all of them.")
    alone = turned_down(meal_energy(LOSSY, 6, kit), kit, ENGLISH)
    assert "batches" not in alone


def test_without_a_balance_nothing_is_said_of_turning_down():
    kit = {"inverter_w": 600.0}
    assert turned_down(meal_energy(facts(), 6, kit), kit, ENGLISH) == ""
    why = replace(facts(), heat=replace(balanced().heat, why_not="Dry heat."))
    assert "Dry heat." in turned_down(meal_energy(why, 6, kit), kit, ENGLISH)


def test_a_second_cooker_is_asked_for():
    assert beside_another(facts(), {}, ENGLISH) == ""
    assert "make" in beside_another(facts(), {"beside_w": 300.0}, ENGLISH)


def test_the_sources_own_panel_charger_and_wear_are_told_where_the_reader_has_none():
    sunny = replace(facts().source, panel_w=200.0, charge_w=100.0, wear_per_kwh=Decimal("0.30"))
    cook = replace(facts(), source=sunny)
    said = [plain(words) for words in putting_it_back(meal_energy(cook, 6, {}), {}, ENGLISH)]
    assert said[0].startswith("Its 200 W panel")
    assert "wear" in said[1]
    assert "0.08" in said[1]
    assert said[2].startswith("Its 100 W charger")


@pytest.mark.parametrize(
    ("beside_w", "source", "words"),
    [
        (
            200.0,
            replace(facts().source, continuous_w=1500),
            "Beside a cooker of 200 W: 690 W and 200 W make 890 W, 59 % of the 1,500 W that the ridge station gives: "
            "both run at once.",
        ),
        (
            990.0,
            replace(facts().source, continuous_w=1000),
            "Beside a cooker of 990 W: 690 W and 990 W make 1,680 W, 168 % of the 1,000 W that the ridge station gives: "
            "too much. The other one has no room even alone.",
        ),
        (
            500.0,
            replace(facts().source, continuous_w=1000),
            "Beside a cooker of 500 W: 690 W and 500 W make 1,190 W, 119 % of the 1,000 W that the ridge station gives: "
            "too much. Start the other one 28 min later, when this one comes to “rest”: then both have room.",
        ),
        (
            210.0,
            replace(facts().source, continuous_w=1000),
            "Beside a cooker of 210 W: 690 W and 210 W make 900 W, 90 % of the 1,000 W that the ridge station gives: "
            "tight. Start the other one 9 min later, when this one comes to “come up”: then both have room.",
        ),
        (
            200.0,
            SourceFacts("a wall", "mains"),
            "Beside a cooker of 200 W: 690 W and 200 W make 890 W. Whether that runs is not known: "
            "no rating in watts is known for a wall.",
        ),
    ],
)
def test_a_second_cooker_in_words(beside_w, source, words):
    assert plain(beside_another(replace(facts(), source=source), {"beside_w": beside_w}, ENGLISH)) == words


def test_the_readers_own_inverter_is_called_so():
    assert "that your inverter gives" in plain(beside_another(facts(), {"beside_w": 200.0, "inverter_w": 800.0}, ENGLISH))


@pytest.mark.parametrize(
    ("verdict", "words"),
    [
        (will_it_run(700, 800, name="the hut"), "It runs: 700 W is 88 % of the 800 W that the hut gives."),
        (will_it_run(899.6, 1000, name="it"), "It runs: 900 W is 89.9 % of the 1,000 W that it gives."),
        (will_it_run(690, 600, name="the hut"), "It will not run: 690 W is more than the 600 W that the hut gives."),
        (
            will_it_run(790, 800, peak_w=820, surge_w=1600, name="the hut"),
            "Tight: its peak of 820 W is covered only by the surge rating of the hut.",
        ),
        (
            will_it_run(790, 800, peak_w=1820, surge_w=1600, name="the hut"),
            "It will not run: its peak of 1,820 W is more than the hut gives even for seconds.",
        ),
        (
            will_it_run(950, 1000, name="the hut"),
            "Tight: 950 W is 95 % of the 1,000 W that the hut gives. Nothing else may run beside it.",
        ),
        (
            hook_up_verdict(1500, 120, 15, name="the post"),
            "Tight: 1,500 W is 83 % of the 1,800 W that the post gives; where the 80 % rule of the North American code applies, "
            "that is too much for one plug.",
        ),
        (will_it_run(None, 800), "Whether it runs is not known: the cooker’s watts were not read."),
        (will_it_run(500, None, name="the shed"), "Whether it runs is not known: no rating in watts is known for the shed."),
        (
            replace(will_it_run(690, 1000, name="the hut"), turned_up_w=1800),
            "It runs: 690 W is 69 % of the 1,000 W that the hut gives. At the cooker’s full rated power, 1,800 W, it would not.",
        ),
        (
            supply_for(facts(), {"battery_wh": 500}).verdict,
            "Whether it runs is not known: say how many watts your inverter gives.",
        ),
    ],
)
def test_whether_it_runs_in_words(verdict, words):
    assert plain(verdict_words(verdict, ENGLISH)) == words


def test_what_is_assumed_in_words():
    unseen = facts(peak_w=672.0, peak_seen=False)
    supply = supply_for(unseen, {"battery_wh": 512, "inverter_w": 2000})
    assert words_of(supply.name, ENGLISH) == "your battery"
    assert [plain(words_of(note, ENGLISH)) for note in supply.notes] == [
        "No display showed the peak: the cooker’s rated 1,000 W stand for it.",
        "Your battery: the inverter is taken as 88 % efficient and drawing 10 W for itself, charging as 90 % efficient, "
        "with 10 % kept in reserve.",
    ]
