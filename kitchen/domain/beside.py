"""What stands beside an amount: the weight beside spoons and counts, the count beside a weight, pints beside millilitres."""

from __future__ import annotations

import re
from fractions import Fraction

from kitchen.domain import foods
from kitchen.domain.amounts import format_amount
from kitchen.domain.facts import FoodFacts, LineFacts
from kitchen.domain.measure_words import weight_words
from kitchen.domain.nouns import plural
from kitchen.domain.rounding import is_near, nearest
from kitchen.domain.spoons import Part
from kitchen.domain.systems import SYSTEMS
from kitchen.domain.units import UNITS, convert

_PART_OF_IT = re.compile(r"\b(?:juice|juiced|zest|zested|rind|peel|pulp)\b", re.IGNORECASE)


def words_beside(line: LineFacts, exact: Fraction, parts: tuple[Part, ...], system: str = "written") -> str:
    """Return what helps beside the amount that is printed: "28 g", "about 4 medium", "1 pint, 585 g"; empty where nothing does.

    Parameters
    ----------
    line : LineFacts
        The line as read.
    exact : Fraction > 0
        The exact amount, the middle of a range. [unit of the line]
    parts : tuple of (Fraction, str)
        The measure that is printed.
    system : str
        A key of ``SYSTEMS``.

    Examples
    --------
    >>> onion = FoodFacts("onion", "vegetables", g_per_each=110.0, each_name="medium")
    >>> line = LineFacts("450 g onions", Fraction(450), Fraction(450), "g", "onions", food=onion)
    >>> words_beside(line, Fraction(450), ((Fraction(450), "g"),))
    'about 4 medium'
    """
    written = foods.line_amount(line)
    if not written or not parts:
        return ""
    weight_g = foods.line_grams(line, exact / written)
    if UNITS[parts[0][1] or "each"].dimension == "mass":
        weight = "" if parts[0][1] in ("g", "kg", "mg") or weight_g is None else weight_words(weight_g)
        beside = [weight, about_pieces(line, weight_g) if weight_g else ""]
    else:
        # Of a lemon's juice the weight of a lemon would be untrue.
        of_a_part = _PART_OF_IT.search(line.note) is not None
        weight = weight_words(weight_g) if weight_g and not of_a_part else ""
        beside = [_pints(line, parts) if SYSTEMS[system].pints_beside else "", weight, _of_fruit(line, weight_g)]
    return ", ".join(filter(None, beside))


_LEAST_PIECES, _MOST_PIECES, _MANY = Fraction(1, 2), 40, 5
_LARGE_PIECE_G = 55
# Aisles whose food comes in pieces that a cook counts out.
_COUNTED_AISLES = frozenset({"bakery", "dairy and eggs", "dried fruit and vegetables", "fruit", "vegetables"})
# A bunch, a pack or a serving is no piece; a stick of butter has its marks on the paper.
_NO_PIECE = re.compile(r"\b(?:bunch|can|cake|cube|cup|half|package|packet|pot|serving|stick|yield)\b", re.IGNORECASE)
_JUST_ONE = frozenset({"fruit", "whole", "fruit without stone", "piece"})
_OF_SIZE = re.compile(r"(?:extra |very )?(?:small|medium|large)\b")
_OTHER_SIZE = re.compile(r"\b(?:baby|cherry|extra|giant|huge|jumbo|large|big|mini|miniature|new|small|tiny)\b", re.IGNORECASE)


def about_pieces(line: LineFacts, mass_g: float) -> str:
    """Return how many pieces a weight of food is, as a shopper would count them; empty where nobody counts it.

    Parameters
    ----------
    line : LineFacts
        The line with its food.
    mass_g : float > 0
        Edible weight. [g]

    Notes
    -----
    Only foods whose household weight is that of one whole piece, half of one to forty of them; large ones to halves
    below five, else whole numbers. Where the line names a size that the food's weights do not know, nothing is said.

    Examples
    --------
    >>> leek = FoodFacts("leek", "vegetables", g_per_each=89.0, each_name="leek")
    >>> about_pieces(LineFacts("300 g leeks", name="leeks", food=leek), 300.0)
    'about 3½'
    >>> about_pieces(LineFacts("300 g baby leeks", name="baby leeks", food=leek), 300.0)
    ''
    """
    food, words = line.food, foods.words_of_line(line)
    if food is None or food.aisle not in _COUNTED_AISLES or not food.each_name or _NO_PIECE.search(food.each_name):
        return ""
    of_one = foods.g_of_one(food, foods.piece_of(food.each_name), words)
    sized = any(foods.words_found(weight.words, words) for weight in food.weights)
    if (
        of_one is None
        or _PART_OF_IT.search(words)
        or (_OTHER_SIZE.search(words) and not sized and not _OTHER_SIZE.search(food.name))
    ):
        return ""
    number = Fraction(mass_g / of_one).limit_denominator(1000)
    if not _LEAST_PIECES <= number <= _MOST_PIECES:
        return ""
    halved = number < _MANY and of_one >= _LARGE_PIECE_G
    shown = nearest(number, Fraction(1, 2) if halved else Fraction(1))
    return f"about {format_amount(shown)} {_piece_words(food, shown, sized=sized and of_one != food.g_per_each)}".strip()


def _piece_words(food: FoodFacts, number: Fraction, *, sized: bool) -> str:
    """Return what the pieces are called: a size, or a part such as a clove; nothing where the food's own name says it."""
    name = food.each_name.lower()
    size = _OF_SIZE.match(name)
    if name in _JUST_ONE or sized:
        return ""
    if size:
        rest = name[size.end() :].strip() if foods.piece_of(name) else ""
        return f"{size.group()} {plural(rest) if rest and number > 1 else rest}".strip()
    if set(name.split()) & set(food.name.lower().split()) or not foods.piece_of(name):
        return ""
    return plural(name) if number > 1 else name


def _of_fruit(line: LineFacts, mass_g: float | None) -> str:
    """Return how many fruit give the juice: "about 2 lemons"."""
    food = line.food
    if food is None or not mass_g or not food.g_per_each or not food.each_name.endswith("'s yield"):
        return ""
    number = Fraction(mass_g / food.g_per_each).limit_denominator(1000)
    if not _LEAST_PIECES <= number <= _MOST_PIECES:
        return ""
    shown = nearest(number, Fraction(1, 2))
    fruit = food.each_name.removesuffix("'s yield")
    return f"about {format_amount(shown)} {plural(fruit) if shown > 1 else fruit}"


_LEAST_PINTS = Fraction(1, 4)


def _pints(line: LineFacts, parts: tuple[Part, ...]) -> str:
    """Return imperial pints beside millilitres of what is poured, where a quarter or a half of one is near enough."""
    if len(parts) != 1 or parts[0][1] not in ("mL", "L") or (line.food is not None and not foods.is_liquid(line.food)):
        return ""
    pints = convert(*parts[0], "pint_imp")
    shown = nearest(pints, Fraction(1, 4))
    if pints < _LEAST_PINTS * Fraction(19, 20) or not is_near(pints, shown):
        return ""
    return f"{format_amount(shown)} pint{'s' if shown > 1 else ''}"
