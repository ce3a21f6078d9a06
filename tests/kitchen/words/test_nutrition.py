"""The food-energy estimate as a reader sees it."""

from dataclasses import replace
from fractions import Fraction

from kitchen.domain.facts import NutritionFacts
from kitchen.domain.remark import remark
from kitchen.words import ENGLISH
from kitchen.words.nutrition import figure_words, nutrition_plate

FACTS = NutritionFacts(400, 10, 20, 40, 8, 1.2, 3, 5, counted=3)


def test_the_portion_scales_the_serving_and_leaves_100_g_alone():
    small, large = nutrition_plate(FACTS, ENGLISH, Fraction(1), 500), nutrition_plate(FACTS, ENGLISH, Fraction(3, 2), 500)
    assert [row.of_100_g for row in small.rows] == [row.of_100_g for row in large.rows]
    assert (small.rows[0].each, large.rows[0].each) == ("400 kcal (1674 kJ)", "600 kcal (2510 kJ)")
    assert (small.serving_g, large.serving_g, small.rows[0].of_100_g) == (500, 750, "80 kcal (335 kJ)")


def test_100_g_is_told_only_where_the_weight_of_a_serving_is():
    assert {row.of_100_g for row in nutrition_plate(FACTS, ENGLISH).rows} == {""}


def test_one_line_for_paper_says_at_least_once():
    incomplete = NutritionFacts(400, 10, 20, 40, 8, 0.004, missing=(remark("not_linked", name="cloud"),), counted=3)
    assert nutrition_plate(incomplete, ENGLISH).line.count("at least") == 1
    salty = NutritionFacts(400, 10, 20, 40, 8, 1.2, at_least=("salt_g",), counted=3)
    assert nutrition_plate(salty, ENGLISH).line.endswith("salt at least 1.2 g")


def test_what_is_missing_makes_every_figure_at_least():
    told = nutrition_plate(replace(FACTS, missing=(remark("not_linked", name="cloud"),)), ENGLISH)
    assert all(row.each.startswith("at least ") for row in told.rows)
    assert (told.missing, told.whole) == (("cloud: not linked to a food",), False)


def test_salt_alone_can_be_at_least():
    told = nutrition_plate(replace(FACTS, salt_g=0.01, at_least=("salt_g",)), ENGLISH)
    rows = {row.label: row.each for row in told.rows}
    assert (rows["Energy"], rows["Salt"], told.whole) == ("400 kcal (1674 kJ)", "at least 0.01 g", True)


def test_nothing_counted_makes_no_estimate():
    assert not nutrition_plate(replace(FACTS, counted=0), ENGLISH).whole


def test_sentences_of_an_earlier_version_stay_as_they_were():
    kept = "Carbohydrate still holds the fibre of oats, which is not known."
    told = nutrition_plate(replace(FACTS, remarks=(kept,), left_out=("salt (to taste)",)), ENGLISH)
    assert (told.remarks, told.left_out) == ((kept,), ("salt (to taste)",))


def test_little_is_under_a_figure():
    assert figure_words("salt_g", 0.01, ENGLISH) == "under 0.01 g"
    assert figure_words("fat_g", 0.3, ENGLISH, low=True) == "0.3 g"
