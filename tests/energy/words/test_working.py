"""How an estimate was worked out, as a reader sees it."""

import math
from dataclasses import replace

from django.template.loader import render_to_string

from energy.estimates.domain.circumstances import Circumstances
from energy.estimates.domain.estimating import estimate
from energy.words import ENGLISH
from energy.words.working import boiling_words, working
from tests.energy.estimates.domain.test_estimating import balanced


def rows(servings=12, **other):
    return rows_of(balanced(), servings, **other)


def rows_of(cook, servings=12, **other):
    _, balance = estimate(cook, servings, other=Circumstances(**other))
    return {row.words: row for row in working(balance, ENGLISH).rows}, balance


def test_every_row_says_where_it_comes_from():
    told, _ = rows()
    assert {row.standing for row in told.values()} == {"measured", "assumed", "published"}
    assert all(row.source for row in told.values())
    assert told["Food in the pot"].now == "2 ×"
    assert list(told)[1:4] == ["Food at the start", "Air", "Hot at"]
    assert list(told)[4:6] == ["Heat the food takes", "Heat the pot takes"]
    assert told["Hot at"].source.replace("\u00a0", " ") == "water at 0 m (IAPWS-IF97, standard atmosphere)"
    assert told["Reaches the pot"].now.replace("\u00a0", " ") == "80 to 97 %"
    assert all("no words" not in words for row in told.values() for words in (row.words, row.source))


def test_the_range_is_told_part_by_part():
    _, balance = rows()
    told = working(balance, ENGLISH).range_rows
    assert "how much one cook differs from the next" in [words for words, _, _ in told]
    assert all(below.startswith("− ") and above.startswith("+ ") for _, below, above in told)
    assert all("no words" not in words for words, _, _ in told)


def test_the_ends_multiply_out_as_they_are_printed():
    for other in ({}, {"food_start_c": 4, "ambient_c": -5}, {"food_start_c": -12}):
        _, balance = rows(**other)
        ends = working(balance, ENGLISH).ends
        assert [end.words for end in ends] == ["Least reaches the pot", "Most reaches the pot"]  # nothing is left to steam
        for end in ends:
            taken, lost, steamed = (float(figure.replace("−", "-")) for figure in (end.taken, end.lost, end.steamed))
            reaches = float(end.reaches.removesuffix("\u00a0%")) / 100
            assert abs((taken + lost + steamed) / reaches - float(end.heating)) < 0.3
        energies = [float(end.heating) + float(end.holding) for end in ends]
        middle_wh = (min(energies) + max(energies)) / 2
        assert abs(middle_wh - balance.made.energy.middle) < 0.2


def test_without_an_upper_end_nothing_stands_above_and_nothing_would_narrow_it():
    assumed = balanced(assumed=("food_start", "air", "height"))
    _, balance = rows_of(assumed, food_start_c=4, ambient_c=-5, altitude_m=2000)
    assert (balance.gets_there, balance.whole) == (True, False)
    told = working(balance, ENGLISH)
    assert told.range_rows
    assert all(below.startswith("− ") and above == "–" for _, below, above in told.range_rows)
    assert len(told.assumed) == 3


def test_the_table_of_the_range_is_left_out_where_nothing_makes_it_up():
    _, balance = rows()
    told = working(balance, ENGLISH)
    caption = "What makes up the range"
    assert caption in render_to_string("energy/card_working.html", {"working": told})
    assert caption not in render_to_string("energy/card_working.html", {"working": replace(told, range_rows=())})


def test_an_end_that_never_gets_there_gives_its_name_to_no_other():
    _, balance = rows()
    never, *others = balance.made.ends
    made = replace(balance.made, ends=(replace(never, heat_s=math.inf, heat_wh=math.inf), *others))
    names = [end.words for end in working(replace(balance, made=made), ENGLISH).ends]
    assert names == ["Most reaches the pot"]


def test_what_nobody_noted_is_told():
    model = balanced(assumed=("food_start", "air", "gauge_pressure", "height"))
    _, balance = estimate(model, 12)
    told = working(balance, ENGLISH)
    assert len(told.assumed) == 4
    _, colder = rows_of(model, food_start_c=4, ambient_c=-5)
    assert working(colder, ENGLISH).assumed[-1].startswith("Noting the food’s temperature at the start at the next cook would")
    assert "12 ± 6 °C" in told.assumed[0]
    assert {row.standing for row in told.rows if row.words in ("Air", "Food at the start")} == {"assumed"}


def test_figures_that_did_not_keep_what_was_assumed_say_so():
    _, balance = rows_of(balanced(phi=1.2, pressure_kpa=70, end_c=115.4), 12)
    told = working(balance, ENGLISH)
    for what in ("the air’s temperature", "the height above the sea", "the pressure"):
        assert f"Whether {what} was noted was not kept with these figures, so the range allows for both." in told.assumed
    air = next(row for row in told.rows if row.words == "Air")
    assert (air.standing, air.source) == ("assumed", "noted by the cook or as usual, which was not kept; or yours")


def test_only_another_height_speaks_of_boiling():
    assert (
        boiling_words(rows(altitude_m=2000)[1], ENGLISH).replace("\u00a0", " ")
        == "At 2,000 m it boils at 93 °C instead of 100 °C."
    )
    assert boiling_words(rows(ambient_c=0)[1], ENGLISH) == ""


def test_the_heat_of_a_pot_that_nobody_weighed_is_not_nothing():
    cook = balanced()
    told, _ = rows_of(replace(cook, heat=replace(cook.heat, vessel_j_per_k=0.0)))
    pot = told["Heat the pot takes"]
    assert (pot.then, pot.now) == ("–", "–")
    assert pot.source == "its weight or material is not noted, so it is not counted and the range is wider"
