"""Which scaling rule a line gets before the cook says otherwise."""

from __future__ import annotations

import re
from typing import Protocol

from kitchen.domain.facts import FoodFacts

RULES = ("proportional", "fixed", "batch", "seasoning", "simmer")
SEASONING_AISLES = frozenset({"spices", "fresh herbs"})
_GREASE = re.compile(
    r"\b(?:for|to)\s+(?:the\s+)?(?:greas\w*|lin(?:e|ing)|oil\w*|brush\w*)|\bfor\s+the\s+(?:pan|tin|tray|griddle)\b", re.IGNORECASE
)
_SEASONING = re.compile(
    r"\b(?:salt|pepper(?:corns?)?|paprika|cayenne|chill?i(?:es)?|chill?i\s+(?:flakes|powder)|chile|cumin|turmeric|curry\s+powder|"
    r"garam\s+masala|nutmeg|mace|ginger\s+powder|ground\s+\w+|oregano|thyme|rosemary|sage|basil|marjoram|tarragon|dill|"
    r"parsley|mint|coriander|cilantro|saffron|cardamom|allspice|spices?|seasoning|herbs?|sumac|za'?atar|hot\s+sauce)\b",
    re.IGNORECASE,
)
_NOT_SEASONING = re.compile(
    r"\b(?:bell|sweet|red|green|yellow|orange|pointed|romano|stuffed)\s+peppers?\b|\bpeppers\b|\bground\s+(?:beef|pork|lamb|turkey|chicken|"
    r"meat|almonds?|rice|coffee|flax\w*|hazelnuts?|nuts|oats)\b|\bsalt(?:ed)?\s+(?:cod|beef|pork|fish)\b|\b(?:con\s+carne|chocolate|tea|stock|sauce)\b",
    re.IGNORECASE,
)
# Linear in the spice trade's own scaling table, unlike the leaf herbs.
_LINEAR = re.compile(r"\b(?:black\s+pepper(?:corns?)?|cinnamon|cloves?)\b", re.IGNORECASE)
_HOT = re.compile(
    r"\b(?:cayenne|chill?i(?:es)?|chiles?|jalape[nñ]os?|habaneros?|scotch\s+bonnets?|hot\s+(?:pepper|sauce|paprika)|"
    r"(?:crushed\s+)?red\s+pepper\s+(?:flakes|powder)|ground\s+red\s+pepper|pepper\s+flakes)\b",
    re.IGNORECASE,
)


class ReadLine(Protocol):
    """What of a line the rules look at."""

    @property
    def name(self) -> str: ...

    @property
    def note(self) -> str: ...

    @property
    def to_taste(self) -> bool: ...


def default_rule(line: ReadLine, food: FoodFacts | None = None) -> str:
    """Return the scaling rule that a line most likely follows.

    Parameters
    ----------
    line : ParsedLine or LineFacts
        The line as read.
    food : FoodFacts, optional
        The food it is linked to; its aisle says whether it is a seasoning.

    Returns
    -------
    str
        ``"fixed"`` for what greases one pan, ``"seasoning"`` for herbs, spices and salt, else ``"proportional"``.

    Notes
    -----
    Black pepper, cinnamon and cloves grow with the amount in the spice trade's table, so they stay proportional.

    Examples
    --------
    >>> from kitchen.domain.lines import parse_line
    >>> [default_rule(parse_line(text)) for text in ("1 tsp salt", "butter, for greasing", "2 red peppers", "300 g rice")]
    ['seasoning', 'fixed', 'proportional', 'proportional']
    """
    if _GREASE.search(line.note) or _GREASE.search(line.name):
        return "fixed"
    if line.to_taste:
        return "seasoning"
    if _LINEAR.search(line.name) and not _SEASONING.search(_LINEAR.sub("", line.name)):
        return "proportional"
    by_aisle = food is not None and food.aisle in SEASONING_AISLES
    by_words = bool(_SEASONING.search(line.name)) and not _NOT_SEASONING.search(line.name)
    return "seasoning" if by_aisle or (by_words and food is None) else "proportional"


def is_hot(name: str) -> bool:
    """Say whether the seasoning burns, so that each further multiple adds a quarter only.

    Examples
    --------
    >>> is_hot("cayenne pepper"), is_hot("chilli flakes"), is_hot("black pepper")
    (True, True, False)
    """
    return bool(_HOT.search(name))
