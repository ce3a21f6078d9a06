import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.lines import parse_line
from kitchen.domain.matching import FoodIndex, best_food, words_of
from kitchen.domain.reference import load_reference

FOODS = FoodIndex(load_reference())
SURE = 0.6


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("200 g red lentils, rinsed", "red lentils"),
        ("2 onions, sliced", "onion"),
        ("3 garlic cloves, crushed", "garlic"),
        ("1 butternut squash, peeled", "butternut squash"),
        ("1 L vegetable stock", "vegetable stock"),
        ("2 tsp ground cumin", "cumin"),
        ("30 ml rapeseed oil", "rapeseed oil"),
        ("300 g plain flour", "plain flour"),
        ("1 cup all-purpose flour", "plain flour"),
        ("250 g basmati rice", "long-grain rice"),
        ("1 tin (400 g) chopped tomatoes", "tinned tomatoes"),
        ("2 x 400 g tins chickpeas, drained", "tinned chickpeas"),
        ("200 g dried chickpeas", "dried chickpeas"),
        ("salt", "salt"),
        ("1 lemon", "lemon"),
        ("juice of 1 lemon", "lemon"),
        ("2 tbsp lemon juice", "lemon juice"),
        ("a handful of coriander leaves", "fresh coriander"),
        ("1 tsp ground coriander", "coriander seed"),
        ("100 g rolled oats", "rolled oats"),
        ("500 ml whole milk", "whole milk"),
        ("4 eggs", "egg"),
        ("1 kg potatoes", "potato"),
        ("2 sweet potatoes", "sweet potato"),
        ("freshly ground black pepper", "black pepper"),
        ("2 red peppers", "red pepper"),
        ("2 peppers", "red pepper"),
        ("4 scallions", "spring onion"),
        ("1 zucchini", "courgette"),
        ("2 aubergines", "aubergine"),
        ("1 knob of ginger", "fresh ginger"),
        ("1 tsp bicarbonate of soda", "bicarbonate of soda"),
        ("2 vine tomatoes", "tomato"),
        ("300 g skinless chicken thigh fillets", "skinless chicken thigh"),
        ("1 stock cube", "stock cube"),
        ("Crème fraîche, 100 g", "soured cream"),
    ],
)
def test_typical_lines_find_their_food(text, name):
    line = parse_line(text)
    food, sure = best_food(line.name, FOODS, line.unit)
    assert food.name == name
    assert sure >= SURE


@pytest.mark.parametrize(
    "name",
    [
        "unicorn dust",
        "vegan cheddar",
        "coconut yogurt",
        "beans",
        "salt and pepper",
        "ice cream",
        "pizza dough",
        "halloumi",
        "🍅",
        "",
    ],
)
def test_what_only_resembles_a_food_is_not_linked(name):
    found = FOODS.find(name)
    assert found is None or found[1] < SURE


def test_every_food_is_found_by_its_own_name_and_other_names():
    for food in load_reference():
        assert FOODS.find(food.name) == (food, 1.0)
        for alias in food.aliases:
            assert FOODS.find(alias)[1] == 1.0, alias


def test_a_plain_list_of_foods_will_do():
    assert best_food("onions", load_reference())[0].name == "onion"


def test_accents_case_and_little_words_do_not_matter():
    assert words_of("Jalapeños of the Garden") == words_of("jalapeno garden")


@given(st.text(max_size=200))
def test_any_name_can_be_asked(name):
    found = FOODS.find(name)
    assert found is None or 0 < found[1] <= 1
