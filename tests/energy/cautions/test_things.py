"""What is said of which food of a line."""

import pytest

from energy.cautions.things import read_things


@pytest.mark.parametrize(
    ("line", "minced"),
    [
        ("500 g beef, minced", [True]),
        ("2 chicken breasts, garlic minced", [False, False]),
        ("beef and pork mince", [True, False]),
        ("minced beef and 2 pork chops", [True, False]),
        ("lamb, ground sumac", [False, False]),
        ("pork, apple and sage burgers", [True, False, False]),
    ],
)
def test_mincing_is_said_of_meat(line, minced):
    assert [thing.minced for thing in read_things(line)] == minced


def test_what_is_not_in_it_is_left_out():
    assert [sorted(thing.kinds) for thing in read_things("oil for frying the fish, without egg")] == [["plain"]]
    assert read_things("kidney beans, not tinned")[0].states == {"dry"}


def test_an_or_speaks_of_another_choice():
    assert "stand_in" not in read_things("4 pork sausages or vegan")[0].states
    assert "stand_in" in read_things("4 sausages (vegan)")[0].states
