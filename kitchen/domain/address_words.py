"""A recipe's title in the letters of an address."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection
from itertools import count

PLAIN_STEM = "recipe"
_LONGEST = 70
# Latin letters that Unicode does not take apart into a letter and a mark.
_LATIN = str.maketrans(
    {
        **{"ß": "ss", "ẞ": "ss", "æ": "ae", "Æ": "ae", "œ": "oe", "Œ": "oe", "ø": "o", "Ø": "o", "ł": "l", "Ł": "l"},
        **{"đ": "d", "Đ": "d", "ð": "d", "Ð": "d", "þ": "th", "Þ": "th", "ı": "i", "ħ": "h", "Ħ": "h", "ŋ": "ng", "Ŋ": "ng"},
        **{"’": "", "'": ""},
    }
)
_PLAIN = re.compile(rf"{PLAIN_STEM}(?:-[0-9]+)?\Z")


def address_stem(title: str) -> str:
    """Return the words of an address: small letters, digits and hyphens, at most 70; "recipe" where the script gives none.

    Examples
    --------
    >>> address_stem("Smørbrød & Crème brûlée"), address_stem("Grandma's soup"), address_stem("حساء العدس")
    ('smorbrod-creme-brulee', 'grandmas-soup', 'recipe')
    """
    plain = unicodedata.normalize("NFKD", title.translate(_LATIN)).encode("ascii", "ignore").decode().lower()
    words = re.sub(r"[^a-z0-9_]+", "-", plain).strip("-_")
    return words[:_LONGEST].strip("-_") or PLAIN_STEM


def numbered(stem: str, taken: Collection[str]) -> str:
    """Return the first of "soup", "soup-2", "soup-3" ... that is not taken.

    Examples
    --------
    >>> numbered("soup", {"soup", "soup-2"}), numbered("soup", ())
    ('soup-3', 'soup')
    """
    return stem if stem not in taken else next(one for place in count(2) if (one := f"{stem}-{place}") not in taken)


def says_nothing(slug: str, title: str) -> bool:
    """Whether an address is only "recipe" or "recipe-2" because the title gave no words for one.

    Examples
    --------
    >>> says_nothing("recipe-2", "حساء"), says_nothing("recipe", "Recipe"), says_nothing("adas", "حساء")
    (True, False, False)
    """
    has_words = any(letter.isascii() and letter.isalnum() for letter in unicodedata.normalize("NFKD", title.translate(_LATIN)))
    return bool(_PLAIN.match(slug)) and not has_words
