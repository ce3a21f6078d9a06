"""The food-energy estimate: what is counted, what is named, and what is never taken for zero."""

from fractions import Fraction

import pytest

from kitchen.domain.facts import FoodFacts, LineFacts, NutritionFacts
from kitchen.domain.nutrition import Composition, estimate
from kitchen.domain.nutrition_plate import plate, shown

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
    return estimate([(entry, HELD.get(entry.food.name) if entry.food else None) for entry in lines], servings)


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
        (line(OATS, None, ""), "rolled oats: no amount"),
        (line(OATS, 1, "bunch"), "rolled oats: its weight is not known"),
        (line(FoodFacts("star loaf"), 100), "star loaf: what star loaf holds is not known"),
        (line(APPLE, 1, "", note="juice"), "apple: how much of it is eaten is not known"),
        (line(OIL, 1, "L", note="for deep-frying"), "rapeseed oil: how much of it the food takes up is not known"),
        (LineFacts("a cloud", name="cloud"), "cloud: not linked to a food"),
    ],
)
def test_what_cannot_be_counted_is_named_and_makes_every_figure_at_least(entry, why):
    facts = told(line(OATS, 100), entry)
    assert facts.missing == (why,)
    assert (facts.energy_kcal, facts.counted) == (400, 1)
    assert all(row.each.startswith("at least ") for row in plate(facts).rows)
    assert not plate(facts).whole


@pytest.mark.parametrize("note", ["juice", "juiced", "zest and juice", "juice and grated zest"])
def test_the_juice_of_a_lemon_is_what_a_lemon_yields(note):
    """USDA SR28, 9152: a lemon yields 48 g of juice, 22 kcal for 100 g."""
    facts = told(line(LEMON, 2, "", note=note))
    assert (facts.energy_kcal, facts.missing) == (pytest.approx(96 * 0.22), ())
    assert facts.left_out == (("zest of the lemon (a little, not weighed)",) if "zest" in note else ())


def test_zest_alone_is_left_out_and_a_whole_lemon_counts_whole():
    assert told(line(LEMON, 1, "", note="zest")).left_out == ("lemon (zest: a little, not weighed)",)
    assert told(line(LEMON, 1, "", note="sliced")).energy_kcal == pytest.approx(84 * 0.3)


def test_greasing_that_the_cook_made_part_of_the_food_counts():
    assert told(line(OIL, 10, note="for greasing", rule="proportional")).energy_kcal == 90


def test_a_pinch_to_taste_is_left_out_and_only_salt_becomes_at_least():
    facts = told(line(OATS, 100), line(SALT, to_taste=True, unit=""), line(PEPPER, to_taste=True, unit=""))
    assert facts.left_out == ("salt (to taste)", "black pepper (to taste)")
    assert facts.at_least == ("salt_g",)
    rows = {row.label: row.each for row in plate(facts).rows}
    assert (rows["Energy"], rows["Salt"]) == ("400 kcal (1674 kJ)", "at least 0.01 g")
    assert plate(facts).whole


def test_pepper_to_taste_leaves_the_salt_as_it_is():
    assert told(line(OATS, 100), line(PEPPER, to_taste=True, unit="")).at_least == ()


def test_a_sprig_that_nobody_weighs_is_left_out():
    thyme = FoodFacts("black pepper", aisle="fresh herbs")
    assert told(line(thyme, 4, "sprig", rule="seasoning")).left_out == ("black pepper (a little, not weighed)",)


def test_measured_seasoning_counts():
    assert told(line(SALT, 5)).salt_g == pytest.approx(5)


def test_what_greases_the_pan_is_left_out_even_where_it_is_measured():
    facts = told(line(OATS, 100), line(OIL, 1, "tbsp", note="for greasing", rule="fixed"))
    assert (facts.left_out, facts.missing, facts.energy_kcal) == (("rapeseed oil (for greasing)",), (), 400)


def test_a_fixed_line_that_is_eaten_counts():
    assert told(line(OIL, 10, rule="fixed")).energy_kcal == 90


def test_oil_for_frying_in_a_pan_counts():
    assert told(line(OIL, 10, note="for frying")).energy_kcal == 90


def test_the_salt_of_the_pasta_water_goes_away_with_it():
    facts = told(line(OATS, 100), line(SALT, 20, note="for the pasta water"))
    assert facts.left_out == ("salt (goes away with its water)",)
    assert (facts.at_least, facts.salt_g) == (("salt_g",), pytest.approx(0.01))


def test_an_optional_line_is_left_out():
    facts = told(line(OATS, 100), line(OIL, 10, optional=True))
    assert (facts.left_out, facts.energy_kcal) == (("rapeseed oil (optional)",), 400)


def test_a_nutrient_that_the_table_does_not_tell_is_at_least():
    facts = estimate([(line(OATS, 100), Composition(400, 10, 8, 70, None, 4, None, None))], 1)
    assert facts.at_least == ("fibre_g", "saturated_fat_g", "sugars_g")
    assert facts.remarks == ("Carbohydrate still holds the fibre of rolled oats, which is not known.",)


def test_no_carbohydrate_means_no_sugars_and_no_fibre():
    assert estimate([(line(OIL, 10), Composition(900, 0, 100, 0, None, 0, 7, None))], 1).at_least == ()


def test_a_drained_pack_is_counted_whole_and_says_so():
    beans = FoodFacts("tinned beans")
    entry = line(beans, 1, "can", size="400 g", note="drained")
    assert estimate([(entry, HELD["rolled oats"])], 1).remarks == ("Counted with the liquid in the pack: tinned beans.",)


def test_nothing_counted_makes_no_estimate():
    facts = told(LineFacts("a cloud", name="cloud"))
    assert (facts.counted, plate(facts).whole) == (0, False)


FACTS = NutritionFacts(400, 10, 20, 40, 8, 1.2, 3, 5, counted=3)


def test_the_portion_scales_the_serving_and_leaves_100_g_alone():
    small, large = plate(FACTS, Fraction(1), 500), plate(FACTS, Fraction(3, 2), 500)
    assert [row.of_100_g for row in small.rows] == [row.of_100_g for row in large.rows]
    assert (small.rows[0].each, large.rows[0].each) == ("400 kcal (1674 kJ)", "600 kcal (2510 kJ)")
    assert (small.serving_g, large.serving_g, small.rows[0].of_100_g) == (500, 750, "80 kcal (335 kJ)")


def test_100_g_is_told_only_where_the_weight_of_a_serving_is():
    assert {row.of_100_g for row in plate(FACTS).rows} == {""}


def test_one_line_for_paper_says_at_least_once():
    incomplete = NutritionFacts(400, 10, 20, 40, 8, 0.004, missing=("cloud: not linked to a food",), counted=3)
    assert plate(incomplete).line.count("at least") == 1
    assert plate(NutritionFacts(400, 10, 20, 40, 8, 1.2, at_least=("salt_g",), counted=3)).line.endswith("salt at least 1.2 g")


@pytest.mark.parametrize(
    ("name", "value", "text"),
    [
        ("protein_g", 10.49, "10 g"),
        ("protein_g", 9.94, "9.9 g"),
        ("protein_g", 9.95, "10 g"),
        ("protein_g", 0.51, "0.5 g"),
        ("protein_g", 0.5, "under 0.5 g"),
        ("saturated_fat_g", 0.1, "under 0.1 g"),
        ("saturated_fat_g", 0.44, "0.4 g"),
        ("salt_g", 0.0126, "0.01 g"),
        ("salt_g", 0.994, "0.99 g"),
        ("salt_g", 2.25, "2.3 g"),
        ("salt_g", 0.0, "0 g"),
    ],
)
def test_rounding(name, value, text):
    assert shown(name, value) == text


def test_at_least_is_never_under():
    assert shown("fat_g", 0.3, low=True) == "0.3 g"
