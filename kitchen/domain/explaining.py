"""What a cook has to know about a scaled line."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain.facts import LineFacts
from kitchen.domain.measures import Shown, kitchen_measure
from kitchen.domain.remark import Remark, remark
from kitchen.domain.units import volume_ml


@dataclass(frozen=True)
class Scaling:
    """Under which circumstances a line was scaled, and what came out: its ends as shown, and its ``amount`` as printed."""

    k: Fraction
    batches: int
    low: Shown
    high: Shown
    amount: str
    evaporated_ml: Fraction = Fraction(0)
    least_ml: Fraction = Fraction(0)
    system: str = "written"


def explained(line: LineFacts, scaling: Scaling) -> tuple[Remark, ...]:
    """Return what the line's rule did, where it did more than multiply, what was rounded, and what was not scaled.

    Parameters
    ----------
    line : LineFacts
        The line as read.
    scaling : Scaling
        How it was scaled.

    Examples
    --------
    >>> salt = LineFacts("1 tsp salt", Fraction(1), Fraction(1), "tsp", "salt", rule="seasoning")
    >>> more = kitchen_measure(Fraction(3, 2), "tsp")
    >>> explained(salt, Scaling(Fraction(3, 2), 1, more, more, more.text))
    (Remark(code='start_with', values={'amount': '1½ tsp'}),)
    >>> butter = LineFacts("1 tsp butter", Fraction(1), Fraction(1), "tsp", "butter", "for greasing", rule="fixed")
    >>> same = kitchen_measure(Fraction(1), "tsp")
    >>> [said.code for said in explained(butter, Scaling(Fraction(2), 1, same, same, same.text))]
    ['greases_one_pan']
    """
    tell = {"seasoning": _seasoned, "fixed": _fixed, "batch": _for_batches, "simmer": _simmered}.get(line.rule, _poured)
    return tuple(said for said in (tell(line, scaling), *_rounded(line, scaling), *_left_as_written(line, scaling)) if said)


def _seasoned(line: LineFacts, scaling: Scaling) -> Remark | None:
    if scaling.k == scaling.batches or re.search(r"\btaste\b", line.note):
        return None
    return remark("taste_each_batch") if scaling.batches > 1 else remark("start_with", amount=scaling.amount)


_GREASES = re.compile(r"\b(?:greas|oil(?:ing)?\b|brush)", re.IGNORECASE)
_LINES = re.compile(r"\blin(?:e|ing)\b", re.IGNORECASE)


def _fixed(line: LineFacts, scaling: Scaling) -> Remark | None:
    if scaling.k == 1:
        return None
    if _GREASES.search(line.note) or re.search(r"\bgreas", line.name):
        return remark("greases_one_pan")
    return remark("lines_one_pan" if _LINES.search(line.note) else "stays_the_same")


def _for_batches(line: LineFacts, scaling: Scaling) -> Remark | None:
    if scaling.batches > 1:
        return remark("once_for_each_of", batches=scaling.batches)
    return remark("once_for_each_batch") if scaling.k != 1 else None


def _simmered(line: LineFacts, scaling: Scaling) -> Remark | None:
    if scaling.k == 1 and scaling.batches == 1:
        return None
    written_ml = volume_ml(line.low if line.low is not None else Fraction(0), line.unit)
    lost_ml = min(scaling.evaporated_ml, written_ml or Fraction(0))
    if lost_ml <= 0:
        return _poured(line, scaling) or remark("boils_down")
    lost = kitchen_measure(lost_ml, "mL", system=scaling.system).text
    return remark("boils_off_in_batch" if scaling.batches > 1 else "boils_off_in_pan", amount=lost)


def _poured(line: LineFacts, scaling: Scaling) -> Remark | None:
    """Say that a closed pot's least liquid is more than the proportion, where it is."""
    plain_ml = volume_ml(scaling.k * (line.low or 0), line.unit)
    if plain_ml is None or plain_ml >= scaling.least_ml * scaling.batches:
        return None
    return remark("least_liquid")


# "or 2 small", "mixed with 2 tbsp water", "1 carrot" after a comma: an amount among the words, which no scaling reaches.
_AMOUNT_IN_WORDS = re.compile(
    r"(?:\b(?:or|with|plus)\s+(?:about\s+)?|(?<=, ))(?:\d|[½⅓⅔¼¾⅛])(?![^,]*(?:cm\b|mm\b|\binch|%|°))[^,]*"
)


def _left_as_written(line: LineFacts, scaling: Scaling) -> Iterable[Remark]:
    """Yield which amount among the line's words was left as it was written."""
    found = _AMOUNT_IN_WORDS.search(f"{line.name}, {line.note}") if scaling.k != 1 else None
    if found:
        yield remark("as_written", words=found.group().strip())


def exactly(low: Shown, high: Shown) -> str:
    """Return the exact amount behind a rounded one, of a range both ends; empty where nothing was rounded."""
    if low.exact_text == low.text and high.exact_text == high.text:
        return ""
    if not low.error_pct and not high.error_pct:
        return ""
    return low.exact_text if low.exact_text == high.exact_text else f"{low.exact_text} to {high.exact_text}"


def _rounded(line: LineFacts, scaling: Scaling) -> Iterable[Remark]:
    """Yield what a rounding of more than 5 % started from; of a range both ends, as one of them alone would be a riddle."""
    # Of a pinch that is only where to start nobody asks for the exact size.
    if (scaling.low.coarse or scaling.high.coarse) and not (line.unit in ("pinch", "dash") and line.rule == "seasoning"):
        yield remark("rounded_from", exact=exactly(scaling.low, scaling.high))
