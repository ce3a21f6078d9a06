"""Every remark of the program as a reader sees it."""

import ast

import pytest

from energy.words import ENGLISH, words_of
from energy.words.english import SENTENCES
from energy.words.english_pages import PAGES
from kitchen.domain.remark import Remark, remark
from tests.house.codes import codes_of
from tests.house.tree import TOP, parsed, python_files

FELL = {"before_wh": 118, "after_wh": 4, "at_s": 720}

RUN_FLAGS = [
    (
        remark("counter_fell", **FELL),
        "The counter fell from 118 to 4 Wh at minute 12: taken as a reset, with 4 Wh drawn since. Check that reading.",
    ),
    (
        remark("counter_fell_twice", **FELL),
        "The counter fell from 118 to 4 Wh at minute 12, and once more: taken as a reset, with 4 Wh drawn since. "
        "Check that reading.",
    ),
    (
        remark("counter_fell_often", **FELL, more=2),
        "The counter fell from 118 to 4 Wh at minute 12, and 2 more times: taken as a reset, with 4 Wh drawn since. "
        "Check that reading.",
    ),
    (
        remark("above_rated", start_s=300, end_s=600, energy_wh=149, rated_w=700, most_wh=58.3),
        "From minute 5 to minute 10 the meter shows 149 Wh, but 700 W can draw at most 59 Wh in that time: check the readings.",
    ),
    (
        remark("off_stage_draws", kind="release", start_s=1200, end_s=1800, energy_wh=108),
        "The release from minute 20 to minute 30 drew 108 Wh, although nothing heats then: "
        "does its stage stand in the wrong row?",
    ),
    (
        remark("peak_above_rated", peak_w=1510, rated_w=700),
        "A reading shows 1,510 W, but the cooker is rated 700 W: check the reading, the cooker and what else hung on the meter.",
    ),
    (
        remark("peak_above_source", peak_w=690, name="the small station", limit_w=600),
        "The peak of 690 W is more than the small station gives (600 W): check the reading and the rating.",
    ),
    (
        remark("stage_backward", stage=2, start_s=600, end_s=540),
        "Time goes backward: stage 2 starts at minute 10 and ends at minute 9. Correct its mark.",
    ),
    (
        remark("stages_overlap", stage=2, before=1),
        "Time goes backward: stage 2 starts before stage 1 has ended. Correct its mark.",
    ),
    (
        remark("start_unread", unread_s=240, energy_wh=101),
        "Nothing was read in the first 4 min: what was drawn then is missing, so the energy is at least 101 Wh.",
    ),
    (
        remark("end_unread", unread_s=240, energy_wh=101),
        "Nothing was read in the last 4 min: what was drawn then is missing, so the energy is at least 101 Wh.",
    ),
    (
        remark("gap", span_s=480, from_s=600),
        "The log has a gap of 8 min from minute 10 on: what was drawn there is a guess.",
    ),
    (
        remark("hole", span_s=480, from_s=600, counted_wh=12, most_wh=157),
        "The log tells nothing for 8 min from minute 10 on: 12 Wh are counted there, and it may have been up to 157 Wh.",
    ),
    (
        remark("more_holes", places=2, span_s=180),
        "2 shorter holes, 3 min together, are in the log too.",
    ),
    (
        remark("counter_faulty", before_wh=518, after_wh=511, at_s=720, hidden_wh=20),
        "The counter fell from 518 Wh to 511 Wh at minute 12, which is no reset: what was drawn up to that reading is not "
        "known, up to 20 Wh. Correct that reading, or say on it that the counter was reset.",
    ),
    (
        remark("counter_faulty_often", before_wh=518, after_wh=511, at_s=720, hidden_wh=20, places=3),
        "In 3 places, first at minute 12 from 518 Wh to 511 Wh, the counter fell, which is no reset: what was drawn up to "
        "those readings is not known. Correct them, or say on them that the counter was reset.",
    ),
    (
        remark("unit_guessed", column="power", unit="kW", other="W", read_wh=1180, other_wh=1.2),
        "No name tells the unit of “power”. It was read as kW, 1,180 Wh in the whole file; as W it would be 1.2 Wh. Say on "
        "this page that it is right, or take the file out and point at the unit.",
    ),
    (
        remark("counter_guessed", column="kWh", read_wh=200, other_wh=4100),
        "No name tells whether “kWh” is a counter. It was read as one, 200 Wh; as the energies of intervals it would be "
        "4,100 Wh. Say on this page that it is right, or take the file out and point at what it is.",
    ),
    (
        remark("intervals_guessed", column="kWh", read_wh=4100, other_wh=200),
        "No name tells whether “kWh” holds the energies of intervals. It was read so, 4,100 Wh; as a counter it would be "
        "200 Wh. Say on this page that it is right, or take the file out and point at what it is.",
    ),
    (
        remark("sent_out_used", column="Export kWh"),
        "The name of “Export kWh” says that its energy is sent out, not used. Say on this page that it was drawn, or take the "
        "file out and point at another column.",
    ),
    (
        remark("rows_dropped", rows=8, dropped_wh=200, read_wh=900),
        "8 rows of the file have the time of the row before, with 200 Wh in them that are not counted (900 Wh are). Say on "
        "this page that it is right, or take the file out.",
    ),
    (
        remark("charge_rose", rise_pct=3, until_s=900),
        "The charge rose by 3 % until minute 15 while cooking: something was charging the battery, so its fall says too little.",
    ),
    (
        remark("coarse_log", interval_s=60),
        "The element ticks on and off, but the log has a value only every 60 s: the energy may be far off. "
        "Log every 10 s or faster.",
    ),
    (
        remark("rare_watts", interval_s=300),
        "The watts were read only about every 5 min: the energy between them is a guess. Read the counter too.",
    ),
    (
        remark("counter_against_watts", counter_wh=213, watts_wh=260),
        "The counter says 213 Wh and the watts add up to 260 Wh: more apart than both can be off. One of them is wrong.",
    ),
    (
        remark("heat_above_energy", needed_wh=240, measured_wh=213),
        "Food and pot took about 240 Wh, more than the 213 Wh measured: wrong meter side or end temperature, or a missed stage.",
    ),
    (
        remark("more_heat_above_energy", needed_wh=240, measured_wh=213),
        "Food and pot took at least 240 Wh, more than the 213 Wh measured: wrong meter side or end temperature, "
        "or a missed stage.",
    ),
    (
        remark("hardly_lost", share_pct=93.9),
        "The heat that food and pot took is 94 % of the energy measured: doubtful, hardly any cooker is that good.",
    ),
    (
        remark("even_less_lost", share_pct=93.9),
        "The heat that food and pot took is at least 93 % of the energy measured: doubtful, hardly any cooker is that good.",
    ),
    (
        remark("cut_short", cooking_s=180, method_s=1800),
        "It cooked for 3 min, less than a third of the 30 min in the method: it does not count until you say why it should.",
    ),
    (
        remark("only_charge"),
        "Only the charge was read: give the battery’s capacity in watt-hours, and the energy can be worked out.",
    ),
    (
        remark("too_few_readings"),
        "Too little was read to work out the energy: it takes at least two readings of the counter, the watts or the charge.",
    ),
]

RUN_NOTES = [
    (remark("by_counter"), "Energy from the meter’s counter."),
    (remark("by_held_watts"), "Energy from the watts: each value held until the next."),
    (remark("by_sampled_watts"), "Energy from evenly sampled watts."),
    (remark("by_charge"), "Energy out of the battery, from the fall of its charge."),
    (remark("watts_agree", watts_wh=214), "The watts add up to 214 Wh: they agree with the counter."),
    (remark("no_stages"), "No stages are marked: all of the time counts as cooking."),
    (remark("reading_outside", energy_wh=14), "1 reading lies outside the stages; the 14 Wh it shows there do not count."),
    (
        remark("readings_outside", readings=2, energy_wh=14),
        "2 readings lie outside the stages; the 14 Wh they show there do not count.",
    ),
    (
        remark("much_lost", share_pct=42.3),
        "The heat that food and pot took is only 42 % of the energy measured: a slow or open pot, or did it vent?",
    ),
    (
        remark("paused", span_s=180),
        "Paused for 3 min: in the total time, but neither cooking nor at the pot. What was drawn meanwhile counts.",
    ),
    (remark("nothing_after", span_s=600), "In the 10 min that were read after the end nothing more was drawn."),
    (
        remark("drew_after", mean_w=12, energy_wh=2, span_s=600),
        "After the end it went on drawing 12 W: 2 Wh in 10 min. That is not counted.",
    ),
    (
        remark("device_counter_used", used_wh=214, other_wh=213),
        "The device’s counter is used: it climbed 214 Wh while the one typed in climbed 213 Wh (a cross-check).",
    ),
    (
        remark("typed_counter_used", used_wh=213, other_wh=214),
        "The counter as typed in is used: it climbed 213 Wh while the device’s climbed 214 Wh (a cross-check).",
    ),
    (
        remark("brought_to_socket", efficiency_pct=88, spread_pct=3.5, idle_w=9),
        "Measured at the battery; what reached the socket is worked out with an inverter of 88 %, give or take 3.5 %, "
        "and 9 W for itself.",
    ),
    (remark("left_out_by_cook"), "Left out by the cook."),
    (remark("too_little_read"), "Too little was read."),
    (remark("on_another_appliance", name="Big pot"), "Cooked on another appliance than Big pot."),
    (remark("for_other_servings", servings=3, figures=6), "Cooked for 3; the figures are for 6."),
]

NO_HEAT = [
    (remark("never_boils"), "No stage brings it to the boil, so there is no heat to compare the energy with."),
    (
        remark("more_than_heated"),
        "On its way to the boil it was held, baked or reduced, so that the heat alone does not say it.",
    ),
    (
        remark("less_than_needed", measured_wh=60, needed_wh=180),
        "60 Wh were measured up to the boil, and food and pot take 180 Wh: less than that cannot be, so a temperature, "
        "a weight or a reading is wrong.",
    ),
    (
        remark("most_went_elsewhere", measured_wh=600, needed_wh=180),
        "600 Wh were measured up to the boil, and food and pot take 180 Wh: most of the energy went elsewhere, "
        "so the heat of the food does not say what more of it takes.",
    ),
    (
        remark("dry_heat"),
        "Dry heat: the food gives off water and ends at no one temperature, so there is nothing to compare the energy with.",
    ),
    (
        remark("no_stage_boils"),
        "No stage comes up to the boil or holds it, so there is nothing to compare the energy with.",
    ),
    (
        remark("start_not_noted"),
        "Neither the food’s temperature at the start nor the air’s was noted, so the heat cannot be worked out.",
    ),
    (remark("starts_hot", start_c=99.6), "The food started at 100 °C, as hot as it gets here."),
    (remark("nothing_weighed"), "Of no line in the recipe is it known what it weighs and that it was in the pot."),
    (remark("the_ice"), "the ice"),
    (remark("melting_uncounted"), "It was below freezing at the start: what melting takes is not counted."),
    (remark("the_pot"), "the pot"),
    (remark("pot_not_noted"), "Its weight or its material is not noted with the appliance."),
    (remark("added_at_end"), "Added at the end."),
    (remark("kettle_boils_water"), "A kettle boils only the water."),
    (remark("to_taste"), "To taste: too little to matter."),
    (remark("optional"), "Optional: it may have been left out."),
    (remark("amount_unread"), "Its amount could not be read."),
    (remark("no_amount"), "It has no amount."),
    (remark("food_unknown"), "What it is made of is not known: choose its food, or add the food’s water."),
    (remark("perhaps_hot"), "It may have gone in hot, and the food’s temperature at the start was not noted."),
    (remark("goes_in_frozen"), "It goes in frozen: its ice takes heat of its own."),
    (remark("drained"), "What is left of a tin when it is drained is not known."),
    (
        remark("drained_in_part", counted_pct=60.0),
        "Drained, it is counted with 60 % of what the tin holds; it may be more.",
    ),
    (remark("named_after_boil"), "The method names it only after the boil."),
]

ESTIMATES = [
    (
        remark("published_before_balances"),
        "It was published before heat balances were kept; its next edition has one.",
    ),
    (
        remark("far_from_measured", servings=6),
        "Far from what was measured (6 servings): take this as a first guess, and measure.",
    ),
    (
        remark("ends_unknown"),
        "From what was measured it cannot be told where the energy went, so other amounts are in plain proportion.",
    ),
    (
        remark("holds_longer", altitude_m=2000),
        "At 2,000 m an open pot boils less hot and must be held longer than it was measured: meat in moist heat up to a fourth "
        "longer at 1,500 m (FSIS); for other food no figure is published. So it takes at least this much.",
    ),
    (
        remark("may_not_get_there", need_w=310, power_w=350, end_c=100),
        "It may not get there: 310 W may be needed to hold 100 °C, and the cooker has 350 W. If it does, it takes at least this "
        "much.",
    ),
    (
        remark("does_not_get_there", need_w=310, power_w=150, end_c=100),
        "This cooker does not get there: it takes 310 W or more to hold 100 °C, and it has 150 W. The heat of the food alone is "
        "this much.",
    ),
    (
        remark("heater_unknown"),
        "No come-up is marked, and the heater’s watts are not known: heating and holding cannot be told apart.",
    ),
]

PRICES = [
    (remark("tariff_ended", name="Club", on="2026-06-30"), "the tariff Club ended on 30 June 2026"),
    (remark("tariff_begins", name="Club", on="2026-07-01"), "the tariff Club begins on 1 July 2026"),
    (remark("charged_from", clock="22:00"), "charged from 22:00"),
    (remark("cooked_at", clock="18:05"), "cooked at 18:05"),
]

SOURCES = {
    *("watts_unread", "rating_unknown", "inverter_not_said", "above_rating", "above_surge", "only_by_surge", "near_rating"),
    *("runs", "above_plug_share", "rating_for_peak", "your_battery_assumed", "your_battery", "your_inverter"),
    *("beside_unknown", "both_run", "both_tight", "both_too_much", "start_other_later", "no_room_alone", "one_after_other"),
}
"""Codes whose sentences name a source, or stand beside those that do: ``test_answers`` pins them."""

PINNED = [*RUN_FLAGS, *RUN_NOTES, *NO_HEAT, *ESTIMATES, *PRICES]


@pytest.mark.parametrize(("said", "sentence"), PINNED, ids=[said.code for said, _ in PINNED])
def test_a_remark_has_its_sentence(said, sentence):
    assert words_of(said, ENGLISH).replace("\u00a0", " ") == sentence


def test_every_code_has_a_sentence_and_its_sentence_a_pin():
    pinned = {said.code for said, _ in PINNED}
    assert len(pinned) == len(PINNED)
    assert codes_of("energy", "remark") - pinned == SOURCES
    assert pinned | SOURCES <= set(SENTENCES)


def test_what_the_room_says_by_itself_has_its_sentence():
    said = codes_of("energy", "sentence", place=1) | codes_of("energy", "say")
    assert len(said) > 30
    assert said - set(SENTENCES) == set()


def asked_for() -> tuple[set[str], tuple[str, ...]]:
    """What stands as text in the app outside the tables, whole, and as the beginning of a text that is filled in."""
    whole, beginnings = set(), set()
    for path in python_files():
        if path.relative_to(TOP).parts[0] != "energy" or path.stem.startswith("english"):
            continue
        for node in ast.walk(parsed(path)):
            if isinstance(node, ast.JoinedStr):
                parts = [str(part.value) if isinstance(part, ast.Constant) else "" for part in node.values]
                beginnings.add(parts[0] or "".join(parts))
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                whole.add(node.value)
    return whole, tuple(one for one in beginnings if len(one) > 3)


def test_no_sentence_is_kept_that_nothing_asks_for():
    whole, beginnings = asked_for()
    assert [code for code in PAGES if code not in whole and not code.startswith(beginnings)] == []


@pytest.mark.parametrize("said", [Remark("spilt"), Remark("gap"), Remark("gap", {"span_s": "long", "from_s": 1.0})])
def test_what_a_newer_program_or_a_stranger_kept_is_named_and_breaks_nothing(said):
    assert words_of(said, ENGLISH) == f"This program has no words for “{said.code}”: update it to read this remark."


def test_a_sentence_that_was_kept_stays_as_it_was():
    assert words_of("The counter fell {once}.", ENGLISH) == "The counter fell {once}."


def test_no_two_tables_give_a_code_two_sentences():
    tables = [
        path for path in python_files() if path.is_relative_to(TOP / "energy" / "words") and path.stem.startswith("english")
    ]
    keys = [
        key.value
        for path in tables
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Dict)
        for key in node.keys
        if isinstance(key, ast.Constant)
    ]
    assert len(tables) > 1
    assert sorted(keys) == sorted(set(keys))
