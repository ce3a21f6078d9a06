"""From a cook's measure to grams, through the food's own household weights and never through the weight of water."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction

from kitchen.domain.amounts import read_number
from kitchen.domain.facts import FoodFacts, LineFacts, WeightFacts
from kitchen.domain.nouns import singular
from kitchen.domain.remark import Remark, remark
from kitchen.domain.units import UNITS, CannotConvert, find_unit, size_of, to_base

# Names for the same piece of a food.
_SAME_PIECE = {"stick": "stalk", "rasher": "slice", "head": "bulb", "strip": "slice", "sachet": "packet"}
_LIQUID = re.compile(
    r"\b(?:oil|milk|water|stock|broth|juice|vinegar|cream|buttermilk|wine|beer|cider|spirits?|rum|brandy|drink|coffee|tea|"
    r"(?:soy|fish|worcestershire|oyster|hot|teriyaki) sauce|extract)\b"
)
_WORD = re.compile(r"[a-zà-ÿ]+")
# Words beside a size in centimetres, and words that hold no meaning alone.
_SIZES = frozenset({"across", "cm", "in", "into", "long", "of", "raw", "the", "to", "with"})
_EITHER = re.compile(r"[,;/]|\bor\b")
_NOT_LIQUID = re.compile(r"\b(?:powder|cheese|ice|soured?|clotted|dried|instant|leaves|tartar|condensed)\b")


def grams(amount: Fraction, unit_key: str, food: FoodFacts | None, words: str = "") -> float | None:
    """Return the mass of an amount of food, or None where the food's weights do not tell.

    Parameters
    ----------
    amount : Fraction
        How many of the unit. [unit_key]
    unit_key : str
        A key of ``UNITS``; empty for whole things.
    food : FoodFacts or None
        The food with its grams per millilitre and per piece, and its further household weights.
    words : str
        What the line says of the food ("onion, chopped"), to find the household weight that is meant.

    Returns
    -------
    float or None
        Mass. [g]

    Notes
    -----
    A mass needs no food. A volume needs the food's own density: a cup of flour is never taken for a cup of water. A count needs
    the weight of one, and the same kind of piece: the weight of a garlic clove says nothing about a head of garlic. A household
    weight whose words stand in the line comes first.

    Examples
    --------
    >>> flour = FoodFacts("plain flour", g_per_ml=0.528)
    >>> round(grams(Fraction(1), "cup", flour)), grams(Fraction(2), "", flour), grams(Fraction(1), "kg", None)
    (125, None, 1000.0)
    >>> onion = FoodFacts("onion", weights=(WeightFacts("cup", 160.0, "chopped"),))
    >>> grams(Fraction(2), "cup", onion, "onion, chopped"), grams(Fraction(2), "cup", onion, "onion, sliced")
    (320.0, None)
    """
    return None if why_not(amount, unit_key, food, words) else _known_grams(amount, unit_key, food, words)


def _known_grams(amount: Fraction, unit_key: str, food: FoodFacts | None, words: str) -> float:
    base, kind = to_base(amount, unit_key)
    if kind == "g":
        return float(base)
    per_base = g_per_ml(food, words, unit_key) if kind == "mL" else g_of_one(food, unit_key, words)
    return float(base) * (per_base or 0.0)


def why_not(amount: Fraction, unit_key: str, food: FoodFacts | None, words: str = "") -> Remark | None:
    """Return why the mass is not known; None where it is.

    Examples
    --------
    >>> why_not(Fraction(1), "cup", FoodFacts("tofu"))
    Remark(code='volume_not_weighed', values={'unit': 'cup', 'food': 'tofu'})
    """
    try:
        unit = size_of(unit_key)
    except CannotConvert:
        return remark("unit_not_ours", unit=unit_key)
    if unit.dimension == "mass":
        return None
    if food is None:
        return remark("line_not_linked")
    if unit.dimension == "volume":
        return None if g_per_ml(food, words, unit.key) else remark("volume_not_weighed", unit=unit.label, food=food.name)
    if g_of_one(food, unit.key, words):
        return None
    if unit.label:
        return remark("piece_not_weighed", unit=unit.label, food=food.name)
    return remark("one_not_weighed", food=food.name)


def g_per_ml(food: FoodFacts | None, words: str = "", unit_key: str = "") -> float | None:
    """Return the food's density as the line means it, or None. [g/mL]

    Notes
    -----
    In this order: a weight by volume whose words stand in the line, the one with most words first, of the same unit before
    others; a weight of the same unit without words; the plain density; the density that another weight by volume without words
    implies.

    Examples
    --------
    >>> onion = FoodFacts("onion", g_per_ml=0.676, weights=(WeightFacts("cup", 115.0, "sliced"),))
    >>> round(g_per_ml(onion, "onions, thinly sliced"), 3), g_per_ml(onion, "onions, grated")
    (0.486, 0.676)
    """
    if food is None:
        return None
    by_volume = [weight for weight in food.weights if _dimension(weight) == "volume"]
    meant = max(
        (weight for weight in by_volume if words_found(weight.words, words)),
        key=lambda weight: (words_found(weight.words, words), weight.unit == unit_key),
        default=None,
    )
    plain = [weight for weight in by_volume if not weight.words]
    same_unit = next((weight for weight in plain if weight.unit == unit_key), None)
    if meant or same_unit:
        return _density(meant or same_unit)
    return food.g_per_ml or _density(plain[0] if plain else None)


def _dimension(weight: WeightFacts) -> str:
    unit = UNITS.get(weight.unit or "each")
    return unit.dimension if unit is not None and weight.g > 0 else ""


def _density(weight: WeightFacts | None) -> float | None:
    return None if weight is None else weight.g / float(to_base(Fraction(1), weight.unit)[0])


def g_of_one(food: FoodFacts | None, unit_key: str = "", words: str = "") -> float | None:
    """Return the grams of one piece of the food as the line means it, or None where that piece has no weight. [g]

    Examples
    --------
    >>> onion = FoodFacts("onion", g_per_each=110.0, each_name="medium", weights=(WeightFacts("", 150.0, "large"),))
    >>> g_of_one(onion, "", "large onions"), g_of_one(onion, "", "onions"), g_of_one(onion, "slice", "onions")
    (150.0, 110.0, None)
    """
    if food is None:
        return None
    wanted = piece_key(unit_key)
    pieces = [weight for weight in food.weights if _dimension(weight) == "count" and piece_key(weight.unit) == wanted]
    meant = max((weight for weight in pieces if words_found(weight.words, words)), key=_most_words(words), default=None)
    if meant is None:
        meant = next((weight for weight in pieces if not weight.words), None)
    if meant is not None:
        return meant.g
    return food.g_per_each if food.g_per_each and _is_that_piece(unit_key, food) else None


def _most_words(words: str) -> Callable[[WeightFacts], int]:
    return lambda weight: words_found(weight.words, words)


def words_found(wanted: str, words: str) -> int:
    """Return how many words of a household weight the line holds: all of one of its readings ("chopped, diced"), or none.

    Examples
    --------
    >>> words_found("chopped or diced", "onions, chopped"), words_found("small curd", "curd cheese"), words_found("", "egg")
    (1, 0, 0)
    """
    held = {singular(word) for word in _WORD.findall(words.lower())}
    readings = [{singular(word) for word in _WORD.findall(reading)} - _SIZES for reading in _EITHER.split(wanted.lower())]
    return max((len(reading) for reading in readings if reading and held.issuperset(reading)), default=0)


def piece_of(each_name: str) -> str:
    """Return the unit that the food's piece is ("clove", "stick"), or nothing where the piece is the whole thing."""
    for word in re.findall(r"[a-z]+", each_name.lower()):
        unit = find_unit(word) if len(word) > 2 else None
        if unit is not None and unit.dimension == "count":
            return _SAME_PIECE.get(unit.key, unit.key)
    return ""


# A head of cabbage or a fillet of cod is the whole thing, so "1 cabbage" means it too; a clove of garlic is not.
_WHOLE_PIECES = frozenset({"bulb", "ear", "fillet", "piece"})


def piece_key(unit_key: str) -> str:
    """Return one key for all words that count the same piece: a head of garlic is a bulb; empty for whole things.

    Examples
    --------
    >>> piece_key("head"), piece_key("bulb"), piece_key("each")
    ('bulb', 'bulb', '')
    """
    return "" if unit_key in ("", "each", "piece") else _SAME_PIECE.get(unit_key, unit_key)


def _is_that_piece(unit_key: str, food: FoodFacts) -> bool:
    piece, wanted = piece_of(food.each_name), piece_key(unit_key)
    whole = piece in _WHOLE_PIECES or (piece and piece in food.name.lower().split())
    return wanted == piece or (wanted == "" and bool(whole))


def is_liquid(food: FoodFacts) -> bool:
    """Say whether the food is poured, so that a metric cook measures it in millilitres rather than weighs it.

    Examples
    --------
    >>> is_liquid(FoodFacts("whole milk")), is_liquid(FoodFacts("milk powder")), is_liquid(FoodFacts("plain flour"))
    (True, False, False)
    """
    name = food.name.lower()
    return bool(_LIQUID.search(name)) and not _NOT_LIQUID.search(name)


def size_grams(size: str, food: FoodFacts | None) -> float | None:
    """Return the grams of one pack or piece from its size in words ("400 g", "14-oz"), or None.

    Examples
    --------
    >>> size_grams("400 g", None), size_grams("large", None)
    (400.0, None)
    """
    number = read_number(size)
    unit = find_unit(size[number[1] :].strip(" -")) if number else None
    if number is None or unit is None or unit.dimension == "count":
        return None
    return grams(number[0], unit.key, food)


def line_amount(line: LineFacts) -> Fraction | None:
    """Return the middle of the line's low and high amount, or None where it has none."""
    if line.low is None:
        return None
    return (line.low + (line.low if line.high is None else line.high)) / 2


def line_grams(line: LineFacts, k: Fraction = Fraction(1)) -> float | None:
    """Return the edible mass of a whole line, in the order of what is surest.

    Parameters
    ----------
    line : LineFacts
        The line as read.
    k : Fraction
        Multiple of the written amount.

    Returns
    -------
    float or None
        Mass of the middle of the range. [g]

    Notes
    -----
    A weight is taken as it is; then a weight that the cook gave beside it ("2 onions (300 g)"), or millilitres beside a cup,
    which say how large a cup ("1 cup (250 mL)"); then the size of one pack ("2 x 400 g tins"); then the food's household weights.

    Examples
    --------
    >>> line_grams(LineFacts("2 x 400 g tins tomatoes", low=Fraction(2), high=Fraction(2), unit="can", size="400 g"))
    800.0
    """
    middle = line_amount(line)
    if middle is None:
        return None
    unit = UNITS.get(line.unit or "each")
    if unit is not None and unit.dimension == "mass":
        return grams(middle * k, unit.key, None)
    for food in (None, line.food):
        stated = _stated_grams(line, k, food)
        if stated is not None:
            return stated
    of_one = size_grams(line.size, line.food)
    if of_one is not None and unit is not None and unit.dimension == "count":
        return float(middle * k) * of_one
    return grams(middle * k, line.unit, line.food, words_of_line(line))


def _stated_grams(line: LineFacts, k: Fraction, food: FoodFacts | None) -> float | None:
    """Return the mass of what the cook gave beside the amount: a weight; with the ``food`` also the millilitres of a cup."""
    cup = UNITS.get(line.unit)
    for other in line.also:
        by_jug = other.unit in ("mL", "L", "dL", "cL") and cup is not None and cup.dimension == "volume"
        if other.unit and (food is None or by_jug):
            found = grams((other.low + other.high) / 2 * k, other.unit, food, words_of_line(line))
            if found is not None:
                return found
    return None


def words_of_line(line: LineFacts) -> str:
    """Return what a line says of its food: size, name and preparation."""
    return f"{line.size} {line.name}, {line.note}"
