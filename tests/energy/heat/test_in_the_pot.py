"""Which lines take part in a heat balance."""

from fractions import Fraction

import pytest

from energy.heat.in_the_pot import sort_lines
from energy.heat.specific_heat import Composition
from kitchen.domain.facts import FoodFacts, StepFacts
from kitchen.domain.remark import remark
from tests.energy.heat.pots import LENTILS, METHOD, WATER, line, stock

ONE = Fraction(1)


def sort(*lines, steps=METHOD, k=ONE, **more):
    return sort_lines(lines, steps, k, **more)


def left_of(*lines, **more):
    taken, left = sort(*lines, **more)
    assert taken == []
    assert len(left) == 1
    return left[0]


def test_masses_follow_the_servings_but_not_what_stays_the_same():
    taken, left = sort(line("300 g lentils", 300, LENTILS), line("10 g oil", 10, rule="fixed"), k=Fraction(3, 2))
    assert [(food.name, food.mass_g) for food in taken] == [("lentils", 450), ("oil", 10)]
    assert left == []


@pytest.mark.parametrize(
    "given",
    [
        line("20 g coriander", 20, part="To finish"),
        line("20 g coriander", 20, part="For serving"),
        line("20 g coriander", 20, part="Topping"),
        line("20 g coriander, to serve", 20, note="to serve"),
        line("20 g coriander, at the table", 20, note="at the table"),
    ],
)
def test_what_is_added_at_the_end_takes_no_part_for_sure(given):
    left = left_of(given)
    assert left.why == remark("added_at_end")
    assert not left.unsure


def test_other_parts_take_part():
    taken, _ = sort(line("20 g onion", 20, part="For the base"), line("20 g leek", 20, part="Above"))
    assert len(taken) == 2


def test_to_taste_is_too_little_to_matter():
    left = left_of(line("pepper, to taste", to_taste=True))
    assert not left.unsure


@pytest.mark.parametrize(
    ("given", "why"),
    [
        (line("2 kg tofu", 2000, None), "food_unknown"),
        (line("some water"), "no_amount"),
        (line("3 lots of water"), "amount_unread"),
        (line("2 onions", 2, unit=""), "line_not_linked"),
        (line("2 onions", 2, unit="", food=FoodFacts("onion")), "one_not_weighed"),
        (line("300 g squash", 300, optional=True), "optional"),
        (line("300 g frozen peas", 300), "goes_in_frozen"),
        (line("250 g noodles", 250, LENTILS), "named_after_boil"),
    ],
)
def test_what_may_have_taken_heat_is_listed_with_its_reason(given, why):
    late = (*METHOD, StepFacts("Noodles in.", "hold"))
    left = left_of(given, steps=late)
    assert left.why.code == why
    assert left.unsure


def test_a_food_of_the_early_steps_is_there_although_a_later_one_names_it_again():
    taken, _ = sort(line("300 g lentils", 300, LENTILS), steps=(*METHOD, StepFacts("Taste a lentil.", "rest")))
    assert len(taken) == 1


def test_everything_at_the_start_names_all():
    steps = (StepFacts("Everything into the pot.", "come_up"), StepFacts("Stir the barley.", "hold"))
    assert len(sort(line("200 g barley", 200, LENTILS), steps=steps)[0]) == 1


def test_a_method_without_stages_names_nothing_late():
    assert len(sort(line("200 g barley", 200, LENTILS), steps=(StepFacts("Cook."), StepFacts("Stir the barley.")))[0]) == 1


def test_what_boils_is_there_from_the_start():
    assert len(sort(line("1 kg water", 1000), steps=(StepFacts("Boil.", "come_up"), StepFacts("A splash of water.")))[0]) == 1


def test_a_kettle_boils_only_water():
    taken, left = sort(line("1 kg water", 1000), line("60 g cocoa", 60, LENTILS), kettle=True)
    assert [food.name for food in taken] == ["water"]
    assert [(one.name, one.unsure) for one in left] == [("cocoa", False)]
    assert left_of(line("60 g cocoa", 60, None), kettle=True).unsure, "who knows what it is"


def test_hot_stock_counts_only_when_the_start_was_noted():
    assert left_of(stock("1 kg hot stock"), start_noted=False).unsure
    assert len(sort(stock("1 kg hot stock"))[0]) == 1
    assert len(sort(stock(), start_noted=False)[0]) == 1
    pepper = line("10 g hot pepper", 10, food=FoodFacts("chilli"))
    assert len(sort(pepper, start_noted=False)[0]) == 1, "hot is not heated"


def test_the_pot_food_keeps_its_composition():
    assert sort(line("300 g water", 300))[0][0].composition == WATER
    assert sort(line("300 g rice", 300, Composition(12)))[0][0].composition == Composition(12)


def test_a_drained_tin_counts_with_what_is_surely_left_of_it():
    taken, left = sort(line("1 can lentils, drained", 1, LENTILS, unit="can", size="400 g"))
    assert [food.mass_g for food in taken] == [240]
    assert [(one.why, one.unsure) for one in left] == [(remark("drained_in_part", counted_pct=60.0), True)]


def test_what_was_soaked_brings_its_water():
    dry = Composition(10, protein=24, carbohydrate=60, ash=3)
    taken, left = sort(line("200 g beans, soaked overnight", 200, dry))
    assert [(food.mass_g, food.composition.water) for food in taken] == [(200, 10), (pytest.approx(220), 100)]
    assert left == []
    assert len(sort(line("200 g beans", 200, dry))[0]) == 1
    assert len(sort(line("200 g rice noodles, soaked", 200, WATER))[0]) == 1, "it is wet already"
