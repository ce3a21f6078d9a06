"""One ingredient line as page and paper print it, for the servings that were asked."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from kitchen.domain import foods, measures
from kitchen.domain.facts import AmountFacts, LineFacts
from kitchen.domain.measures import Shown, kitchen_measure
from kitchen.domain.nouns import agree
from kitchen.domain.rules import is_hot
from kitchen.domain.scaling import TASTE, ScaledAmount, scale
from kitchen.domain.units import UNITS, label_of, size_of


@dataclass(frozen=True)
class ShownLine:
    """What is printed of a line.

    ``amount`` stands in front ("30 mL"), ``words`` name the food, ``note`` how it is prepared; ``grams`` is the weight beside a
    spoon or a count, where it is known; ``exact`` the exact amount where the shown one was rounded; ``scaled_note`` what the
    cook has to know about the scaling.
    """

    amount: str
    words: str
    note: str = ""
    grams: str = ""
    exact: str = ""
    scaled_note: str = ""


def show_line(
    line: LineFacts,
    k: Fraction = Fraction(1),
    measures: str = "written",
    *,
    batches: int = 1,
    evaporated_ml: Fraction = Fraction(0),
    least_ml: Fraction = Fraction(0),
    style: str = "",
) -> ShownLine:
    """Return the line for ``k`` times the servings, in the reader's measures.

    Parameters
    ----------
    line : LineFacts
        The line as read.
    k : Fraction > 0
        Multiple of the servings. [-]
    measures : str
        ``written``, ``metric`` or ``us``.
    batches : int >= 1
        Potfuls cooked one after the other. [-]
    evaporated_ml : Fraction >= 0
        What boils off an open pan, for a line under the simmer rule. [mL]
    least_ml : Fraction >= 0
        What a closed pot needs of this line in each batch, for a liquid in proportion. [mL]
    style : str
        Rounding style; by default ``small`` below the written servings and ``school`` from there up.

    Returns
    -------
    ShownLine
        Words ready to print. At the written servings and in the written measures the cook's own amount stands unrounded.

    Examples
    --------
    >>> line = LineFacts("1 onion, sliced", low=Fraction(1), high=Fraction(1), name="onion", note="sliced")
    >>> show_line(line, Fraction(3))
    ShownLine(amount='3', words='onions', note='sliced', grams='', exact='', scaled_note='')
    >>> show_line(LineFacts("salt to taste", name="salt", to_taste=True)).note
    'to taste'
    """
    if line.low is None:
        return ShownLine("", line.name or line.text, _notes(line))
    if line.unit and line.unit not in UNITS:
        line = replace(line, unit="", name=f"{line.unit} {line.name}".strip())
    scaled = _scaled(line, k, batches, evaporated_ml, least_ml)
    low, high = _shown_ends(line, scaled, measures, style or ("small" if k < 1 else "school"))
    middle = (scaled.low + scaled.high) / 2
    said = [_tasted(line, scaled.note), _rounded(low, high), _unscaled(line, k)]
    return ShownLine(
        amount=_amount_words(line, low, high),
        words=_words(line, high),
        note=_notes(line),
        grams=_grams(line, middle, low),
        exact=_exact(low, high),
        scaled_note=", ".join(filter(None, said)),
    )


def _tasted(line: LineFacts, note: str) -> str:
    """Return what the rule says, unless it is about tasting and the cook said that already."""
    return "" if note == TASTE and re.search(r"\btaste\b", _notes(line)) else note


# "or 2 small", "mixed with 2 tbsp water", "1 carrot" after a comma: an amount among the words, which no scaling reaches.
_AMOUNT_IN_WORDS = re.compile(
    r"(?:\b(?:or|with|plus)\s+(?:about\s+)?|(?<=, ))(?:\d|[½⅓⅔¼¾⅛])(?![^,]*(?:cm\b|mm\b|\binch|%|°))[^,]*"
)


def _unscaled(line: LineFacts, k: Fraction) -> str:
    """Return which amount in the line's words was left as it was written."""
    found = _AMOUNT_IN_WORDS.search(f"{line.name}, {line.note}") if k != 1 else None
    return f"“{found.group().strip()}” as written, not scaled" if found else ""


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
    unit = line.unit
    stated = _stated(line, system)
    if stated is not None and line.low:
        grown = scaled.low / line.low
        unit, scaled = stated.unit, ScaledAmount(stated.low * grown, stated.high * grown)
    if system == "written" and (scaled.low, scaled.high) == (line.low, line.high or line.low) and _writable(line):
        return _as_typed(scaled.low, line.unit), _as_typed(scaled.high, line.unit)
    low = kitchen_measure(scaled.low, unit, style, system, line.food)
    high = low if scaled.high == scaled.low else kitchen_measure(scaled.high, unit, style, system, line.food)
    return low, high


_METRIC_UNITS = frozenset({"g", "kg", "mg", "mL", "cL", "dL", "L"})
_US_UNITS = frozenset({"oz", "lb", "tsp", "tbsp", "floz", "cup", "pint", "quart", "gallon"})


def _stated(line: LineFacts, system: str) -> AmountFacts | None:
    """Return the amount that the cook gave in the reader's measures beside the first ("1 cup (240 mL)"), or None."""
    wanted = {"metric": _METRIC_UNITS, "us": _US_UNITS}.get(system, frozenset())
    if not wanted or line.unit in wanted or size_of(line.unit).dimension == "count":
        return None
    return next((other for other in line.also if other.unit in wanted), None)


def _writable(line: LineFacts) -> bool:
    """Say whether the written amount is a number that a cook would write: "2⅛ cups" is better as cups and spoons."""
    amounts = [amount for amount in (line.low, line.high) if amount is not None]
    return line.unit not in ("cup", "quart", "gallon", "lb") or all(amount.denominator in (1, 2, 3, 4) for amount in amounts)


def _as_typed(amount: Fraction, unit: str) -> Shown:
    parts = ((amount, unit),)
    return Shown(measures.parts_words(parts), measures.exact_words(amount, unit), 0.0, "", parts)


def _amount_words(line: LineFacts, low: Shown, high: Shown) -> str:
    if _is_pack(line.size) and not measures.is_weight(high.parts):
        return _packs(line, low, high)
    text = _joined(low, high)
    if line.size and line.unit and size_of(line.unit).dimension == "count":
        number, _, unit = text.rpartition(" ")
        return f"{number} {line.size} {unit}".strip()
    return text


def _is_pack(size: str) -> bool:
    return bool(re.search(r"\d", size))


def _joined(low: Shown, high: Shown) -> str:
    """Return one measure, or a range that names its unit once where it can."""
    if low.text == high.text:
        return low.text
    if len(low.parts) == len(high.parts) == 1 and low.parts[0][1] == high.parts[0][1]:
        number, key = high.parts[0]
        return f"{measures.number_words(low.parts[0][0], key)}–{measures.part_words(number, key)}"
    return f"{low.text} to {high.text}"


def _packs(line: LineFacts, low: Shown, high: Shown) -> str:
    numbers = _joined(low, high).removesuffix(label_of(line.unit, high.parts[0][0])).strip()
    size = re.sub(r"(\d)\s*-?\s*([a-zA-Z])", r"\1 \2", line.size)
    return f"{numbers} × {size} {label_of(line.unit, high.parts[0][0])}".strip()


def _words(line: LineFacts, high: Shown) -> str:
    name = line.name or ("" if line.unit else line.text)
    if not line.unit and high.parts:
        name = agree(name, line.high or line.low or 1, high.parts[0][0])
        if line.size and not _is_pack(line.size):
            return f"{line.size} {name}"
    return name


_AT_WILL = re.compile(r"\bto (?:taste|season)\b|\bas (?:needed|required|desired|necessary)\b|\bq\.?s\b", re.IGNORECASE)


def _notes(line: LineFacts) -> str:
    extra = ["to taste"] if line.to_taste and not _AT_WILL.search(line.note) else []
    return ", ".join(note for note in (line.note, *extra, "optional" if line.optional else "") if note)


_PART_OF_IT = re.compile(r"\b(?:juice|juiced|zest|zested|rind|peel|pulp)\b", re.IGNORECASE)


def _grams(line: LineFacts, middle: Fraction, shown: Shown) -> str:
    """Return the weight beside a spoon, a cup or a count; nothing where the amount is a metric weight already.

    Of a lemon's juice the weight of a lemon would be untrue.
    """
    if (shown.parts and shown.parts[0][1] in ("g", "kg", "mg")) or _PART_OF_IT.search(line.note):
        return ""
    written = foods.line_amount(line)
    weight_g = foods.line_grams(line, middle / written) if written else None
    return measures.weight_words(weight_g) if weight_g else ""


def _rounded(low: Shown, high: Shown) -> str:
    """Say what a rounding of more than 5 % started from; of a range both ends, as one of them alone would be a riddle."""
    return f"rounded from {_exact(low, high)}" if low.said or high.said else ""


def _exact(low: Shown, high: Shown) -> str:
    if low.exact_text == low.text and high.exact_text == high.text:
        return ""
    if not low.error_pct and not high.error_pct:
        return ""
    return low.exact_text if low.exact_text == high.exact_text else f"{low.exact_text} to {high.exact_text}"
