"""Words as people look for them: without case, accents or punctuation."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable


def fold(text: str) -> str:
    """Return the text folded for searching: no case, no accents, one space between words.

    Examples
    --------
    >>> fold("  Crème  FRAÎCHE, 20 dl ")
    'creme fraiche 20 dl'
    """
    decomposed = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(sign for sign in decomposed if not unicodedata.combining(sign))
    return " ".join(re.findall(r"\w+", bare))


def fold_all(texts: Iterable[str]) -> str:
    """Return several texts folded into one, a line each, so that no word runs over from one to the next.

    Examples
    --------
    >>> fold_all(["Red lentil pot", "", "Lentils"])
    'red lentil pot\\nlentils'
    """
    return "\n".join(folded for text in texts if (folded := fold(text)))
