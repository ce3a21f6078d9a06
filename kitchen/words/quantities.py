"""Why what was typed beside a field with a unit is not understood, and what to type."""

from __future__ import annotations

import math
from collections.abc import Mapping

from kitchen.domain.typed_quantity import Expected, NotUnderstood, shown
from kitchen.words.remarks import sentence, words_of
from kitchen.words.sentences import Language

SAME: Mapping[str, str] = {
    "Wh": "1.02 kWh and 1020",
    "kWh": "1500 Wh and 1.5",
    "W": "1.2 kW and 1200",
    "V": "0.23 kV and 230",
    "A": "500 mA and 0.5",
    "g": "1.2 kg and 1200",
    "kg": "800 g and 0.8",
    "mg": "1.5 g and 1500",
    "mL": "0.5 L and 500",
    "L": "750 mL and 0.75",
    "kPa": "0.7 bar and 70",
    "m": "1.5 km and 1500",
    "°C": "68 °F and 20",
    "min": "1 h 20 and 80",
    "days": "2 weeks and 14",
    "months": "2 years and 24",
    "kcal": "418.4 kJ and 100",
    "%": "88 % and 88",
    "g/mL": "920 g/L and 0.92",
    "g/kWh": "0.4 kg/kWh and 400",
}
"""For each unit of a field two ways to type one amount."""


def quantity_refusal(refused: NotUnderstood, language: Language) -> str:
    """Return a sentence that can stand beside the field.

    Examples
    --------
    >>> from kitchen.domain.remark import remark
    >>> quantity_refusal(NotUnderstood(remark("other_kind", typed="3 kg", dimension="mass"), Expected("W", 1, 20_000)), "en")
    '“3 kg” is a weight, and a power is needed here: 1.2 kW and 1200 mean the same.'
    """
    expected = refused.expected
    if expected is None:
        return words_of(refused.said, language)
    same = SAME.get(expected.unit, "")
    dimension = expected.measure.dimension if expected.measure else "none"
    return words_of(
        refused.said,
        language,
        kind=sentence(language, f"kind_{refused.said.values.get('dimension', dimension)}"),
        needed_kind=sentence(language, f"kind_{dimension}"),
        needed=_needed(expected, language),
        same=sentence(language, "and_same", same=same) if same else "",
        like=sentence(language, "like_same" if same else "like_digits", same=same),
    )


def _needed(expected: Expected, language: Language) -> str:
    """Return what the field takes."""
    if not math.isfinite(expected.low):
        return sentence(language, "digits_needed")
    unit = f" {expected.unit}" if expected.unit else ""
    ends = {"low": shown(expected.low), "high": shown(expected.high), "unit": unit}
    return sentence(language, "number_needed_above" if expected.above_low else "number_needed", **ends)
