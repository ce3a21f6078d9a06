"""How servings and portions came about, as a reader sees it."""

from fractions import Fraction

from kitchen.domain.portions import Eaters, Wanted
from kitchen.words import ENGLISH
from kitchen.words.portions import group_words, makes_words, portion_words


def test_one_adult_is_told_in_the_singular():
    assert group_words([Eaters(1, "adult"), Eaters(0, "child")], ENGLISH) == "for 1 person: 1 adult = 1 portion"


def test_each_kind_is_told_with_what_it_eats():
    group = [Eaters(4, "adult"), Eaters(3, "child", Fraction(3, 5)), Eaters(2, "walker", Fraction(7, 5))]
    assert group_words(group, ENGLISH) == "for 9 people: 4 adults, 3 children at 0.6, 2 hungry walkers at 1.4 = 8.6 portions"
    assert group_words([Eaters(1, "walker", Fraction(11, 10))], ENGLISH) == "for 1 person: 1 hungry walker at 1.1 = 1.1 portions"
    assert group_words([Eaters(5, "child")], ENGLISH) == "for 5 people: 5 children = 5 portions"


def test_what_there_is_makes_servings():
    assert makes_words("350 g", "lentils", Wanted(6), ENGLISH) == "with 350 g of lentils: makes 6 servings"
    half = Wanted(1, Fraction(1, 2))
    assert makes_words("2 eggs", "", half, ENGLISH) == "with 2 eggs: makes 1 serving, half the size"


def test_a_size_tells_what_it_weighs_where_that_is_known():
    assert portion_words(Fraction(2), None, ENGLISH) == "each serving twice as large"
    assert portion_words(Fraction(21, 20), 1000.0, ENGLISH) == "each serving 5 % larger, about 1,050 g"
