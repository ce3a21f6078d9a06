"""What a cook has to know about a scaled line, in a few words that also fit on paper."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain.facts import LineFacts
from kitchen.domain.measures import Shown, kitchen_measure
from kitchen.domain.scaling import ScaledAmount
from kitchen.domain.units import volume_ml


@dataclass(frozen=True)
class Scaling:
    """Under which circumstances a line was scaled, and what came out. ``in_words`` are its amount as printed."""

    k: Fraction
    batches: int
    scaled: ScaledAmount
    in_words: str
    evaporated_ml: Fraction = Fraction(0)
    least_ml: Fraction = Fraction(0)
    system: str = "written"


def explained(line: LineFacts, scaling: Scaling) -> str:
    """Return what the line's rule did, where it did more than multiply; empty at the written servings in one pot.

    Parameters
    ----------
    line : LineFacts
        The line as read.
    scaling : Scaling
        How it was scaled.

    Examples
    --------
    >>> salt = LineFacts("1 tsp salt", Fraction(1), Fraction(1), "tsp", "salt", rule="seasoning")
    >>> explained(salt, Scaling(Fraction(3, 2), 1, ScaledAmount(Fraction(3, 2), Fraction(3, 2)), "1½ tsp"))
    'start with 1½ tsp, taste'
    >>> butter = LineFacts("1 tsp butter", Fraction(1), Fraction(1), "tsp", "butter", "for greasing", rule="fixed")
    >>> explained(butter, Scaling(Fraction(2), 1, ScaledAmount(Fraction(1), Fraction(1)), "1 tsp"))
    'stays the same: greases one pan'
    """
    tell = {"seasoning": _seasoned, "fixed": _fixed, "batch": _for_batches, "simmer": _simmered}.get(line.rule, _poured)
    return tell(line, scaling)


def _seasoned(line: LineFacts, scaling: Scaling) -> str:
    if scaling.k == scaling.batches or re.search(r"\btaste\b", line.note):
        return ""
    if scaling.batches > 1:
        return "taste each batch"
    return f"start with {scaling.in_words}, taste" if scaling.in_words else "taste and adjust"


_GREASES = re.compile(r"\b(?:greas|oil(?:ing)?\b|brush)", re.IGNORECASE)
_LINES = re.compile(r"\blin(?:e|ing)\b", re.IGNORECASE)


def _fixed(line: LineFacts, scaling: Scaling) -> str:
    if scaling.k == 1:
        return ""
    for pattern, does in ((_GREASES, "greases"), (_LINES, "lines")):
        if pattern.search(line.note) or (pattern is _GREASES and re.search(r"\bgreas", line.name)):
            return f"stays the same: {does} one pan"
    return "stays the same"


def _for_batches(line: LineFacts, scaling: Scaling) -> str:
    if scaling.batches > 1:
        return f"once for each of {scaling.batches} batches"
    return "stays the same: once for each batch" if scaling.k != 1 else ""


def _simmered(line: LineFacts, scaling: Scaling) -> str:
    if scaling.k == 1 and scaling.batches == 1:
        return ""
    written_ml = volume_ml(line.low if line.low is not None else Fraction(0), line.unit)
    lost_ml = min(scaling.evaporated_ml, written_ml or Fraction(0))
    if lost_ml <= 0:
        return _poured(line, scaling) or "boils down: add more only if it needs it"
    lost = kitchen_measure(lost_ml, "mL", system=scaling.system).text
    return f"{lost} boils off in each {'batch' if scaling.batches > 1 else 'pan'}"


def _poured(line: LineFacts, scaling: Scaling) -> str:
    """Say that a closed pot's least liquid is more than the proportion, where it is."""
    plain_ml = volume_ml(scaling.k * (line.low or 0), line.unit)
    if plain_ml is None or plain_ml >= scaling.least_ml * scaling.batches:
        return ""
    return "the least liquid that the appliance needs"


# "or 2 small", "mixed with 2 tbsp water", "1 carrot" after a comma: an amount among the words, which no scaling reaches.
_AMOUNT_IN_WORDS = re.compile(
    r"(?:\b(?:or|with|plus)\s+(?:about\s+)?|(?<=, ))(?:\d|[½⅓⅔¼¾⅛])(?![^,]*(?:cm\b|mm\b|\binch|%|°))[^,]*"
)


def left_as_written(line: LineFacts, k: Fraction) -> str:
    """Return which amount among the line's words was left as it was written; empty where there is none."""
    found = _AMOUNT_IN_WORDS.search(f"{line.name}, {line.note}") if k != 1 else None
    return f"“{found.group().strip()}” as written, not scaled" if found else ""


def exactly(low: Shown, high: Shown) -> str:
    """Return the exact amount behind a rounded one, of a range both ends; empty where nothing was rounded."""
    if low.exact_text == low.text and high.exact_text == high.text:
        return ""
    if not low.error_pct and not high.error_pct:
        return ""
    return low.exact_text if low.exact_text == high.exact_text else f"{low.exact_text} to {high.exact_text}"


def rounded_from(low: Shown, high: Shown) -> str:
    """Say what a rounding of more than 5 % started from; of a range both ends, as one of them alone would be a riddle."""
    return f"rounded from {exactly(low, high)}" if low.said or high.said else ""
