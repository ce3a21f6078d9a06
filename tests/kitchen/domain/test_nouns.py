from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.nouns import agree, plural, singular

PAIRS = [
    ("onion", "onions"),
    ("tomato", "tomatoes"),
    ("berry", "berries"),
    ("leaf", "leaves"),
    ("radish", "radishes"),
    ("peach", "peaches"),
    ("carrot", "carrots"),
    ("olive", "olives"),
    ("date", "dates"),
    ("chive", "chives"),
    ("chilli", "chillies"),
    ("pepper", "peppers"),
]


@pytest.mark.parametrize(("one", "many"), PAIRS)
def test_singular_and_plural_go_together(one, many):
    assert singular(many) == one
    assert plural(one) == many
    assert singular(one) == one


@pytest.mark.parametrize("word", ["couscous", "asparagus", "hummus", "molasses", "watercress", "swiss", "gas"])
def test_words_that_only_look_plural_stay(word):
    assert singular(word) == word


def test_the_cooks_words_change_only_between_one_and_several():
    assert agree("onions", Fraction(3), Fraction(6)) == "onions"
    assert agree("egg", Fraction(1), Fraction(4)) == "eggs"
    assert agree("bay leaves", Fraction(2), Fraction(1)) == "bay leaf"
    assert agree("butternut squash", Fraction(1), Fraction(3)) == "butternut squash"
    assert agree("star anise", Fraction(1), Fraction(3)) == "star anise"
    assert agree("legs of lamb", Fraction(2), Fraction(1)) == "leg of lamb"
    assert agree("", Fraction(1), Fraction(3)) == ""


@given(st.text(max_size=30))
def test_any_word_can_be_asked(word):
    assert isinstance(singular(word), str)
    assert isinstance(plural(word), str)
