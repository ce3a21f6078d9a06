"""How servings and portions came about, in words."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from kitchen.domain.amounts import format_decimal
from kitchen.domain.portions import Eaters, Wanted, size_said
from kitchen.words.remarks import sentence, words_of
from kitchen.words.sentences import Language


def size_words(portion: Fraction, language: Language) -> str:
    """Return how a serving differs from the written one; empty where nobody would notice.

    Examples
    --------
    >>> [size_words(Fraction(text), "en") for text in ("3/2", "1/2", "21/20", "43/50", "1", "1001/1000", "2")]
    ['larger by half', 'half the size', '5 % larger', '14 % smaller', '', '', 'twice as large']
    """
    said = size_said(portion)
    return words_of(said, language) if said else ""


def portion_words(portion: Fraction, serving_g: float | None, language: Language) -> str:
    """Return what each serving is, and weighs where the written one's weight is known; empty where it is the written one.

    Examples
    --------
    >>> portion_words(Fraction(3, 2), 400, "en"), portion_words(Fraction(1), 400, "en")
    ('each serving larger by half, about 600 g', '')
    """
    size = size_words(portion, language)
    if not size:
        return ""
    if not serving_g:
        return sentence(language, "each_serving", size=size)
    return sentence(language, "each_serving_weighs", size=size, grams=round(serving_g * portion))


def group_words(eaters: Sequence[Eaters], language: Language) -> str:
    """Return who eats, and how many portions that makes.

    Examples
    --------
    >>> group_words([Eaters(4, "adult"), Eaters(1, "child", Fraction(3, 5)), Eaters(0, "walker", Fraction(7, 5))], "en")
    'for 5 people: 4 adults, 1 child at 0.6 = 4.6 portions'
    """
    heads = sum(kind.number for kind in eaters)
    portions = sum((kind.number * kind.factor for kind in eaters), Fraction(0))
    people = sentence(language, "for_one" if heads == 1 else "for_people", heads=heads)
    many = sentence(language, "one_portion" if portions == 1 else "portions", portions=format_decimal(portions))
    return f"{people}: {', '.join(_eaters_words(kind, language) for kind in eaters if kind.number)} = {many}"


def _eaters_words(eaters: Eaters, language: Language) -> str:
    people = sentence(language, f"one_{eaters.kind}" if eaters.number == 1 else f"more_{eaters.kind}", number=eaters.number)
    if eaters.factor == 1:  # goes without saying
        return people
    return sentence(language, "eaters_at", people=people, factor=format_decimal(eaters.factor, 3))


def makes_words(have: str, name: str, wanted: Wanted, language: Language) -> str:
    """Return what there is, and how many servings it makes.

    Examples
    --------
    >>> makes_words("700 g", "lentils", Wanted(10, Fraction(21, 20)), "en"), makes_words("2", "", Wanted(1), "en")
    ('with 700 g of lentils: makes 10 servings, 5 % larger', 'with 2: makes 1 serving')
    """
    held = sentence(language, "with_amount_of" if name else "with_amount", have=have, name=name)
    made = sentence(language, "makes_one" if wanted.servings == 1 else "makes_servings", servings=wanted.servings)
    size = size_words(wanted.portion, language)
    return f"{held}: {made}{f', {size}' if size else ''}"
