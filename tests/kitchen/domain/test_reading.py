"""Lines as the tables keep them."""

from dataclasses import dataclass
from fractions import Fraction

import pytest

from kitchen.domain.reading import read_line


@dataclass
class Named:
    name: str
    aliases: tuple = ()
    aisle: str = ""


def test_a_line_finds_its_food():
    lentils = Named("red lentils")
    reading = read_line("250 g red lentils, rinsed", [lentils, Named("green lentils")])
    assert (reading.low, reading.unit, reading.note, reading.food) == (Fraction(250), "g", "rinsed", lentils)


def test_a_doubtful_food_is_no_food():
    assert read_line("1 cup moon dust", [Named("sugar")]).food is None


def test_salt_is_a_seasoning():
    assert read_line("1 tsp salt", [Named("salt", aisle="spices")]).rule == "seasoning"


def test_more_digits_than_a_table_holds_are_no_amount():
    reading = read_line(f"{'9' * 40} g flour", [])
    assert reading.low is None
    assert reading.high is None


def test_long_words_are_cut_to_what_a_table_holds():
    assert len(read_line("1 " + "flour " * 45, []).name) <= 160


@pytest.mark.parametrize(
    ("text", "home", "unit"),
    [
        ("2 tbsp soy sauce", "written", "tbsp"),
        ("2 tbsp soy sauce", "uk", "tbsp"),
        ("2 tbsp soy sauce", "au", "tbsp_au"),
        ("1 cup rice", "au", "cup_metric"),
        ("1 cup rice", "uk", "cup"),
        ("1 pint milk", "us", "pint"),
        ("1 pint milk", "uk", "pint_imp"),
        ("1 pint milk", "au", "pint_imp"),
        ("1 US pint milk", "uk", "pint"),
        ("14 fl oz stock", "uk", "floz_imp"),
        ("2 tbsp American mustard", "au", "tbsp_au"),
        ("1 tsp salt", "au", "tsp"),
    ],
)
def test_a_word_means_what_it_means_in_the_kitchen_where_it_is_typed(text, home, unit):
    assert read_line(text, [], home).unit == unit


def test_the_amounts_given_beside_are_of_the_same_kitchen():
    assert [other.unit for other in read_line("570 ml/1 pint milk", [], "uk").also] == ["pint_imp"]
