"""Words about a whole line: "optional", "to taste", "for serving", "plus extra for dusting"."""

from __future__ import annotations

import re
from dataclasses import dataclass

_ACT = (
    r"serv|garnish|dust|dredg|fry|greas|brush|drizzl|sprinkl|roll|coat|decorat|topping|finish|season|knead|pan\b|tin\b|oil|lin|sauté|saut|bast|rim|rub|"
    r"stir|cook|dipp|glaz|toss|shap|scatter|thicken|work|boil|poach|bind|spread|bak|spray"
)
_PURPOSE = re.compile(
    rf"[\s,;(–-]{{0,4}}\b(?P<words>(?:(?:plus|or|and|\+|with)\s+)?(?:a\s+(?:little|few|bit)\s+|some\s+|\d\S*\s+(?:tsp|tbsp|"
    rf"teaspoons?|tablespoons?|cups?|oz|g)\s+)?(?:extra|more|additional)\s+(?:\w+\s+)?(?:for|to|as|if)\b.*"
    rf"|plus\s+(?:\d\S*\s+)?(?:a\s+little\s+|some\s+)?(?:extra|more)\b.*"
    rf"|(?:plus\s+\S+\s+\S+\s+)?(?:for|to\s+use\s+for)\s+(?:the\s+|deep[\s-]|shallow[\s-]|pan[\s-]|stir[\s-]|"
    rf"your\s+)?(?:work\s+)?(?:{_ACT}|deep|shallow|surface)\w*\b.*"
    r"|to\s+(?:serve|garnish|finish|decorate|dust|drizzle|sprinkle|coat|cover|grease|top|fry|season|bind|mix|thicken|"
    r"accompany|glaze|brush|line|dip|shape|decorate|scatter)\b.*"
    r"|as\s+(?:a\s+)?garnish|as\s+accompaniment.*)$",
    re.IGNORECASE,
)
_TO_TASTE = re.compile(
    r"[\s,;(–-]{0,4}\b(?P<words>(?:(?:or|and|but)\s+)?(?:(?:more|less|plus\s+more|"
    r"adjust)\s*(?:or\s+less\s*)?,?\s+)?(?:or\s+)?(?:(?:as\s+per|according\s+to|to|for|per)\s+(?:your\s+|own\s+)?tastes?|to\s+season)"
    r"|(?:or\s+|plus\s+)?(?:more\s+)?as\s+(?:needed|required|desired|necessary)|q\.?s\.?(?=$|"
    r"[\s,)]))(?:\s+and\s+to\s+taste)?\)?",
    re.IGNORECASE,
)
_OPTIONAL = re.compile(
    r"[\s,;–-]*\b(?:(?:this\s+is\s+|it\s+is\s+)?optional(?:ly)?(?:\s+(?:but|and)\s+[^,;()]{3,40})?|opt\.)(?:\s*[:,;–-]\s*)?",
    re.IGNORECASE,
)
_EMPTIED = re.compile(r"\s*[(\[]\s*(?:[)\]]|$)|(?<=[(\[])[\s,;–-]+|[\s,;–-]+(?=[)\]])")
_IF_LIKED = re.compile(r"\bif\s+(?:desired|liked|you\s+like|using|wanted|preferred|available)\b", re.IGNORECASE)
_BEFORE = re.compile(
    r"^(?P<words>(?:for\s+)?(?:garnish|serving)|(?:to|for)\s+(?:serve|garnish|serving|decorate|finish|topping|dusting|"
    r"frying|greasing)|"
    r"garnish(?:es)?|accompaniments?|serve\s+with|suggested\s+garnish|toppings?)\s*[:,–-]\s*(?=\S)|^(?P<top>top(?:ped)?(?:\s+(?:up|off))?\s+with)\s+(?=\S)",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Asides:
    """A line without the words about it, and what they said."""

    plain: str
    notes: tuple[str, ...] = ()
    to_taste: bool = False
    optional: bool = False


def take_asides(plain: str) -> Asides:
    """Return the line without "optional", "to taste" and what it is for; the last becomes a note.

    Examples
    --------
    >>> take_asides("1 tbsp oil, plus extra for frying")
    Asides(plain='1 tbsp oil', notes=('plus extra for frying',), to_taste=False, optional=False)
    >>> take_asides("capers (optional)").optional, take_asides("salt, to taste").to_taste
    (True, True)
    """
    low = plain.lower()
    optional, to_taste, notes = False, False, []
    if "option" in low or "opt." in low:
        plain, found = _OPTIONAL.subn("", plain)
        plain = _EMPTIED.sub("", plain).lstrip(" )]")
        optional = bool(found)
    elif " if " in low:
        optional = bool(_IF_LIKED.search(plain))
    before = _BEFORE.match(plain) if plain[:1] in "fgtsaFGTSA" else None
    if before:
        plain = plain[before.end() :]
    if "tast" in low or " as " in low or "season" in low or "q.s" in low or "qs" in low:
        plain, to_taste, words = _tasted(plain)
        notes.append(words)
    plain, words = _purpose(plain, low)
    notes += [words, before.group().strip(" :,–-").lower() if before else ""]
    return Asides(plain.strip(" ,;"), tuple(filter(None, notes)), to_taste, optional)


def _tasted(plain: str) -> tuple[str, bool, str]:
    found = _TO_TASTE.search(plain)
    if found is None:
        return plain, False, ""
    rest = (plain[: found.start()] + " " + plain[found.end() :]).strip(" ,;:–-")
    if not rest:
        return plain, False, ""
    words = found["words"].lower()
    return rest, True, "" if words in ("to taste", "or to taste", "for taste") else found["words"]


_PURPOSE_WORDS = (" for", " to ", "extra", "more", " as ", "(for", "(to", "additional")


def _purpose(plain: str, low: str) -> tuple[str, str]:
    found = _PURPOSE.search(plain) if any(word in low for word in _PURPOSE_WORDS) else None
    if found is None or not plain[: found.start()].strip(" ,;("):
        return plain, ""
    return plain[: found.start()].rstrip(" ,;(-–+&"), found["words"].rstrip(")")
