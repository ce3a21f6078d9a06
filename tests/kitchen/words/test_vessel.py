"""How a vessel is filled, as a reader sees it."""

import pytest

from kitchen.domain.vessel import FoodVolume, Vessel, filling
from kitchen.words import ENGLISH
from kitchen.words.vessel import batch_words, filling_words, unknown_words

POT = Vessel("4 L pot", 4000)


def said(volume, vessel=POT):
    return filling_words(filling(vessel, volume), ENGLISH).replace("\u00a0", " ")


def test_what_fits_says_nothing():
    assert said(FoodVolume(1000)) == ""


def test_what_is_too_much_goes_in_batches():
    assert said(FoodVolume(5000)) == (
        "About 5.0 L of food is more than the 2.7 L that a 4 L pot may hold: cook it in 2 equal batches, one after the other."
    )


def test_what_swells_is_named_and_so_is_what_is_not_in_the_sum():
    volume = FoodVolume(3800, unknown=("chard",), expands=("rice",))
    assert said(volume, Vessel("8 L pressure cooker", 4000)) == (
        "At least 3.8 L of food (the room for chard is not known) is more than the 2.0 L that an 8 L pressure cooker may hold of "
        "what swells or foams (rice): cook it in 2 equal batches, one after the other."
    )


def test_what_never_fits_says_so():
    assert said(FoodVolume(1e6)) == (
        "About 1000.0 L of food is more than the 2.7 L that a 4 L pot may hold, and 50 batches are not enough. Take a larger "
        "one; the figures here are as if it fitted."
    )


@pytest.mark.parametrize(
    ("names", "clause"),
    [
        ((), ""),
        (("kale",), "the room for kale is not known"),
        (("kale", "chard"), "the room for kale and chard is not known"),
        (("kale", "chard", "dill", "mint", "sage"), "the room for kale, chard, dill and 2 more is not known"),
    ],
)
def test_what_is_not_in_the_sum_is_named(names, clause):
    assert unknown_words(FoodVolume(1000, unknown=names), ENGLISH) == clause


def test_a_batch_has_a_size():
    assert batch_words(filling(POT, FoodVolume(1000)), 1, ENGLISH) == ""
    assert batch_words(filling(POT, FoodVolume(5000)), 2, ENGLISH) == "in 2 batches of 2.5\u00a0L"
    least = filling(POT, FoodVolume(5000, unknown=("kale",)))
    assert batch_words(least, 2, ENGLISH) == "in 2 batches of at least 2.5\u00a0L"
