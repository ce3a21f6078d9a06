"""What matters for the energy since a revision was cooked."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from kitchen.domain.facts import FoodFacts, LineFacts, PartFacts, RecipeFacts, StepFacts
from kitchen.domain.remark import remark
from kitchen.domain.since_cooked import since_cooked

WATER = FoodFacts("water", g_per_ml=1.0)


def line(amount, unit, name, **more):
    return LineFacts(f"{amount} {unit} {name}", Fraction(amount), Fraction(amount), unit, name, **more)


def pot(*lines, steps=(), servings=4):
    return RecipeFacts("pot", "Pot", "", servings, 1, parts=(PartFacts("", lines),), steps=tuple(steps))


LENTILS = line(300, "g", "lentils")
STOCK = line(500, "mL", "vegetable stock")


def test_a_stronger_pot():
    hold = StepFacts("Hold it.", "hold", Decimal(20))
    reduce = StepFacts("Let it simmer.", "reduce", Decimal(10))
    found = since_cooked(
        pot(LENTILS, STOCK, steps=[hold]),
        pot(line(450, "g", "lentils"), line(800, "mL", "vegetable stock"), steps=[hold, reduce]),
    )
    liquid = remark("liquid", before_ml=500, after_ml=800)
    assert found.said == (remark("more_food", by_g=150), liquid, remark("stage_added", stage="reduce"))
    assert found.meaning == remark("figures_low")


def test_less_of_it_and_both_ways():
    less = since_cooked(pot(LENTILS, STOCK), pot(line(200, "g", "lentils"), STOCK))
    assert (less.said, less.meaning) == ((remark("less_food", by_g=100),), remark("figures_high"))
    both = since_cooked(pot(LENTILS, STOCK), pot(line(200, "g", "lentils"), line(1, "L", "vegetable stock")))
    assert both.meaning == remark("figures_off")


def test_within_two_percent_nothing_is_said():
    assert not since_cooked(pot(LENTILS, STOCK), pot(line(305, "g", "lentils"), line(509, "mL", "vegetable stock"))).differs
    assert since_cooked(pot(LENTILS), pot(line(307, "g", "lentils"))).differs


def test_other_words_are_no_other_food():
    chopped = replace(LENTILS, text="300 g lentils, rinsed well", note="rinsed well")
    assert not since_cooked(
        pot(LENTILS, steps=[StepFacts("Stir.", "hold")]), pot(chopped, steps=[StepFacts("Mix.", "hold")])
    ).differs


def test_the_same_food_for_more_people_is_the_same_recipe():
    assert not since_cooked(
        pot(LENTILS, STOCK), pot(line(450, "g", "lentils"), line(750, "mL", "vegetable stock"), servings=6)
    ).differs
    found = since_cooked(pot(LENTILS), pot(LENTILS, servings=6))
    assert found.said == (remark("less_food", by_g=150),)


def test_what_is_for_one_pan_does_not_grow_with_the_servings():
    oil = line(20, "g", "oil", rule="fixed")
    assert not since_cooked(pot(LENTILS, oil), pot(line(600, "g", "lentils"), oil, servings=8)).differs


def test_a_liquid_by_weight_and_one_by_volume_are_one_liquid():
    weighed = line(500, "g", "water", food=WATER)
    assert not since_cooked(pot(weighed), pot(line(500, "mL", "water", food=WATER))).differs


def test_oil_is_no_liquid_to_cook_in():
    oil = line(100, "g", "olive oil")
    assert since_cooked(pot(LENTILS), pot(LENTILS, oil)).said == (remark("more_food", by_g=100),)


def test_what_cannot_be_weighed_is_named_only_where_it_changed():
    bag = line(1, "bag", "spinach")
    assert not since_cooked(pot(LENTILS, bag), pot(LENTILS, bag)).differs
    found = since_cooked(pot(LENTILS, bag), pot(LENTILS, line(2, "bag", "spinach")))
    assert (found.said, found.unweighed, found.meaning) == ((), ("spinach",), remark("figures_off"))
    few = LineFacts("a few lentils", name="lentils")
    assert since_cooked(pot(LENTILS, STOCK), pot(few, STOCK)).said == ()
    assert since_cooked(pot(LENTILS, STOCK), pot(few, STOCK)).unweighed == ("lentils",)
    assert not since_cooked(pot(LENTILS), pot(LENTILS, LineFacts("salt", name="salt", to_taste=True))).differs


def test_stages_are_compared_by_kind_minutes_and_heat():
    bake = StepFacts("Bake.", "bake", Decimal(30), Decimal(180))
    hotter = replace(bake, minutes=Decimal(25), temp_c=Decimal(200))
    found = since_cooked(pot(steps=[bake]), pot(steps=[hotter]))
    assert found.said == (
        remark("stage_minutes", stage="bake", before=30, after=25),
        remark("stage_temp", stage="bake", before=180, after=200),
    )
    assert found.meaning == remark("figures_off")
    halves = [replace(bake, minutes=Decimal(10)), replace(bake, minutes=Decimal(20))]
    assert not since_cooked(pot(steps=[bake]), pot(steps=halves)).differs
    assert since_cooked(pot(steps=[bake, StepFacts("Rest.", "rest", Decimal(5))]), pot(steps=[bake])).said == (
        remark("stage_left_out", stage="rest"),
    )
    unknown = replace(bake, minutes=None)
    assert not since_cooked(pot(steps=[bake]), pot(steps=[unknown])).differs
