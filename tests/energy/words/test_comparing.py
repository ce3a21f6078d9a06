"""Differences between runs in words."""

from energy.runs.domain.comparing import difference
from energy.words import ENGLISH
from energy.words.comparing import difference_words, minutes_words


def plain(text):
    return text.replace("\u00a0", " ")


def test_an_energy_is_more_less_or_the_same():
    same = difference(216, 3, 213, 4)
    assert difference_words(same, ENGLISH) == "the same within what the meters can tell"
    assert difference_words(same, ENGLISH, "same") == "the same"
    assert plain(difference_words(difference(225, 3, 213, 4), ENGLISH)) == "12 ± 5 Wh more"
    assert plain(difference_words(difference(201, 3, 213, 4), ENGLISH)) == "12 ± 5 Wh less"


def test_minutes_are_longer_shorter_or_nothing():
    assert [plain(minutes_words(apart, ENGLISH)) for apart in (3, -3, 0)] == ["3 min longer", "3 min shorter", ""]
