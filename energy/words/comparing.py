"""Differences between runs in words."""

from __future__ import annotations

from energy.runs.domain.comparing import Difference
from energy.words.figures import format_wh
from energy.words.remarks import Language, sentence


def difference_words(difference: Difference, language: Language, same: str = "same_to_the_meters") -> str:
    """Return how an energy differs from another one; ``same`` is the code of what is said where no meter can tell.

    Examples
    --------
    >>> difference_words(Difference(12, 4), "en").replace(chr(160), " "), difference_words(Difference(-3, 4), "en", "same")
    ('12 ± 4 Wh more', 'the same')
    """
    if not difference.told:
        return sentence(language, same)
    return sentence(
        language, "more" if difference.size_wh > 0 else "less", energy=format_wh(abs(difference.size_wh), difference.limit_wh)
    )


def minutes_words(apart_min: int, language: Language) -> str:
    """Return a difference of whole minutes; empty where there is none.

    Examples
    --------
    >>> minutes_words(3, "en").replace(chr(160), " "), minutes_words(-90, "en").replace(chr(160), " "), minutes_words(0, "en")
    ('3 min longer', '1 h 30 min shorter', '')
    """
    return sentence(language, "longer" if apart_min > 0 else "shorter", span_s=abs(apart_min) * 60) if apart_min else ""
