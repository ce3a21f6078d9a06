"""Lines as the tables keep them."""

from dataclasses import dataclass
from fractions import Fraction

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
