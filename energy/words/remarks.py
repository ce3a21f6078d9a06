"""Remarks as sentences in a language."""

from __future__ import annotations

import math

from energy.gear.domain.sources import TIGHT_PCT
from energy.words import english
from energy.words.figures import (
    format_celsius,
    format_minute,
    format_minutes,
    format_percent,
    format_watts,
    format_wh,
    rounded_down,
    rounded_up,
)
from kitchen.words.sentences import ENGLISH, Language, Sentences

__all__ = ["ENGLISH", "Language", "sentence", "words_of"]


def _share(share_pct: float) -> str:
    """Return a share of a rating; one just below the limit keeps a tenth, so that nobody reads "it runs" beside 90 %."""
    just_below = share_pct < TIGHT_PCT <= share_pct + 0.5
    return f"{math.floor(share_pct * 10) / 10:g}\u00a0%" if just_below else format_percent(share_pct)


SAID = Sentences(
    {ENGLISH: english.SENTENCES},
    {
        "wh": format_wh,
        "watts": format_watts,
        "least_wh": lambda energy_wh: format_wh(rounded_down(energy_wh)),
        "most_wh": lambda energy_wh: format_wh(rounded_up(energy_wh)),
        "least_watts": lambda power_w: format_watts(rounded_down(power_w)),
        "most_watts": lambda power_w: format_watts(rounded_up(power_w)),
        "least_percent": lambda share_pct: format_percent(rounded_down(share_pct)),
        "minutes": format_minutes,
        "minute": format_minute,
        "percent": format_percent,
        "share": _share,
        "celsius": format_celsius,
    },
)

words_of, sentence = SAID.words_of, SAID.sentence
