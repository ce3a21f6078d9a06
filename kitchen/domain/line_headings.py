"""Telling the title of a part ("For the sauce:") from an ingredient."""

from __future__ import annotations

import re

_MARKED = re.compile(
    r"^(?:\*\*|__|==+|--+|~~+|\*|—+|–+)\s*(?P<title>[^\d*_=~]{2,60}?)\s*:?\s*(?:\*\*|__|==+|--+|~~+|\*|"
    r"—+|–+):?$"
)
_FOR_THE = re.compile(r"(?:for|to\s+make|to\s+prepare)\s+(?:the\s+)?[^\d,:;()]{3,40}$", re.IGNORECASE)
_FOR_USE = re.compile(
    r"(?:for|to)\s+(?:the\s+)?(?:serv(?:e|ing)|garnish(?:ing)?|dust(?:ing)?|fry(?:ing)?|deep|shallow|greas(?:e|ing)|"
    r"brush(?:ing)?|drizzl(?:e|ing)|sprinkl(?:e|ing)|"
    r"roll(?:ing)?|coat(?:ing)?|pan|decorat(?:e|ing|ion)|taste)\b",
    re.IGNORECASE,
)
_ALONE = frozenset(
    re.findall(
        r"[a-z][a-z -]+",
        """
        sauce|dressing|filling|fillings|topping|toppings|crust|dough|marinade|frosting|icing|glaze|
        batter|garnish|garnishes|streusel|base|assembly|brine|salad|cake|spice rub|dry rub|
        ingredients|dry ingredients|wet ingredients|main ingredients|other ingredients|dry|wet|
        to serve|to finish|to garnish|to decorate|to assemble|optional toppings|optional ingredients|
        serve with|to top|for topping|garnishing|optional garnishes|optional add-ins|optional extras|
        tempering|seasoning ingredients|sponge|ganache|meringue topping|pie filling ingredients|
        crumb topping|streusel topping|crumble topping|spice mix ingredients
        """,
    )
)
_TRIMMED = re.compile(r"\s*\((?:optional|see note[^)]*)\)\s*$", re.IGNORECASE)


def heading_of(plain: str) -> str:
    """Return the title of a part, or nothing where the line is an ingredient.

    Examples
    --------
    >>> [heading_of(line) for line in ("For the sauce:", "**Dressing**", "FILLING", "For serving, parsley", "Butter")]
    ['For the sauce', 'Dressing', 'FILLING', '', '']
    """
    first = plain[0]
    if first == "#" and not plain[1:2].isdigit():
        return plain.lstrip("# ").rstrip(": ")
    if first in "*_=-~—–" and (marked := _MARKED.match(plain)):
        return _title(marked["title"])
    if first.isdigit():
        return ""
    if plain[-1] == ":" or plain.endswith("):"):
        return _title(plain) if len(plain) <= 60 else ""
    if plain.lower() in _ALONE:
        return plain
    if first in "fFtT" and _FOR_THE.match(plain) and not _FOR_USE.match(plain):
        return plain
    return ""


def _title(words: str) -> str:
    return _TRIMMED.sub("", words.strip(" *:_")).strip(" :-")
