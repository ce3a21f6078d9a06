from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.units import UNITS, CannotConvert, by_pint, convert, factors_by_pint, find_unit, label_of, to_base

SIZED = [unit.key for unit in UNITS.values() if unit.per_base is not None]


@pytest.mark.parametrize(
    ("word", "key"),
    [
        ("tsp", "tsp"),
        ("Teaspoons", "tsp"),
        ("t", "tsp"),
        ("T", "tbsp"),
        ("TBSP.", "tbsp"),
        ("fl oz", "floz"),
        ("fl. oz.", "floz"),
        ("fluid ounces", "floz"),
        ("c", "cup"),
        ("C", "cup"),
        ("ML", "mL"),
        ("litres", "L"),
        ("tins", "can"),
        ("imperial pint", "pint_imp"),
        ("gramme", "g"),
        ("lbs.", "lb"),
        ("pinches", "pinch"),
        ("bunches", "bunch"),
        ("quarts", "quart"),
    ],
)
def test_a_cooks_word_finds_its_unit(word, key):
    assert find_unit(word).key == key


@pytest.mark.parametrize(
    "word", ["", "meter", "inch", "kelvin", "pico", "parsec", "onion", "__class__", "g" * 400, "🥄", "each other"]
)
def test_a_word_outside_the_list_is_no_unit(word):
    assert find_unit(word) is None


def test_pint_is_asked_once_for_a_pair_and_counts_a_scales_zero():
    assert by_pint("degF", "degC") == (Fraction(5, 9), Fraction(-160, 9))
    before = by_pint.cache_info().misses
    assert by_pint("degF", "degC") == (Fraction(5, 9), Fraction(-160, 9))
    assert by_pint.cache_info().misses == before


def test_pint_never_hears_a_pinch():
    """A general unit library would read it as a pico-inch."""
    assert find_unit("pinch").dimension == "volume"
    assert "pinch" not in factors_by_pint()


def test_the_table_agrees_with_pint_exactly():
    known = factors_by_pint()
    assert len(known) >= 16
    assert {key: UNITS[key].per_base for key in known} == known


@given(st.sampled_from(SIZED), st.sampled_from(SIZED), st.fractions(min_value=0, max_value=1000))
def test_there_and_back_is_exact_or_refused(start, end, amount):
    if UNITS[start].dimension != UNITS[end].dimension:
        with pytest.raises(CannotConvert, match="only the food itself"):
            convert(amount, start, end)
    else:
        assert convert(convert(amount, start, end), end, start) == amount


def test_counts_have_no_size_of_their_own():
    assert to_base(Fraction(3), "clove") == (3, "each")
    with pytest.raises(CannotConvert, match="no fixed size"):
        convert(Fraction(1), "clove", "can")
    with pytest.raises(CannotConvert, match="not one of the kitchen's units"):
        to_base(Fraction(1), "parsec")


def test_labels_follow_the_number():
    assert [label_of("cup", Fraction(n)) for n in ("1/2", "1", "3/2")] == ["cup", "cup", "cups"]
    assert label_of("", Fraction(3)) == ""


def test_no_word_means_two_units():
    words: dict[str, str] = {}
    for unit in UNITS.values():
        for word in unit.words:
            assert words.setdefault(word, unit.key) == unit.key, word
