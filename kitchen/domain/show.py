"""One ingredient line as page and paper print it, for the servings that were asked."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor

from kitchen.domain import foods, measure_words
from kitchen.domain.beside import words_beside
from kitchen.domain.explaining import Scaling, exactly, explained
from kitchen.domain.facts import AmountFacts, FoodFacts, LineFacts, MadeFacts
from kitchen.domain.measures import Shown, kitchen_measure
from kitchen.domain.nouns import agree, plural, singular
from kitchen.domain.remark import Remark
from kitchen.domain.rules import is_hot
from kitchen.domain.scaling import ScaledAmount, scale
from kitchen.domain.steps import style_for
from kitchen.domain.systems import SYSTEMS, plain_key
from kitchen.domain.units import UNITS, find_unit, label_of, size_of, to_base


@dataclass(frozen=True)
class ShownLine:
    """What is printed of a line.

    ``amount`` stands in front ("30 mL"), ``words`` name the food, ``note`` how it is prepared; ``grams`` is what stands beside
    the amount: the weight beside a spoon or a count, the count beside a weight ("about 4 medium"), pints beside millilitres;
    ``exact`` the exact amount where the shown one was rounded; ``said`` what the cook has to know about the scaling;
    ``per_batch`` the amount for one of several equal batches, ``about`` it where the batches as printed do not add up to the
    amount as printed; ``made`` the recipe that it is made by.
    """

    amount: str
    words: str
    note: str = ""
    grams: str = ""
    exact: str = ""
    said: tuple[Remark, ...] = ()
    per_batch: str = ""
    made: MadeFacts | None = None


def show_line(
    line: LineFacts,
    k: Fraction = Fraction(1),
    measures: str = "written",
    *,
    batches: int = 1,
    evaporated_ml: Fraction | None = None,
    least_ml: Fraction = Fraction(0),
    style: str = "school",
) -> ShownLine:
    """Return the line for ``k`` times the servings, in the reader's measures.

    Parameters
    ----------
    line : LineFacts
        The line as read.
    k : Fraction > 0
        Multiple of the servings. [-]
    measures : str
        A key of ``SYSTEMS``.
    batches : int >= 1
        Potfuls cooked one after the other. [-]
    evaporated_ml : Fraction >= 0, optional
        What boils off in each batch, for a line under the simmer rule; by default what the line itself says. [mL]
    least_ml : Fraction >= 0
        What a closed pot needs of this line in each batch, for a liquid in proportion. [mL]
    style : str
        Rounding, ``school`` or ``forces``; below the written servings ``school`` rounds to eighths of a teaspoon.

    Returns
    -------
    ShownLine
        Words ready to print. At the written servings and in the written measures the cook's own amount stands unrounded.

    Examples
    --------
    >>> line = LineFacts("1 onion, sliced", low=Fraction(1), high=Fraction(1), name="onion", note="sliced")
    >>> show_line(line, Fraction(3))
    ShownLine(amount='3', words='onions', note='sliced', grams='', exact='', said=(), per_batch='', made=None)
    >>> show_line(line, Fraction(6), batches=2).per_batch
    '3'
    >>> show_line(LineFacts("salt to taste", name="salt", to_taste=True)).note
    'to taste'
    """
    if line.low is None:
        return ShownLine("", line.name or line.text, _notes(line), made=line.made)
    if line.low <= 0:
        return ShownLine("", line.text, made=line.made)
    line = _as_meant(line)
    evaporated_ml = Fraction(line.evaporated_ml or 0) if evaporated_ml is None else evaporated_ml
    scaled = _scaled(line, k, batches, evaporated_ml, least_ml)
    low, high = _shown_ends(line, scaled, measures, style_for(style, k))
    amount = _amount_words(line, low, high, measures)
    return ShownLine(
        amount=amount,
        words=_name_words(line, high),
        note=_notes(line),
        grams=words_beside(line, (scaled.low + scaled.high) / 2, low.parts, measures),
        exact=exactly(low, high),
        said=explained(line, Scaling(k, batches, low, high, amount, evaporated_ml, least_ml, measures)),
        per_batch=_per_batch(line, scaled, batches, low, system=measures, style=style_for(style, k / batches)),
        made=line.made,
    )


def _as_meant(line: LineFacts) -> LineFacts:
    """Return the line with a unit that is not ours among its words, and its food as dense as the line's preparation makes it."""
    if line.unit and line.unit not in UNITS:
        line = replace(line, unit="", name=f"{line.unit} {line.name}".strip())
    return replace(line, food=_packed(line.food, line)) if line.food is not None and line.food.weights else line


def _packed(food: FoodFacts, line: LineFacts) -> FoodFacts:
    return replace(food, g_per_ml=foods.g_per_ml(food, foods.words_of_line(line), line.unit))


def _per_batch(line: LineFacts, scaled: ScaledAmount, batches: int, whole: Shown, *, system: str, style: str) -> str:
    """Return the amount for one of several equal batches; empty for one pot, and for what greases the one pan.

    It is one that can be measured: between two whole cloves where their share is none, in grams what makes an eighth of a spoon.
    """
    if batches == 1 or line.rule == "fixed":
        return ""
    each = ScaledAmount(scaled.low / batches, scaled.high / batches)
    low, high = _shown_ends(line, each, system, style)
    if each.low == each.high and _is_small_thing(line) and low.parts[0][0].denominator > 1 and each.low > 1:
        least, most = (_as_typed(Fraction(end), line.unit) for end in (floor(each.low), ceil(each.low)))
        return _amount_words(line, least, most, system)
    grams = words_beside(line, (each.low + each.high) / 2, low.parts, system) if _has_eighths(low) else ""
    words = grams if grams.endswith(" g") else _amount_words(line, low, high, system)
    return words if batches * _size(low) == _size(whole) else f"about {words}"


def _is_small_thing(line: LineFacts) -> bool:
    """Say whether this is counted and too small to be cut well: a clove or an egg, no onion."""
    if size_of(line.unit).dimension != "count" or line.size:
        return False
    return bool(line.unit) or (line.food is not None and line.food.g_per_each is not None and line.food.g_per_each < _CUT_FROM_G)


def _has_eighths(shown: Shown) -> bool:
    return any(number.denominator == _EIGHTHS for number, _ in shown.parts)


def _size(shown: Shown) -> Fraction:
    """Return how much is printed. [g, mL or pieces]"""
    return sum((to_base(number, key)[0] for number, key in shown.parts), Fraction(0))


def _scaled(line: LineFacts, k: Fraction, batches: int, evaporated_ml: Fraction, least_ml: Fraction) -> ScaledAmount:
    low = line.low if line.low is not None else Fraction(0)
    high = low if line.high is None else line.high
    unit = size_of(line.unit)
    per_ml = 1 / unit.per_base if unit.dimension == "volume" and unit.per_base else Fraction(0)
    return scale(
        low,
        high,
        line.rule,
        k,
        batches=batches,
        hot=is_hot(line.name),
        evaporated=evaporated_ml * per_ml,
        least=least_ml * per_ml,
    )


def _shown_ends(line: LineFacts, scaled: ScaledAmount, system: str, style: str) -> tuple[Shown, Shown]:
    unit, stated = line.unit, _stated(line, system)
    if stated is not None and line.low:
        grown = scaled.low / line.low
        unit, scaled = stated.unit, ScaledAmount(stated.low * grown, stated.high * grown)
    if SYSTEMS[system].as_written and (scaled.low, scaled.high) == (line.low, line.high or line.low) and _writable(line):
        return _as_typed(scaled.low, line.unit), _as_typed(scaled.high, line.unit)
    low = kitchen_measure(scaled.low, unit, style, system, line.food)
    high = low if scaled.high == scaled.low else kitchen_measure(scaled.high, unit, style, system, line.food)
    return low, high


def _stated(line: LineFacts, system: str) -> AmountFacts | None:
    """Return the amount that the cook gave in the reader's measures beside the first ("1 cup (240 mL)"), or None."""
    wanted = SYSTEMS[system].units
    if not wanted or line.unit in wanted or size_of(line.unit).dimension == "count":
        return None
    return next((other for other in line.also if other.unit in wanted), None)


def _writable(line: LineFacts) -> bool:
    """Say whether the written amount is a number that a cook would write: "2⅛ cups" is better as cups and spoons."""
    amounts = [amount for amount in (line.low, line.high) if amount is not None]
    return line.unit not in ("cup", "quart", "gallon", "lb") or all(amount.denominator in (1, 2, 3, 4) for amount in amounts)


def _as_typed(amount: Fraction, unit: str) -> Shown:
    parts = ((amount, unit),)
    return Shown(measure_words.parts_words(parts), measure_words.exact_words(amount, unit), 0.0, parts=parts)


def _amount_words(line: LineFacts, low: Shown, high: Shown, system: str) -> str:
    if _is_pack(line.size) and not measure_words.is_weight(high.parts):
        return _packs(line, low, high)
    text = _joined(low, high, system)
    if not line.unit or size_of(line.unit).dimension != "count":
        return text
    number = text.removesuffix(label_of(line.unit, high.parts[0][0])).strip()
    return " ".join(filter(None, (number, line.size, _own_label(line, high.parts[0][0]))))


def _is_pack(size: str) -> bool:
    return bool(re.search(r"\d", size))


def _joined(low: Shown, high: Shown, system: str) -> str:
    """Return one measure, or a range that names its unit once where it can."""
    if low.text == high.text:
        return low.text
    if len(low.parts) == len(high.parts) == 1 and low.parts[0][1] == high.parts[0][1]:
        number, key = high.parts[0]
        return f"{measure_words.number_words(low.parts[0][0], key)}–{measure_words.part_words(number, plain_key(key, system))}"
    return f"{low.text} to {high.text}"


def _packs(line: LineFacts, low: Shown, high: Shown) -> str:
    number = high.parts[0][0]
    numbers = _joined(low, high, "written").removesuffix(label_of(line.unit, number)).strip()
    size = re.sub(r"(\d)\s*-?\s*([a-zA-Z])", r"\1 \2", line.size)
    return f"{numbers} × {size} {_own_label(line, number)}".strip()


def _own_label(line: LineFacts, number: Fraction) -> str:
    """Return the unit in the cook's own word: who typed "tins" reads "tins", not "cans"."""
    for word in re.findall(r"[a-z]+", line.text.lower()):
        unit = find_unit(word) if len(word) > 2 else None
        if unit is not None and unit.key == line.unit and unit.per_base is None and word not in (unit.label, unit.plural):
            return singular(word) if number <= 1 else plural(singular(word))
    return label_of(line.unit, number)


def _name_words(line: LineFacts, high: Shown) -> str:
    name = line.name or ("" if line.unit else line.text)
    if not line.unit and high.parts:
        name = agree(name, line.high or line.low or 1, high.parts[0][0])
        if line.size and not _is_pack(line.size):
            return f"{line.size} {name}"
    return name


_CUT_FROM_G, _EIGHTHS = 55, 8

_AT_WILL = re.compile(r"\bto (?:taste|season)\b|\bas (?:needed|required|desired|necessary)\b|\bq\.?s\b", re.IGNORECASE)


def _notes(line: LineFacts) -> str:
    extra = ["to taste"] if line.to_taste and not _AT_WILL.search(line.note) else []
    extra += [] if line.made is None else ["made now" if line.made.now else "made before"]
    return ", ".join(note for note in (line.note, *extra, "optional" if line.optional else "") if note)
