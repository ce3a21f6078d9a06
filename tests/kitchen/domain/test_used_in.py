"""Which steps name which ingredients, and how long a timer runs."""

import pytest

from kitchen.domain.used_in import seconds_of, used_in

POT = ["rapeseed oil", "onions", "garlic", "butternut squash", "red lentils", "vegetable stock", "ground cumin", "salt", "lemon"]


@pytest.mark.parametrize(
    ("step", "named"),
    [
        ("Warm the oil, add the onions and cook until the edges colour.", ["rapeseed oil", "onions"]),
        ("Stir in garlic and cumin for a minute.", ["garlic", "ground cumin"]),
        ("Add squash, lentils, stock and salt.", ["butternut squash", "red lentils", "vegetable stock", "salt"]),
        ("Squeeze the LEMONS.", ["lemon"]),
        ("Close the lid.", []),
        ("Let it go red.", []),
    ],
)
def test_a_step_names_what_goes_in(step, named):
    (places,) = used_in([step], POT)
    assert [POT[place] for place in places] == named


def test_a_word_that_two_share_names_neither_by_it_alone():
    assert used_in(["Add the coconut."], ["coconut milk", "coconut oil"]) == [()]
    assert used_in(["Add the milk."], ["coconut milk", "oat milk"]) == [(0, 1)]


@pytest.mark.parametrize(
    ("words", "seconds"),
    [("8 min", 480), ("1 h", 3600), ("5 h 31 min", 19860), ("0.5 min", 30), ("45 to 59 min", None), ("about 5 min", None)],
)
def test_a_timer_runs_for_a_plain_length_alone(words, seconds):
    assert seconds_of(words) == seconds
