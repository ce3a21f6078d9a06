"""Reading ingredient lines: what a cook typed becomes an amount, a unit, a food and notes; what cannot be read stays text."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from kitchen.domain import line_words
from kitchen.domain.facts import AmountFacts
from kitchen.domain.line_measures import CONTAINERS, Measure, read_bare_unit, read_measure, skip_space, stands_alone
from kitchen.domain.units import UNITS, find_unit

# Longer texts are prose or an accident; they are kept as they are.
LONGEST_READ = 600


@dataclass(frozen=True)
class ParsedLine:
    """One line as read. Without an amount ``low`` and ``high`` are None; a line that says nothing else is all ``name``."""

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


def parse_lines(block: str) -> list[ParsedLine]:
    """Return every line of a pasted block that holds something, in order.

    Examples
    --------
    >>> [line.name for line in parse_lines("For the pot:\\n\\n200 g red lentils\\n- 2 onions, sliced")]
    ['For the pot', 'red lentils', 'onions']
    """
    return [parse_line(line) for line in block.splitlines() if line.strip()]


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
    The first amount is the amount; amounts in brackets or after a slash are kept in ``also``. ``11/2`` is one and a half.

    Examples
    --------
    >>> line = parse_line("1 1/2 cups (180 g) plain flour, sifted")
    >>> str(line.low), line.unit, line.name, line.note, line.also
    ('3/2', 'cup', 'plain flour', 'sifted', (AmountFacts(low=Fraction(180, 1), high=Fraction(180, 1), unit='g'),))
    >>> line = parse_line("2 x 400 g tins chopped tomatoes")
    >>> str(line.low), line.unit, line.size, line.name
    ('2', 'can', '400 g', 'chopped tomatoes')
    >>> parse_line("For the sauce:").heading, parse_line("🍅 whatever you find").name
    (True, '🍅 whatever you find')
    """
    if len(text) > LONGEST_READ:
        return ParsedLine(text, name=text.strip())
    plain = _clean(text)
    if not plain:
        return ParsedLine(text, name=text.strip())
    if heading := _heading(plain):
        return ParsedLine(text, name=heading, heading=True)
    plain, line, purpose = _marks(plain, ParsedLine(text))
    line = _amount_and_rest(plain, line)
    line = replace(line, note=_join_notes(line.note, purpose))
    if not line.name and line.low is None:
        return replace(line, name=plain or text.strip())
    return line


def _clean(text: str) -> str:
    text = line_words.INVISIBLE.sub("", text)
    text = " ".join(text.split())
    text = line_words.BULLET.sub("", text)
    return line_words.FOOTNOTE.sub("", text).strip(" ,;")


def _heading(plain: str) -> str:
    """Return the title of a part, or nothing where the line is an ingredient."""
    if plain.startswith("#"):
        return plain.lstrip("# ").rstrip(": ")
    if plain.endswith(":") and len(plain) <= 60 and not plain[0].isdigit():
        return plain.rstrip(": ")
    if line_words.HEADING.match(plain) and not line_words.HEADING_NO.match(plain) and not line_words.TO_TASTE.search(plain):
        return plain
    return ""


def _marks(plain: str, line: ParsedLine) -> tuple[str, ParsedLine, str]:
    """Take out "optional", "to taste" and what a line is for; the last becomes the end of the note."""
    ends: list[str] = []
    if "optional" in plain.lower():
        plain, found = line_words.OPTIONAL.subn("", plain)
        line = replace(line, optional=bool(found))
    tasted = line_words.TO_TASTE.search(plain)
    if tasted:
        plain = (plain[: tasted.start()] + " " + plain[tasted.end() :]).strip(" ,;")
        line = replace(line, to_taste=True)
        ends.append("" if tasted["words"].lower().endswith("taste") else tasted["words"])
    purpose = line_words.PURPOSE.search(plain)
    if purpose and plain[: purpose.start()].strip():
        plain = plain[: purpose.start()]
        ends.append(purpose["words"].rstrip(")"))
    return plain.strip(" ,;"), line, _join_notes(*ends)


def _join_notes(*notes: str) -> str:
    return ", ".join(note.strip(" ,;") for note in notes if note.strip(" ,;"))


def _amount_and_rest(plain: str, line: ParsedLine) -> ParsedLine:
    part = line_words.OF_A_FRUIT.match(plain)
    if part:
        return _part_of_fruit(plain, part, line)
    vague = line_words.VAGUE.match(plain)
    if vague:
        return _name_and_notes(plain[vague.end() :], replace(line, note=_join_notes(vague.group(), line.note)))
    hedge = line_words.HEDGE.match(plain)
    start = hedge.end() if hedge else 0
    length = _length(plain, start)
    if length:
        return _name_and_notes(length[1], _with(line, length[0]))
    measure = read_measure(plain, start) or read_bare_unit(plain, start)
    if measure is not None and stands_alone(plain, start, measure) and not _bare_article(plain, start, measure):
        hedged = _hedge_words(hedge.group()) if hedge else ""
        return _after_amount(plain, measure, replace(line, note=_join_notes(hedged, measure.hedge, line.note)))
    return _amount_at_end(plain, line) or _name_and_notes(plain, line)


def _hedge_words(typed: str) -> str:
    """Return "about" for a sign, and "generous" for "a generous": the article belongs to the amount."""
    words = typed.strip()
    return "about" if words in ("~", "≈") else words.removeprefix("a ")


def _part_of_fruit(plain: str, part: re.Match[str], line: ParsedLine) -> ParsedLine:
    """Read "juice of 1 lemon" as one lemon, its juice."""
    inner = _amount_and_rest(plain[part.end() :], replace(line, note=""))
    return replace(inner, note=_join_notes(_inside(part["part"]), inner.note, line.note))


def _inside(words: str) -> str:
    """Return words that began the line as they are written in the middle of one."""
    return words[:1].lower() + words[1:]


def _bare_article(plain: str, start: int, measure: Measure) -> bool:
    """Say whether "a" is only the grammar of a sentence that has nothing after it."""
    return measure.end >= len(plain) and not measure.unit and not any(letter.isnumeric() for letter in plain[start : measure.end])


def _length(plain: str, start: int) -> tuple[Measure, str] | None:
    """Read "5 cm piece of ginger" and "2 1-inch pieces": the length is the size of a piece, not an amount."""
    direct = line_words.LENGTH.match(plain, start)
    count = Fraction(1)
    if direct is None:
        counted = read_measure(plain, start)
        if counted is None or counted.unit or counted.size:
            return None
        count, direct = counted.low, line_words.LENGTH.match(plain, skip_space(plain, counted.end))
    if direct is None:
        return None
    unit = find_unit(direct["unit"])
    key = unit.key if unit else "piece"
    return Measure(count, count, key, direct.end(), size=direct["length"].strip(" -")), plain[direct.end() :]


def _with(line: ParsedLine, measure: Measure) -> ParsedLine:
    return replace(line, low=measure.low, high=measure.high, unit=measure.unit, size=measure.size)


_ALSO_SLASH = re.compile(r"\s*[/|=]\s*(?=[\d½¼¾⅓⅔⅛])|\s+or\s+(?=[\d½¼¾⅓⅔⅛])", re.IGNORECASE)
_ALSO_BRACKET = re.compile(
    r"\s*[(\[]\s*(?:about|approx\.?|around|or|[~≈=])?\s*(?P<inside>[\d½¼¾⅓⅔⅛][^()\[\]]{0,60}?)(?P<each>\s+each|\s+per\s+\w+)?\s*[)\]]",
    re.IGNORECASE,
)
_ALSO_NOTE = re.compile(
    r"^(?:about|approx\.?|around|roughly|[~≈])?\s*(?P<inside>\d.*?)(?P<each>\s+each)?(?:\s+in\s+total)?$", re.IGNORECASE
)


def _after_amount(plain: str, measure: Measure, line: ParsedLine) -> ParsedLine:
    line, place = _with(line, measure), measure.end
    also: list[AmountFacts] = []
    while slash := _ALSO_SLASH.match(plain, place):
        other = read_measure(plain, slash.end())
        if other is None or not other.unit:
            break
        also.append(AmountFacts(other.low, other.high, other.unit))
        place = other.end
    rest = plain[place:].strip()
    while bracket := _ALSO_BRACKET.match(rest):
        taken = _given_amount(bracket, line, also)
        if taken is None:
            break
        line, rest = taken, rest[bracket.end() :].strip()
    aside = _ASIDE.match(rest)
    if aside:
        rest, line = rest[aside.end() :], replace(line, note=_join_notes(line.note, aside["words"] or ""))
    return _name_and_notes(rest, replace(line, also=tuple(also)))


def _given_amount(found: re.Match[str], line: ParsedLine, also: list[AmountFacts]) -> ParsedLine | None:
    """Keep an amount given beside the first one: in ``also``, or as the size of one piece ("150 g each", "1 can (400 g)")."""
    pieces = [piece for piece in re.split(r"\s*[/;,]\s*", found["inside"]) if piece]
    measures = [read_measure(piece) for piece in pieces]
    if any(m is None or not m.unit or m.end != len(piece) for m, piece in zip(measures, pieces, strict=True)):
        return None
    physical = [m for m in measures if m is not None and UNITS[m.unit].dimension != "count"]
    if not physical:
        return None
    if found["each"] or (line.unit in CONTAINERS and not line.size):
        return replace(line, size=pieces[0])
    also.extend(AmountFacts(m.low, m.high, m.unit) for m in physical)
    return line


# "(1 packet) dried yeast", "each of parsley and chives": words between the amount and the food.
_ASIDE = re.compile(r"(?:[(\[](?P<words>[^()\[\]]*)[)\]]\s*)?(?:each\s+)?(?:of\s+)?(?=\S)", re.IGNORECASE)
_SPLIT_NAME = re.compile(r"\s*[,;(\[]|\s+[-–—]\s+|\s+(?=or\s+\w)")
_X_AT_END = re.compile(r"^(?P<name>.*?[^\W\d_].*?)[\s,:–—-]*\s[x×]\s?(?P<count>\d{1,4})$", re.IGNORECASE)
_MEASURE_AT_END = re.compile(r"^(?P<name>[^\W\d_][^\d(]*?)\s*(?:[:–—=-]\s*|\s)(?=[\d½¼¾⅓⅔⅛])(?P<measure>.*)$")


def _amount_at_end(plain: str, line: ParsedLine) -> ParsedLine | None:
    """Read "Butter 200 g" and "onions x 2", where the amount follows its food."""
    counted = _X_AT_END.match(plain)
    if counted:
        number = Fraction(int(counted["count"]))
        return _name_and_notes(counted["name"], replace(line, low=number, high=number)) if number else None
    found = _MEASURE_AT_END.match(plain)
    measure = read_measure(found["measure"]) if found else None
    if found is None or measure is None or not measure.unit:
        return None
    tail = found["measure"][measure.end :]
    if tail and tail[0] not in " ,;(":
        return None
    return _after_amount(f"{found['measure'][: measure.end]} {found['name']}{_tail(tail)}", measure, line)


def _tail(tail: str) -> str:
    return tail if not tail.strip() or tail.lstrip()[0] in ",;(" else f", {tail.strip()}"


def _name_and_notes(rest: str, line: ParsedLine) -> ParsedLine:
    rest = rest.strip(" ,;:.") if line.low is not None else rest.strip(" ,;")
    rest, line = _size_before(rest, line)
    rest, prepared = _prepared_before(rest)
    split = _SPLIT_NAME.search(rest)
    if split and line_words.ONLY_DESCRIBES.match(rest[: split.start()]):
        split = _SPLIT_NAME.search(rest, split.end())
    name, tail = (rest[: split.start()], rest[split.start() :]) if split and split.start() else (rest, "")
    line, notes = _notes_of(tail, line)
    line = _count_after(replace(line, name=name.strip(" ,;-–")))
    return replace(line, note=_join_notes(prepared, line.note, *notes))


def _size_before(rest: str, line: ParsedLine) -> tuple[str, ParsedLine]:
    """Take "2 large" off "eggs"; "baby spinach" keeps its baby."""
    found = line_words.SIZES.match(rest)
    if line.low is None or found is None or found["size"].lower() in line_words.SIZE_THAT_NAMES:
        return rest, line
    return rest[found.end() :], replace(line, size=line.size or found["size"].lower())


def _prepared_before(rest: str) -> tuple[str, str]:
    taken: list[str] = []
    while (found := line_words.PREPARED.match(rest)) and not line_words.PREPARED_FOODS.match(rest):
        taken.append(found.group().strip(" ,"))
        rest = rest[found.end() :]
    return rest, _inside(", ".join(taken))


def _notes_of(tail: str, line: ParsedLine) -> tuple[ParsedLine, list[str]]:
    """Split what follows the name into notes, and keep the amounts among them."""
    notes: list[str] = []
    for piece in re.split(r"[()\[\];]|,\s+|\s+[-–—]\s+", tail):
        words = piece.strip(" ,;")
        found = _ALSO_NOTE.match(words) if words and line.low is not None else None
        also = list(line.also)
        taken = _given_amount(found, line, also) if found else None
        if taken is not None:
            line = replace(taken, also=tuple(also))
        elif words:
            notes.append(words)
    return line, notes


def _count_after(line: ParsedLine) -> ParsedLine:
    """Read "3 garlic cloves" as three cloves of garlic."""
    if line.unit or line.low is None:
        return line
    found = line_words.COUNT_AFTER.match(line.name)
    unit = find_unit(found["unit"]) if found else None
    if found is None or unit is None or found["rest"].strip():
        return line
    return replace(line, unit=unit.key, name=found["food"].strip())
