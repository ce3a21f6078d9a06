"""Reading an amount that stands behind its food: "Butter 200 g", "Eggs: 2", "Onion - 1 large, chopped", "salt, a pinch"."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from kitchen.domain.line_counts import read_count
from kitchen.domain.line_measures import Measure, read_measure
from kitchen.domain.line_preparation import DESCRIBES, PREPARED
from kitchen.domain.line_units import food_follows
from kitchen.domain.line_words import FIGURES, SIZES
from kitchen.domain.nouns import singular

_X = re.compile(r"^(?P<name>[^\W\d_][^\d]{0,80}?)[\s,:–—-]*\s[x×]\s?(?P<count>\d{1,4})$", re.IGNORECASE)
_BEHIND = re.compile(
    rf"(?P<sign>\s*(?::|=|\.{{2,}}|…)\s*|\s+[-–—]+\s*|\s*[-–—]+\s+|\s*–\s*|\s*,\s*|\s*[(\[]\s*|\s+)(?:about\s+|"
    rf"approx\.?\s+|around\s+)?(?=[\d{FIGURES}])|"
    r"(?P<strong>\s*[:=]\s*|\s+[-–—]+\s*|\s*,\s*)(?=(?:an?|one|two|three|four|half)\s+\w)",
    re.IGNORECASE,
)
_WORDY = re.compile(r"[^\W\d_]")
_UNFIT = re.compile(r"\b(?:type|no\.?|number|size|grade|vitamin|about|cut|into|or|and|plus|to|in|omega|for)$", re.IGNORECASE)


@dataclass(frozen=True)
class EndAmount:
    """The line turned round, so that its amount comes first, and the measure as it stands there."""

    text: str
    measure: Measure


def amount_at_end(plain: str) -> EndAmount | None:
    """Return the line with its amount in front where it stood behind the food, or None.

    Examples
    --------
    >>> amount_at_end("Butter 200 g").text, amount_at_end("Onion - 1 large, chopped").text, amount_at_end("a spice")
    ('200 g Butter', '1 large Onion, chopped', None)
    """
    counted = _X.match(plain)
    if counted:
        number = Fraction(int(counted["count"]))
        text = f"{counted['count']} {counted['name']}"
        return EndAmount(text, Measure(number, number, "", len(counted["count"]))) if number else None
    place = 0
    for _ in range(4):
        found = _BEHIND.search(plain, place)
        if found is None:
            return None
        turned = _turned(plain, found)
        if turned is not None:
            return turned
        place = found.end()
    return None


_ADJECTIVE = re.compile(rf"(?P<word>[^\W\d]+(?:-[^\W\d]+)*)\s+(?=[\d{FIGURES}])")


def amount_behind_adjective(plain: str) -> EndAmount | None:
    """Return the line with its amount in front where one word of its food stood before it: "Fresh 2 tbsp dill", or None."""
    found = _ADJECTIVE.match(plain)
    word = found["word"].lower() if found else ""
    if found is None or not (word in DESCRIBES or word in PREPARED):
        return None
    measure = read_measure(plain, found.end())
    if measure is None or not food_follows(plain, measure.end):
        return None
    text = f"{plain[found.end() : measure.end].rstrip()} {found['word']} {plain[measure.end :].lstrip()}"
    return EndAmount(text, _again(text, measure))


def _turned(plain: str, found: re.Match[str]) -> EndAmount | None:
    name = plain[: found.start()].strip(" ,:-–—(")
    sign = (found["sign"] or found["strong"] or "").strip()
    measure = read_measure(plain, found.end())
    if measure is None or not name or not _WORDY.match(name) or "(" in name or _UNFIT.search(name):
        return None
    if not measure.unit and (measure.size or plain[measure.end : measure.end + 2].strip()[:1].isalpha()):
        measure = _of_a_length(plain, found.end(), name) or measure
    tail = plain[measure.end :]
    if sign in ("(", "["):
        sign, tail = "(", _out_of_bracket(tail)
    size = SIZES.match(tail.lstrip() + " ")
    in_figures = plain[found.end()].isdigit() or plain[found.end()] in FIGURES
    if not (measure.unit or (in_figures and _may_be_bare(name, sign, tail, sized=bool(size)))):
        return None
    if sign in ("", ",") and tail.strip() and tail.strip()[0] not in ",;(" and not size:
        return None
    words = plain[found.end() : measure.end].strip()
    if size and not measure.unit:
        cut = min(size.end(), len(tail.lstrip()))
        words, tail = f"{words} {tail.lstrip()[:cut].strip(' ,')}", tail.lstrip()[cut:]
    return EndAmount(f"{words} {name}{_tail(tail)}", _again(f"{words} {name}", measure))


def _out_of_bracket(tail: str) -> str:
    """Let what stands behind the amount inside the bracket follow a comma: "Garlic (3 cloves, crushed)"."""
    inside, _, after = tail.replace("]", ")", 1).partition(")")
    return f"{inside}{',' if inside.strip() and after.strip() and after.strip()[0] not in ',;' else ''}{after}"


def _of_a_length(plain: str, start: int, name: str) -> Measure | None:
    """Read "1 inch piece" behind "Ginger" and "6 cloves" behind "Garlic": these are measures only in front of their food."""
    said = re.split(r"[,;()]", plain[start:], maxsplit=1)[0].strip()
    turned = read_measure(f"{said} {name}", 0)
    return replace(turned, end=start + len(said)) if turned is not None and turned.unit and turned.end >= len(said) else None


def _again(turned: str, measure: Measure) -> Measure:
    """Give the measure its end in the turned line."""
    fresh = read_measure(turned, 0)
    if fresh is not None and fresh.unit == measure.unit and (fresh.low, fresh.high) == (measure.low, measure.high):
        return fresh
    counted = read_count(turned, 0)
    length = measure.end if counted is None else counted[1]
    return Measure(measure.low, measure.high, measure.unit, length, measure.size, measure.hedge, measure.word, measure.parts)


def _may_be_bare(name: str, sign: str, tail: str, *, sized: bool) -> bool:
    """Say whether a number without a unit behind a food counts it: "Eggs 2", "Eggs: 2", "Onions, 2 large"."""
    ends = not tail.strip() or tail.lstrip()[0] in ",;("
    if sign == "(" and sized:
        return True
    if sign in ("", "("):
        last = name.rsplit(maxsplit=1)[-1].lower()
        return (sized or ends) and singular(last) != last
    return ends or sized


def _tail(tail: str) -> str:
    return tail if not tail.strip() or tail.lstrip()[0] in ",;(" else f", {tail.strip(' .-–')}"
