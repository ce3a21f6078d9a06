"""The food-energy estimate: what is counted, what is named, and what is never taken for zero."""

from fractions import Fraction

import pytest

from kitchen.domain.facts import FoodFacts, LineFacts
from kitchen.domain.nutrition import Composition, estimate
from kitchen.domain.remark import remark
from kitchen.reference import load_reference

OATS = FoodFacts("rolled oats", g_per_ml=0.4)
SALT = FoodFacts("salt", aisle="spices", g_per_ml=1.2)
PEPPER = FoodFacts("black pepper", aisle="spices")
LEMON = FoodFacts("lemon", g_per_each=84.0)
APPLE = FoodFacts("apple", g_per_each=182.0)
OIL = FoodFacts("rapeseed oil", g_per_ml=0.92)
HELD = {
    "rolled oats": Composition(400, 10, 8, 70, 10, 4, 1, 2),
    "salt": Composition(0, 0, 0, 0, 0, 40000, 0, 0),
    "black pepper": Composition(250, 10, 3, 64, 25, 20, 1, 1),
    "lemon": Composition(30, 1, 0, 9, 3, 2, 0, 2),
    "apple": Composition(52, 0, 0, 14, 2, 1, 0, 10),
    "rapeseed oil": Composition(900, 0, 100, 0, 0, 0, 7, 0),
}


def line(food, amount=None, unit="g", **more):
    exact = None if amount is None else Fraction(amount)
    name = more.pop("name", food.name)
    return LineFacts(f"{name}", low=exact, high=more.pop("high", exact), unit=unit, name=name, food=food, **more)


def told(*lines, servings=1):
    return estimate([(entry, HELD.get(entry.food.name) if entry.food else None) for entry in lines], servings, load_reference())


def test_a_serving_is_a_share_of_the_whole():
    facts = told(line(OATS, 200), line(SALT, 5), servings=4)
    assert (facts.energy_kcal, facts.protein_g, facts.fat_g) == (200, 5, 4)
    assert (facts.carbohydrate_g, facts.fibre_g) == (30, 5)
    assert facts.salt_g == pytest.approx((200 * 0.04 + 5 * 400) / 1000 * 2.5 / 4)
    assert (facts.missing, facts.left_out, facts.at_least, facts.counted) == ((), (), (), 2)


def test_a_range_counts_with_its_middle():
    assert told(line(OATS, 100, high=Fraction(200))).energy_kcal == 600


def test_spoons_and_pieces_go_through_the_food_s_own_weights():
    assert told(line(OATS, 250, "mL")).energy_kcal == 400
    assert told(line(LEMON, 2, "")).energy_kcal == pytest.approx(2 * 84 * 0.3)


@pytest.mark.parametrize(
    ("entry", "why"),
    [
        (line(OATS, None, ""), remark("amount_missing", name="rolled oats")),
        (line(OATS, 1, "bunch"), remark("weight_unknown", name="rolled oats")),
        (line(FoodFacts("star loaf"), 100, name="my loaf"), remark("holding_unknown", name="my loaf", food="star loaf")),
        (line(APPLE, 1, "", note="juice"), remark("eaten_share_unknown", name="apple")),
        (line(OIL, 1, "L", note="for deep-frying"), remark("uptake_unknown", name="rapeseed oil")),
        (LineFacts("a cloud", name="cloud"), remark("not_linked", name="cloud")),
    ],
)
def test_what_cannot_be_counted_is_named(entry, why):
    facts = told(line(OATS, 100), entry)
    assert facts.missing == (why,)
    assert (facts.energy_kcal, facts.counted) == (400, 1)


@pytest.mark.parametrize("note", ["juice", "juiced", "zest and juice", "juice and grated zest"])
def test_the_juice_of_a_lemon_is_what_a_lemon_yields(note):
    """USDA SR28, 9152: a lemon yields 48 g of juice, 22 kcal for 100 g."""
    facts = told(line(LEMON, 2, "", note=note))
    assert (facts.energy_kcal, facts.missing) == (pytest.approx(96 * 0.22), ())
    assert facts.left_out == ((remark("zest_beside_juice", name="lemon"),) if "zest" in note else ())


def test_zest_alone_is_left_out_and_a_whole_lemon_counts_whole():
    assert told(line(LEMON, 1, "", note="zest")).left_out == (remark("left_out_zest", name="lemon"),)
    assert told(line(LEMON, 1, "", note="sliced")).energy_kcal == pytest.approx(84 * 0.3)


def test_greasing_that_the_cook_made_part_of_the_food_counts():
    assert told(line(OIL, 10, note="for greasing", rule="proportional")).energy_kcal == 90


def test_a_pinch_to_taste_is_left_out_and_only_salt_becomes_at_least():
    facts = told(line(OATS, 100), line(SALT, to_taste=True, unit=""), line(PEPPER, to_taste=True, unit=""))
    assert facts.left_out == tuple(remark("left_out_to_taste", name=name) for name in ("salt", "black pepper"))
    assert facts.at_least == ("salt_g",)


def test_pepper_to_taste_leaves_the_salt_as_it_is():
    assert told(line(OATS, 100), line(PEPPER, to_taste=True, unit="")).at_least == ()


def test_a_sprig_that_nobody_weighs_is_left_out():
    thyme = FoodFacts("black pepper", aisle="fresh herbs")
    assert told(line(thyme, 4, "sprig", rule="seasoning")).left_out == (remark("left_out_little", name="black pepper"),)


def test_measured_seasoning_counts():
    assert told(line(SALT, 5)).salt_g == pytest.approx(5)


def test_what_greases_the_pan_is_left_out_even_where_it_is_measured():
    facts = told(line(OATS, 100), line(OIL, 1, "tbsp", note="for greasing", rule="fixed"))
    assert (facts.left_out, facts.missing, facts.energy_kcal) == ((remark("for_greasing", name="rapeseed oil"),), (), 400)


def test_a_fixed_line_that_is_eaten_counts():
    assert told(line(OIL, 10, rule="fixed")).energy_kcal == 90


def test_oil_for_frying_in_a_pan_counts():
    assert told(line(OIL, 10, note="for frying")).energy_kcal == 90


def test_the_salt_of_the_pasta_water_goes_away_with_it():
    facts = told(line(OATS, 100), line(SALT, 20, note="for the pasta water"))
    assert facts.left_out == (remark("with_its_water", name="salt"),)
    assert (facts.at_least, facts.salt_g) == (("salt_g",), pytest.approx(0.01))


def test_an_optional_line_is_left_out():
    facts = told(line(OATS, 100), line(OIL, 10, optional=True))
    assert (facts.left_out, facts.energy_kcal) == ((remark("left_out_optional", name="rapeseed oil"),), 400)


def test_a_nutrient_that_the_table_does_not_tell_is_at_least():
    facts = estimate([(line(OATS, 100), Composition(400, 10, 8, 70, None, 4, None, None))], 1, ())
    assert facts.at_least == ("fibre_g", "saturated_fat_g", "sugars_g")
    assert facts.remarks == (remark("fibre_in_carbohydrate", foods="rolled oats"),)


def test_no_carbohydrate_means_no_sugars_and_no_fibre():
    assert estimate([(line(OIL, 10), Composition(900, 0, 100, 0, None, 0, 7, None))], 1, ()).at_least == ()


def test_a_drained_pack_is_counted_whole_and_says_so():
    beans = FoodFacts("tinned beans")
    entry = line(beans, 1, "can", size="400 g", note="drained")
    other = line(FoodFacts("tinned peas"), 1, "can", size="400 g", note="drained")
    said = estimate([(one, HELD["rolled oats"]) for one in (entry, other, entry)], 1, ()).remarks
    assert said == (remark("liquid_in_pack", foods="tinned beans, tinned peas"),)


def test_what_is_said_twice_is_said_once():
    cloud = LineFacts("a cloud", name="cloud")
    assert told(cloud, cloud).missing == (remark("not_linked", name="cloud"),)


def test_nothing_counted_makes_no_estimate():
    assert told(LineFacts("a cloud", name="cloud")).counted == 0
