"""The words by which things are bought and counted mean the same in a line, in a pack and in the weights of a food."""

from fractions import Fraction

import pytest

from costing.domain.conversion import based, in_base
from kitchen.domain.facts import FoodFacts, LineFacts, WeightFacts
from kitchen.domain.foods import g_of_one
from kitchen.domain.lines import parse_line
from kitchen.domain.packs import parse_pack

COUNTED = ("bunch", "head", "bulb", "tin", "tray", "case", "bag", "clove")


def line_of(text, food):
    read = parse_line(text)
    return LineFacts(text, low=read.low, high=read.high, unit=read.unit, name=read.name, size=read.size, food=food)


@pytest.mark.parametrize("word", COUNTED)
@pytest.mark.parametrize("written", ["2 {}s fennel", "2 {}s of fennel", "fennel, 2 {}s"])
def test_a_line_uses_two_of_what_a_pack_holds_one_of(word, written):
    word = {"bunch": "bunche"}.get(word, word)
    pack = parse_pack(f"1 {word.removesuffix('e') if word == 'bunche' else word}")
    line = line_of(written.format(word), FoodFacts("fennel"))
    assert (line.low, line.unit, line.name) == (2, pack.unit, "fennel")
    assert in_base(line, based(pack.amount, pack.unit)[1]) == 2


@pytest.mark.parametrize("word", COUNTED)
def test_one_weighs_what_the_food_says(word):
    unit = parse_line(f"1 {word} garlic").unit
    food = FoodFacts("garlic", weights=(WeightFacts(unit, 37.0),))
    assert g_of_one(food, unit) == 37
    assert in_base(line_of(f"3 {word}{'es' if word == 'bunch' else 's'} garlic", food), "g") == 111


@pytest.mark.parametrize("weighed", ["head", "bulb"])
def test_a_head_is_a_bulb_and_no_clove(weighed):
    garlic = FoodFacts("garlic", g_per_each=4.0, each_name="clove", weights=(WeightFacts(weighed, 48.0),))
    assert {in_base(line_of(text, garlic), "g") for text in ("1 head garlic", "1 bulb of garlic", "1 garlic bulb")} == {48}
    assert {in_base(line_of(text, garlic), "g") for text in ("2 garlic cloves", "2 cloves of garlic", "garlic, 2 cloves")} == {8}
    assert in_base(line_of("2 heads garlic", garlic), based(Fraction(1), "bulb")[1]) == 2


@pytest.mark.parametrize(
    ("words", "number"),
    [("a dozen", 12), ("1 dozen", 12), ("2 dozen", 24), ("half a dozen", 6), ("3 dozens", 36), ("a baker's dozen", 13)],
)
def test_a_dozen_is_twelve_pieces_everywhere(words, number):
    line, pack = parse_line(f"{words} eggs"), parse_pack(words)
    assert (line.low, line.unit, line.name) == (number, "", "eggs")
    assert (pack.amount, pack.unit) == (number, "")
