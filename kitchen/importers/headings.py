"""The words by which recipes name their pieces: ingredients, method, yield, times; English, and some neighbours."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from kitchen.importers.durations import is_only_a_length, read_minutes, read_times
from kitchen.importers.found import ReadTimes, ReadYield
from kitchen.importers.yields import read_yield

_INGREDIENTS = (
    "(?:(?:the|you'?ll need|what you(?:'ll)? need|for) )?ingredients?(?: list| needed)?(?: for .{1,40})?"
    "|(?:what )?you(?:'ll| will)? need|shopping list"
    "|zutaten|ingrédients|ingredientes|ingredienti|ingrediënten|ingredienser|składniki|hozzávalók|ainekset"
)
_METHOD = (
    "(?:the |cooking |preparation )?(?:method|directions?|instructions?|preparation|procedure"
    "|steps)(?: of cooking)?|how (?:to (?:make|cook|prepare)(?: .{1,50})?|it'?s made)"
    "|(?:step[- ]by[- ]step|cooking) (?:instructions|method|guide)|what to do|to (?:make|prepare)"
    "|making (?:it|the .{1,30})|let'?s cook"
    "|zubereitung|préparation|preparación|preparación|elaboración|modo de prepar[oa](?:ção)?|preparazione"
    "|procedimento|bereiding|bereidingswijze|gör så här|tillagning|fremgangsmåte"
)
_AFTER = (
    "(?:recipe |cook'?s |chef'?s )?(?:notes?|tips?)(?: .{1,30})?|nutrition(?:al)?(?: .{1,40})?"
    "|comments?(?: .{0,20})?|\\d+ comments?|reviews?|ratings?|video|storage|how to store"
    "|related(?: .{1,30})?|you (?:may|might) also like(?: .{0,20})?|more recipes(?: .{0,30})?|equipment|faqs?"
    "|frequently asked questions|share(?: .{0,20})?|leave a (?:reply|comment|review)(?: .{0,20})?"
    "|did you (?:make|try) (?:this|it)(?: .{0,20})?|rate this recipe|newsletter|subscribe(?: .{0,30})?"
    "|categories|tags|filed under.*|about the author|source"
)
_NUMBERING = r"(?:[^\w(]{0,4}\s*)"


def _whole(words: str) -> re.Pattern[str]:
    return re.compile(rf"{_NUMBERING}(?:{words})\s*[:.–-]*\s*(?:\([^()]{{0,40}}\))?[^\w()]{{0,6}}", re.IGNORECASE)


_KINDS = (("ingredients", _whole(_INGREDIENTS)), ("method", _whole(_METHOD)), ("after", _whole(_AFTER)))
LONGEST_HEADING = 70


@lru_cache(maxsize=8192)
def kind_of(line: str) -> str:
    """Return what a line is the heading of: ``ingredients``, ``method``, ``after`` (what follows a method), or nothing.

    Examples
    --------
    >>> [kind_of(line) for line in ("Ingredients:", "How to make it", "Notes", "2 onions", "Ingredients (serves 4)")]
    ['ingredients', 'method', 'after', '', 'ingredients']
    """
    if len(line) > LONGEST_HEADING:
        return ""
    return next((kind for kind, words in _KINDS if words.fullmatch(line.strip())), "")


_YIELD = re.compile(
    r"(?:^|[|•·(]\s*)(?:(?:recipe\s+)?(?P<label>yields?|servings?|serves|makes|portions?|feeds"
    r"|number\s+of\s+servings)\b)\s*[:=–-]?\s*"
    r"(?P<said>(?:about|approx(?:imately|\.)?|around|up\s+to)?\s*(?:\d|one|two|three|four|five|six|eight|ten"
    r"|twelve|a\s+dozen|a\s+loaf)[^|•·()]{0,50})",
    re.IGNORECASE,
)
_YIELD_ALONE = re.compile(
    r"(?P<said>\d{1,3}(?:\s*(?:-|–|to)\s*\d{1,3})?\s+(?:servings?|portions?|people|persons?))", re.IGNORECASE
)
_LABEL_ALONE = re.compile(
    r"(?:(?P<makes>yields?|servings?|serves|makes|portions?)|(?P<time>(?:prep(?:aration)?|cook(?:ing)?|bak(?:e"
    r"|ing)|total|ready\s+in)(?:\s+time)?))\s*:?",
    re.IGNORECASE,
)
_OF_TIME = r"prep(?:aration)?|active|hands[- ]on|cook(?:ing)?|bak(?:e|ing)|total|ready\s+in|takes|start\s+to\s+finish"
_TIME = re.compile(
    rf"\b(?P<kind>{_OF_TIME})(?:\s+time\s*(?:is\s+)?[:=–-]?|\s*[:=–-])\s*"
    r"(?=(?P<said>(?:about\s+|approx\.?\s+)?(?:\d|[½¼¾]|an?\s+hour|half\s+an)[^|•·:;]{0,40}))",
    re.IGNORECASE,
)
# Without the word "time" and without a colon it could be a step: "Bake 35 minutes, then cool".
_BARE_TIME = re.compile(rf"(?:^|[|•·(]\s*)(?P<kind>{_OF_TIME})\s+(?P<said>[^|•·()]{{2,40}}?)\s*(?=$|[|•·()])", re.IGNORECASE)
_NEXT_LABEL = re.compile(r",\s*(?=[a-z])|\b(?:prep|cook|total|serves|servings)\b", re.IGNORECASE)
_WHICH = {"p": "prep", "a": "prep", "h": "prep", "c": "cook", "b": "cook"}
_LONGEST_FACT = 160


def joined_labels(lines: list[str]) -> list[str]:
    """Return short lines with a label that stands alone joined to the value below it: "Prep Time", "10 min"."""
    joined: list[str] = []
    for line in lines:
        if joined and _LABEL_ALONE.fullmatch(joined[-1]) and line[:1].isdigit() and len(line) <= 40:
            joined[-1] = f"{joined[-1].rstrip(': ')}: {line}"
        else:
            joined.append(line)
    return joined


def yield_in(lines: list[str]) -> ReadYield:
    """Return what a recipe makes, from lines that say so.

    Examples
    --------
    >>> yield_in(["A warm pot.", "Prep 10 min | Serves 4-6"]).words
    '4-6'
    """
    for line in lines:
        found = (_YIELD.search(line) if len(line) <= _LONGEST_FACT else None) or (
            _YIELD_ALONE.fullmatch(line) if len(line) <= 30 else None
        )
        said = found["said"] if found else ""
        makes = (
            read_yield([re.split(r"[,;]\s|\.\s|\b(?:prep|cook|total)\b", said, maxsplit=1, flags=re.IGNORECASE)[0]])
            if said
            else None
        )
        if makes is not None and makes.number is not None:
            return makes
    return ReadYield()


def times_in(lines: list[str]) -> ReadTimes:
    """Return a recipe's times, from lines that give them.

    Examples
    --------
    >>> times_in(["Prep time: 10 mins, cook time: 1 hour"])
    ReadTimes(prep_min=10, cook_min=60, total_min=70, summed=True)
    """
    found: dict[str, list[str]] = {"prep": [], "cook": [], "total": []}
    for line in lines:
        if len(line) > _LONGEST_FACT:
            continue
        for kind, said in _times_of(line):
            found[_WHICH.get(kind[0].lower(), "total")].append(said)
    return read_times(found["prep"], found["cook"], found["total"])


def _times_of(line: str) -> Iterator[tuple[str, str]]:
    """Yield what a line says about times: the kind and the length."""
    for match in _TIME.finditer(line):
        said = _NEXT_LABEL.split(match["said"], maxsplit=1)[0]
        if read_minutes(said) is not None:
            yield match["kind"], said
    for match in _BARE_TIME.finditer(line) if not line.endswith((".", "!")) else ():
        if is_only_a_length(match["said"]):
            yield match["kind"], match["said"]


def is_fact(line: str, *, labelled: bool = False) -> bool:
    """Say whether a short line gives nothing but a yield or times; ``labelled`` where "Cook 20 minutes" could be a step."""
    if len(line) > _LONGEST_FACT:
        return False
    return bool(_YIELD.match(line) or _YIELD_ALONE.fullmatch(line) or _TIME.match(line)) or (
        not labelled and any(_times_of(line))
    )
