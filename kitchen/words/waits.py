"""How long to wait, in words."""

from __future__ import annotations

import math

from kitchen.words.remarks import sentence
from kitchen.words.sentences import Language


def wait_words(wait_s: float, language: Language) -> str:
    """Return a time to wait, rounded up, so that waiting it is always enough.

    Examples
    --------
    >>> [wait_words(wait_s, "en") for wait_s in (0.2, 5, 59.5, 61, 900)]
    ['1 second', '5 seconds', '1 minute', '2 minutes', '15 minutes']
    """
    seconds = max(1, math.ceil(wait_s))
    minutes = math.ceil(seconds / 60)
    if seconds < 60:
        return sentence(language, "one_second" if seconds == 1 else "some_seconds", count=seconds)
    return sentence(language, "one_minute" if minutes == 1 else "some_minutes", count=minutes)
