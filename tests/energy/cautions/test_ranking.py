"""Which cautions are shown, in which order, and beside what was published."""

from __future__ import annotations

from energy.cautions.entries import list_number
from energy.cautions.ranking import (
    ClassedLine,
    Situation,
    choose,
    choose_beside,
    food_keys,
    limit_words,
    topics_of_appliance,
    topics_of_sources,
)

BEANS = ClassedLine("200 g kidney beans", frozenset({"toxin", "dried_pulse"}))
OATS = ClassedLine("100 g rolled oats", frozenset({"grain", "blocks"}))
CHICKEN = ClassedLine("4 chicken thighs", frozenset({"poultry"}))


def keys(situation):
    return [one.entry.key for one in choose(situation)]


def test_the_worst_harm_stands_first():
    cooker, source = topics_of_appliance("pressure_cooker"), topics_of_sources(["battery_station"])
    found = keys(Situation((BEANS, CHICKEN), cooker, source))
    assert found[:3] == ["bean_toxin", "poultry_core", "lid_never_forced"]
    assert found[-1] == "manual_first"


def test_frost_height_and_a_group_bring_or_raise_theirs():
    battery = Situation(sources=topics_of_sources(["battery_station"]))
    assert keys(battery)[0] == "no_charging_in_frost"
    frost = Situation((CHICKEN,), topics_of_appliance("pressure_cooker"), battery.sources, around=frozenset({"frost"}))
    assert keys(frost).index("no_charging_in_frost") < 3
    high = Situation((BEANS,), topics_of_appliance("slow_cooker"), around=frozenset({"high"}))
    assert {"bean_toxin_high", "slow_high", "boils_cooler", "bean_toxin_slow"} <= set(keys(high))
    assert "boils_cooler" not in keys(Situation((BEANS,)))
    many, few = (keys(Situation((CHICKEN,), around=frozenset(around))) for around in ({"group"}, ()))
    assert many.index("out_of_the_cold") < few.index("out_of_the_cold")


def test_foaming_food_matters_under_pressure_only():
    assert "foam_blocks_the_valve" in keys(Situation((OATS,), topics_of_appliance("pressure_cooker")))
    assert "foam_blocks_the_valve" not in keys(Situation((OATS,), topics_of_appliance("induction_plate")))


def test_each_source_has_its_own():
    hook_up, mains, vehicle = (
        keys(Situation(sources=topics_of_sources([kind]))) for kind in ("hook_up", "mains", "vehicle_inverter")
    )
    assert {"lead_uncoiled", "residual_current", "few_amps", "no_fuel_inside"} <= set(hook_up)
    assert "residual_current" in mains
    assert "lead_uncoiled" not in mains
    assert {"engine_outdoors", "cables_and_fuse", "no_cooker_on_a_lighter_socket", "no_charging_in_frost"} <= set(vehicle)


def test_another_source_is_told_aside():
    found = {one.entry.key: one for one in choose(Situation(other_sources=topics_of_sources(["hook_up"])))}
    assert found["lead_uncoiled"].elsewhere
    assert not found["manual_first"].elsewhere


def test_an_answered_caution_goes_to_the_end_and_never_away():
    answered = ClassedLine(BEANS.words, BEANS.classes, "tinned")
    last = choose(Situation((answered,)))[-1]
    assert (last.entry.key, last.lines, last.answered) == ("bean_toxin", (), (answered,))
    both = choose(Situation((answered, ClassedLine("100 g rajma", frozenset({"toxin"})))))[0]
    assert [line.words for line in both.lines] == ["100 g rajma"]
    assert both.answered == (answered,)


def test_an_old_edition_shows_its_own_and_todays_beside():
    found = choose_beside(Situation((BEANS, CHICKEN)), number=1, keys=["poultry", "two_hours"])
    shown = {one.entry.key: one.newer for one in found}
    assert shown["poultry"] is False
    assert "poultry_core" not in shown, "it says no more than the one it replaces"
    assert shown["bean_toxin"] is True
    assert found[0].entry.key == "bean_toxin"
    with_beans = {one.entry.key: one.newer for one in choose_beside(Situation((BEANS,)), number=1, keys=["kidney_beans"])}
    assert with_beans["kidney_beans"] is False
    assert with_beans["bean_toxin"] is True, "it says more than the old one"


def test_an_edition_of_todays_list_has_nothing_newer():
    lines = (BEANS, CHICKEN, OATS)
    situation = Situation(lines, topics_of_appliance("pressure_cooker"), topics_of_sources(["battery_station"]))
    found = choose_beside(situation, number=list_number(), keys=food_keys(lines))
    assert found == choose(situation)
    assert not any(one.newer for one in found)


def test_what_a_later_program_finds_is_newer():
    found = choose_beside(Situation((BEANS, CHICKEN)), number=list_number(), keys=food_keys([CHICKEN]))
    assert {one.entry.key for one in found if one.newer} == {"bean_toxin"}


def test_what_was_published_stays_though_no_line_calls_for_it_now():
    found = choose_beside(Situation(), number=list_number(), keys=["fish_core"])
    assert ("fish_core", False) in [(one.entry.key, one.newer) for one in found]


def test_limits_read_in_words():
    assert (limit_words(50), limit_words(67), limit_words(72.5)) == ("half", "two thirds", "72.5\u00a0%")
