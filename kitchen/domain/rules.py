"""Which scaling rule a line gets before the cook says otherwise.

What greases one pan stays the same; but "2 tbsp oil, plus extra for greasing" is oil in the food, and only the extra greases.

Salt, spices and dried herbs are seasoning: they grow slower than the food, and the cook tastes. The spice trade's table, where
this comes from, is about what comes in jars. A fresh herb is eaten like a leaf vegetable (a bunch of coriander, 30 g parsley,
two spoons of chopped chives) and grows with the food, so nothing is said of it. Two cases stay seasoning, by common practice:
a sprig or a leaf of a woody herb (thyme, rosemary, sage, bay), which is there to flavour the pot; and a spoon of a herb that
nobody called fresh, leafy or chopped, which may come from a jar.

Fat that is there to fry in ("oil for frying", "butter, to fry") goes by the panful, once for each batch (common practice):
twelve pancakes do not need twice the depth of oil. Fat that the food takes up ("2 tbsp oil" and no more) grows with the food,
and so does what fries one named thing inside a dish ("to fry the onions").

No line is a simmering liquid by itself: ``kitchen/domain/simmering.py`` says why, and what is proposed to the cook.
"""

from __future__ import annotations

import re
from typing import Protocol

from kitchen.domain.units import UNITS

RULES = ("proportional", "fixed", "batch", "seasoning", "simmer")
SEASONING_AISLES = frozenset({"spices", "fresh herbs"})
_EXTRA = re.compile(r"\b(?:plus|extra|more)\b.*", re.IGNORECASE)
_GREASE = re.compile(
    r"\b(?:for|to)\s+(?:the\s+)?(?:greas\w*|lin(?:e|ing)|oil\w*|brush\w*)|\bfor\s+the\s+(?:pan|tin|tray|griddle)\b", re.IGNORECASE
)
_FRIES = re.compile(
    r"\b(?:for|to)\s+(?:the\s+)?(?:(?:deep|shallow|pan|stir)[\s-]?)?fry(?:ing)?\b(?!\s+(?:the|an?|your)\b)|"
    r"\bfor\s+(?:the\s+)?(?:deep|shallow)[\s-](?:fat\s+)?fr(?:y|ying)\b",
    re.IGNORECASE,
)
_SEASONING = re.compile(
    r"\b(?:salt|pepper(?:corns?)?|paprika|cayenne|chill?i(?:es)?|chill?i\s+(?:flakes|powder)|chile|cumin|turmeric|curry\s+powder|"
    r"garam\s+masala|nutmeg|mace|ginger\s+powder|ground\s+\w+|oregano|thyme|rosemary|sage|basil|marjoram|tarragon|dill|"
    r"parsley|mint|coriander|cilantro|saffron|cardamom|allspice|spices?|seasoning|herbs?|sumac|bay\s+(?:leaf|leaves)|za'?atar|hot\s+sauce)\b",
    re.IGNORECASE,
)
_NOT_SEASONING = re.compile(
    r"(?<!\bground )(?<!\bcrushed )\b(?:bell|sweet|red|green|yellow|orange|pointed|romano|stuffed)\s+peppers?\b|\bpeppers\b"
    r"|\bground\s+(?:beef|pork|lamb|turkey|chicken|meat|almonds?|rice|coffee|flax\w*|hazelnuts?|nuts|oats)\b|\bsalt(?:ed)?\s+(?:cod|beef|pork|fish)\b|\b(?:con\s+carne|chocolate|tea|stock|sauce)\b",
    re.IGNORECASE,
)
# Linear in the spice trade's own scaling table, unlike the leaf herbs.
_LINEAR = re.compile(r"\b(?:(?:black|white)\s+pepper(?:corns?)?|allspice|cinnamon|cloves?)\b", re.IGNORECASE)
_HERB = re.compile(
    r"\b(?:basil|chervil|chives?|coriander|cilantro|dill|marjoram|mint|oregano|parsley|rosemary|sage|tarragon|thyme)\b",
    re.IGNORECASE,
)
_WOODY = re.compile(r"\b(?:curry|lavender|marjoram|oregano|rosemary|sage|savory|thyme)\b", re.IGNORECASE)
_FRESH = re.compile(r"\b(?:fresh|leaf|leaves|chopped|torn|snipped|fronds?|stalks?)\b", re.IGNORECASE)
_FROM_A_JAR = re.compile(r"\b(?:dried|dry|ground|powder(?:ed)?|seeds?|rubbed)\b", re.IGNORECASE)
_BY_THE_BUNCH = frozenset({"bag", "bunch", "cup", "cup_metric", "handful", "packet", "pot", "punnet"})
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
    def unit(self) -> str: ...

    @property
    def to_taste(self) -> bool: ...


def default_rule(line: ReadLine, aisle: str | None = None) -> str:
    """Return the scaling rule that a line most likely follows.

    Parameters
    ----------
    line : ParsedLine or LineFacts
        The line as read.
    aisle : str, optional
        The aisle of the food that it is linked to, which says whether it is a seasoning; None without a food.

    Returns
    -------
    str
        ``"fixed"`` for what greases one pan, ``"batch"`` for what is fried in, ``"seasoning"`` for salt, spices and what
        flavours, else ``"proportional"``.

    Notes
    -----
    Black pepper, cinnamon and cloves grow with the amount in the spice trade's table, so they stay proportional.

    Examples
    --------
    >>> from kitchen.domain.lines import parse_line
    >>> [default_rule(parse_line(text)) for text in ("1 tsp salt", "butter, for greasing", "2 red peppers", "300 g rice")]
    ['seasoning', 'fixed', 'proportional', 'proportional']
    """
    if _GREASE.search(_EXTRA.sub("", line.note)) or _GREASE.search(line.name):
        return "fixed"
    if _FRIES.search(_EXTRA.sub("", line.note)) or _FRIES.search(line.name):
        return "batch"
    if line.to_taste:
        return "seasoning"
    if _is_eaten(line, aisle):
        return "proportional"
    if _LINEAR.search(line.name) and not _SEASONING.search(_LINEAR.sub("", line.name)):
        return "proportional"
    by_words = bool(_SEASONING.search(line.name)) and not _NOT_SEASONING.search(line.name)
    return "seasoning" if aisle in SEASONING_AISLES or (by_words and aisle is None) else "proportional"


def _is_eaten(line: ReadLine, aisle: str | None) -> bool:
    """Say whether the line is a fresh herb that is eaten with the food rather than one that flavours it."""
    words = f"{line.name}, {line.note}"
    if not _HERB.search(line.name) or _FROM_A_JAR.search(words) or aisle not in (None, "fresh herbs"):
        return False
    unit = UNITS.get(line.unit or "each")
    if line.unit in _BY_THE_BUNCH or (unit is not None and unit.dimension == "mass"):
        return aisle is not None or bool(_FRESH.search(words)) or line.unit == "bunch"
    return bool(_FRESH.search(words)) and not _WOODY.search(line.name)


def is_hot(name: str) -> bool:
    """Say whether the seasoning burns, so that each further multiple adds a quarter only.

    Examples
    --------
    >>> is_hot("cayenne pepper"), is_hot("chilli flakes"), is_hot("black pepper")
    (True, True, False)
    """
    return bool(_HOT.search(name))
