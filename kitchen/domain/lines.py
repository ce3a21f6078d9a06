"""Reading ingredient lines: what a cook typed becomes an amount, a unit, a food and notes; what cannot be read stays text.

Decisions. Of 25 November 2026 unless it says otherwise. What is bought stays in the name; size, preparation and temperature
go out. ``1-1/2`` is one and a half, "400 g tin" one tin of that size, "2 tbsp or 30 ml" the same twice, "lemon or lime juice"
one food. A pack's words are read as a line's. A step is read too (``step_words.py``): what its words say of stage, minutes
and heat is proposed, taken by a tap or by the first saving, and what its cook left empty stays empty (1 December). A spoon
means what it means in the kitchen where it is typed, and the line's unit freezes it. For metric, British and Australian
readers US volumes that go into spoons or cups convert at 5, 15 and 240 mL (21 CFR 101.9). Pieces are counted beside a weight
only for bakery, eggs, fruit and vegetables. A line may be made by an edition of another recipe (``kitchen/domain/made.py``),
pinned with its lines and weights; its prices are the day's. Made before, its energy and minutes stand beside the figures and
its electricity is in the cost; made in the same cook, they were measured with the rest and are added nowhere (1 December).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from kitchen.domain import line_words
from kitchen.domain.facts import AmountFacts
from kitchen.domain.line_asides import take_asides
from kitchen.domain.line_cleaning import clean_line, with_flat_brackets, without_footnotes
from kitchen.domain.line_ends import amount_at_end, amount_behind_adjective
from kitchen.domain.line_headings import heading_of
from kitchen.domain.line_measures import Measure, read_bare_unit, read_measure, stands_alone
from kitchen.domain.line_names import read_name
from kitchen.domain.line_preparation import split_before
from kitchen.domain.line_units import CONTAINERS
from kitchen.domain.units import UNITS, find_unit

# Longer texts are prose or an accident; they are kept as they are.
LONGEST_READ = 600


@dataclass(frozen=True)
class ParsedLine:
    """One line as read. Without an amount ``low`` and ``high`` are None; a line that says nothing else is all ``name``.

    ``unit_word`` is the unit as the cook wrote it ("tins"); ``parts`` the measures that a sum was made of ("1 lb 4 "
    "oz"), in their order.
    """

    text: str
    low: Fraction | None = None
    high: Fraction | None = None
    unit: str = ""
    name: str = ""
    note: str = ""
    size: str = ""
    also: tuple[AmountFacts, ...] = ()
    to_taste: bool = False
    optional: bool = False
    heading: bool = False
    unit_word: str = ""
    parts: tuple[AmountFacts, ...] = ()


def parse_line(text: str) -> ParsedLine:
    """Return how one ingredient line is read. Never raises: a line that cannot be read comes back with its text as its name.

    Parameters
    ----------
    text : str
        The line as typed or pasted, of any length and in any script.

    Returns
    -------
    ParsedLine
        Exact low and high amount, unit key, name of the food, note, size of one piece or pack, other amounts given.

    Notes
    -----
    The first amount is the amount; amounts in brackets or after a slash are kept in ``also``. ``11/2`` is one and a half. The
    name holds what is bought; size, preparation and a second food to choose from are told apart from it.

    Examples
    --------
    >>> line = parse_line("1 1/2 cups (180 g) plain flour, sifted")
    >>> str(line.low), line.unit, line.name, line.note, line.also
    ('3/2', 'cup', 'plain flour', 'sifted', (AmountFacts(low=Fraction(180, 1), high=Fraction(180, 1), unit='g'),))
    >>> line = parse_line("2 x 400 g tins chopped tomatoes")
    >>> str(line.low), line.unit, line.unit_word, line.size, line.name
    ('2', 'can', 'tins', '400 g', 'chopped tomatoes')
    >>> parse_line("For the sauce:").heading, parse_line("🍅 whatever you find").name
    (True, '🍅 whatever you find')
    """
    if len(text) > LONGEST_READ:
        return ParsedLine(text, name=text.strip())
    plain = clean_line(text)
    if not plain:
        return ParsedLine(text, name=text.strip())
    if heading := heading_of(plain):
        return ParsedLine(text, name=heading, heading=True)
    asides = take_asides(with_flat_brackets(without_footnotes(plain)).strip(" *:"))
    line = ParsedLine(text, to_taste=asides.to_taste, optional=asides.optional)
    if not asides.plain:
        return replace(line, name=text.strip())
    line = _amount_and_rest(asides.plain, line)
    line = replace(line, note=_join_notes(line.note, *asides.notes))
    if not line.name and line.low is None:
        return replace(line, name=asides.plain or text.strip())
    return line


def _join_notes(*notes: str) -> str:
    return ", ".join(note.strip(" ,;") for note in notes if note.strip(" ,;"))


_PART_FIRST = frozenset(
    re.findall(
        r"\w+",
        "whites yolks white yolk zest juice rind peel grated finely freshly the squeezed seeds leaves pulp fresh flesh pared",
    )
)
_NO_HEDGE = frozenset(("from", "use", "using", "between", "add", "plus", "say"))


def _amount_and_rest(plain: str, line: ParsedLine, depth: int = 0) -> ParsedLine:
    first = plain[:1]
    start, hedged = 0, ""
    if first.isalpha() or first in "~≈":
        may_be_part = depth < 2 and plain.split(None, 1)[0].lower().rstrip(",:") in _PART_FIRST
        part = line_words.OF_A_FRUIT.match(plain) if may_be_part else None
        if part:
            return _part_of_fruit(plain, part, line, depth)
        vague = line_words.VAGUE.match(plain)
        if vague:
            return _without_amount(plain, vague, line)
        hedge = line_words.HEDGE.match(plain)
        start, hedged = (hedge.end(), _hedge_words(hedge.group())) if hedge else (0, "")
    measure = read_measure(plain, start) or read_bare_unit(plain, start)
    if measure is not None and stands_alone(plain, start, measure) and not _bare_article(plain, start, measure):
        return _after_amount(plain, measure, replace(line, note=_join_notes(hedged, measure.hedge, line.note)))
    ended = amount_at_end(plain) or amount_behind_adjective(plain)
    if ended is not None:
        return _after_amount(ended.text, ended.measure, line)
    return _named(plain, line)


def _without_amount(plain: str, vague: re.Match[str], line: ParsedLine) -> ParsedLine:
    """Keep "a few sprigs of" as it is; the unit is known though nobody counted."""
    unit = find_unit(vague["unit"]) if vague["unit"] else None
    line = replace(line, unit=unit.key if unit else "", unit_word=vague["unit"] if unit else "", note=vague.group().strip())
    return _count_after(_named(plain[vague.end() :], line), counted=True)


def _hedge_words(typed: str) -> str:
    """Return "about" for a sign, and "generous" for "a generous": the article belongs to the amount."""
    words = typed.strip()
    if words in ("~", "≈"):
        return "about"
    return "" if words.lower() in _NO_HEDGE else words.removeprefix("a ")


def _part_of_fruit(plain: str, part: re.Match[str], line: ParsedLine, depth: int) -> ParsedLine:
    """Read "juice of 1 lemon" as one lemon, its juice."""
    inner = _amount_and_rest(plain[part.end() :], replace(line, note=""), depth + 1)
    words = part["part"]
    return replace(inner, note=_join_notes(words[:1].lower() + words[1:], inner.note, line.note))


def _bare_article(plain: str, start: int, measure: Measure) -> bool:
    """Say whether "a" is only the grammar of a sentence that has nothing after it."""
    return measure.end >= len(plain) and not measure.unit and not any(letter.isnumeric() for letter in plain[start : measure.end])


_F = line_words.FIGURES
_ALSO_SLASH = re.compile(rf"\s*[/|=]\s*(?=[\d{_F}])|\s+or\s+(?=[\d{_F}])|\s*-\s*(?=\d+\s*(?:g|ml)\b)", re.IGNORECASE)
_ALSO_BRACKET = re.compile(
    rf"\s*[(\[]\s*(?:about|approx\.?|approximately|around|or|roughly|"
    rf"[~≈=])?\s*(?P<inside>[\d{_F}][^()\[\]]{{0,60}}?)(?P<each>\s+each|\s+per\s+\w+)?\s*[)\]]",
    re.IGNORECASE,
)
_ALSO_NOTE = re.compile(
    r"^(?:about|approx\.?|approximately|around|roughly|"
    r"[~≈])?\s*(?P<inside>[\d½¼¾].*?)(?P<each>\s+each)?(?:\s+in\s+total|\s+total)?$",
    re.IGNORECASE,
)
# "(1 packet) dried yeast", "each of parsley and chives": words between the amount and the food.
_ASIDE = re.compile(
    r"(?:[(\[](?P<words>[^()\[\]]*)[)\]][\s,]*)?(?:or\s+(?:cans?|bottles?|jars?|bags?|packages?|packets?|bunch|box)\s+(?:of\s+)?(?=[^\W\d]))?(?:(?:each|ea)\b\.?[\s:,]*)?(?:of\s+(?:the\s+(?!\w+$))?(?:each\s*:?\s+)?)?(?:(?:your|any)\s+favou?rite\s+)?(?=\S)",
    re.IGNORECASE,
)


_BETWEEN_AMOUNTS = re.compile(rf"(?<=[a-zA-Z.])\s*[/;,]\s*(?=[\d{_F}])")


def _after_amount(plain: str, measure: Measure, line: ParsedLine) -> ParsedLine:
    line = replace(line, low=measure.low, high=measure.high, unit=measure.unit, size=measure.size)
    line, place = replace(line, unit_word=measure.word, parts=measure.parts), measure.end
    also: list[AmountFacts] = list(measure.also)
    while slash := _ALSO_SLASH.match(plain, place):
        other = read_measure(plain, slash.end())
        if other is None or not other.unit or other.size:
            break
        also.append(AmountFacts(other.low, other.high, other.unit))
        place = other.end
    rest = plain[place:].strip()
    if rest[:1] in ("(", "[") and ")" not in rest and "]" not in rest:
        rest = _closed(rest)
    while bracket := _ALSO_BRACKET.match(rest):
        taken = _given_amount(bracket, line, also)
        if taken is None:
            break
        line, rest = taken, rest[bracket.end() :].strip()
    aside = _ASIDE.match(rest)
    if aside:
        rest, line = rest[aside.end() :], replace(line, note=_join_notes(line.note, aside["words"] or ""))
    return _named(rest, replace(line, also=tuple(also)), listed=bool(aside and "ea" in aside.group().lower()))


def _closed(rest: str) -> str:
    """Close a bracket that was left open behind its amount: "2 cups (240 g flour"."""
    inside = read_measure(rest, 1)
    return rest if inside is None or not inside.unit else f"{rest[: inside.end].rstrip()}) {rest[inside.end :]}"


def _given_amount(found: re.Match[str], line: ParsedLine, also: list[AmountFacts]) -> ParsedLine | None:
    """Keep an amount given beside the first one: in ``also``, or as the size of one piece ("150 g each", "1 can (400 g)")."""
    pieces = [piece for piece in _BETWEEN_AMOUNTS.split(found["inside"]) if piece]
    measures = [read_measure(piece) for piece in pieces]
    if any(m is None or not m.unit or m.end != len(piece) for m, piece in zip(measures, pieces, strict=True)):
        return None
    physical = [m for m in measures if m is not None and UNITS[m.unit].dimension != "count" and not _is_heat(m)]
    if not physical:
        return None
    if found["each"] or (line.unit in CONTAINERS and not line.size):
        return replace(line, size=pieces[0])
    also.extend(AmountFacts(m.low, m.high, m.unit) for m in physical)
    return line


def _is_heat(measure: Measure) -> bool:
    """Say whether "45 C" is a temperature rather than cups."""
    return measure.word == "C" and measure.low >= 20


def _named(rest: str, line: ParsedLine, *, listed: bool = False) -> ParsedLine:
    rest = rest.strip(" ,;:.") if line.low is not None else rest.strip(" ,;")
    bought = "packed" if line.unit in CONTAINERS else "weighed" if line.unit in ("g", "kg") else ""
    if line.low is None and not line.unit and (several := _several(rest)):
        return replace(line, name=several)
    if listed and "(" not in rest:
        name, size, notes, done = _list_of(rest, bought)
    else:
        name, size, notes, done = read_name(rest, counted=line.low is not None, bought=bought)
    line, kept = _amounts_of(notes, line)
    line = replace(line, name=name, size=line.size or size, note=_join_notes(done, line.note, *kept))
    return _count_after(_or_two(line))


_SEASONINGS = (
    r"(?:(?:sea|kosher|table)\s+)?salt|(?:(?:black|white|ground)\s+)*pepper|(?:olive\s+|vegetable\s+)?oil|"
    r"butter|sugar|water|flour"
)
_FOOD = r"[^\W\d][\w'’-]*(?:\s[\w'’-]+){0,2}"
_SEVERAL = re.compile(
    rf"(?P<items>(?:{_FOOD},\s+){{1,4}}(?:{_FOOD},?\s)?(?:and|&)\s[^,;()]{{2,40}})$"
    rf"|(?P<seasoning>(?:(?:{_SEASONINGS}),\s+)+(?:{_SEASONINGS}))$",
    re.IGNORECASE,
)
_OF_ONE = re.compile(
    r",\s(?:\w+\s){0,2}(?:\w+ed|cut|torn|beaten|ground|finely|roughly|thinly|freshly|to|for|or|plus|if|with|both|white|only|"
    r"leaves|stems|seeds|skin|such|about|at|each|fresh|dried)\b|\bor\b|(?:and|&)\s(?:\w+ly\s)?(?:cut|torn|more|extra|\w+ed)\b",
    re.IGNORECASE,
)


def _several(rest: str) -> str:
    """Return "olive oil, salt and pepper" whole: foods without an amount, none of them a note on the first."""
    if "," not in rest:
        return ""
    found = _SEVERAL.match(rest)
    return rest if found and (found["seasoning"] or not _OF_ONE.search(rest)) else ""


def _list_of(rest: str, bought: str) -> tuple[str, str, list[str], str]:
    """Keep "salt, pepper and sugar" whole behind "1/2 tsp each"."""
    if "," in rest and re.search(r",[^,]*(?:\band\b|&)", rest):
        name, done = split_before(rest, bought)
        return name, "", [], done
    return read_name(rest, counted=True, bought=bought)


def _amounts_of(notes: list[str], line: ParsedLine) -> tuple[ParsedLine, list[str]]:
    """Keep the amounts among the notes: "2 onions, about 300 g"."""
    kept: list[str] = []
    for words in notes:
        found = _ALSO_NOTE.match(words) if line.low is not None else None
        also = list(line.also)
        taken = _given_amount(found, line, also) if found else None
        if taken is not None:
            line = replace(taken, also=tuple(also))
        else:
            kept.append(words)
    return line, kept


def _or_two(line: ParsedLine) -> ParsedLine:
    """Read "a bay leaf or two" as one to two."""
    found = re.match(r"or\s+(two|three)(?:,\s*|$)", line.note) if line.low == line.high == 1 else None
    if found is None:
        return line
    return replace(line, high=Fraction(2 if found[1] == "two" else 3), note=line.note[found.end() :])


def _count_after(line: ParsedLine, *, counted: bool = False) -> ParsedLine:
    """Read "3 garlic cloves" as three cloves of garlic; so too behind "a few"."""
    if line.unit or not (counted or line.low is not None):
        return line
    found = line_words.COUNT_AFTER.match(line.name.removeprefix("whole "))
    unit = find_unit(found["unit"]) if found else None
    if found is None or unit is None or not found["food"].strip():
        return line
    return replace(line, unit=unit.key, unit_word=found["unit"], name=found["food"].strip())
