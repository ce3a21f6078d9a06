"""Which of a cook's tags name a course or a cuisine: search engines ask for those by names of their own."""

from __future__ import annotations

from collections.abc import Sequence

from kitchen.domain.nouns import singular
from kitchen.domain.search import fold

_COURSES_IN_WORDS = """
breakfast, brunch, lunch, dinner, supper, main, main course, main dish, starter, appetizer, side, side dish, salad, soup, stew,
snack, dessert, pudding, cake, bread, drink, beverage, sauce, dip, condiment, preserve
"""
_CUISINES_IN_WORDS = """
african, american, argentinian, asian, australian, austrian, balkan, basque, belgian, brazilian, british, cajun, canadian,
caribbean, chinese, creole, cuban, czech, danish, dutch, egyptian, english, ethiopian, european, filipino, finnish, french,
georgian, german, greek, hungarian, indian, indonesian, iranian, irish, israeli, italian, jamaican, japanese, jewish, korean,
lebanese, malaysian, mediterranean, mexican, middle eastern, moroccan, nepali, norwegian, pakistani, persian, peruvian, polish,
portuguese, romanian, russian, scandinavian, scottish, spanish, sri lankan, swedish, swiss, syrian, taiwanese, thai, tibetan,
tunisian, turkish, ukrainian, vietnamese, welsh
"""
_COURSES, _CUISINES = (frozenset(map(fold, words.split(","))) for words in (_COURSES_IN_WORDS, _CUISINES_IN_WORDS))


def course_of(tags: Sequence[str]) -> str:
    """Return the first tag that names a course, as its cook spelled it; empty where none does.

    Examples
    --------
    >>> course_of(["one pot", "Soups", "dinner"]), course_of(["one pot"])
    ('Soups', '')
    """
    return next((tag for tag in tags if {fold(tag), singular(fold(tag))} & _COURSES), "")


def cuisine_of(tags: Sequence[str]) -> str:
    """Return the first tag that names a cuisine, as its cook spelled it; empty where none does.

    Examples
    --------
    >>> cuisine_of(["quick", "Sri Lankan"])
    'Sri Lankan'
    """
    return next((tag for tag in tags if fold(tag) in _CUISINES), "")
