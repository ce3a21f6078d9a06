"""Reading a quantity that a person typed beside a field that has a unit of its own.

The rule. A bare number means the field's own unit. A number with another unit of the same dimension is converted, exactly, and
said again in the field's unit. Two or more numbers with ever smaller units are one amount ("3 lb 4 oz", "1 h 20"); two with a
sign of multiplication between them are a product ("12 V x 64 Ah", "2 x 100 W"), and volts beside amp-hours or amps need no sign.
A temperature is a point on its scale, never a difference. Two numbers with a dash between them are a range, and no quantity.

A point is the decimal sign. So is a comma, unless it can only part thousands ("1,234,567", "1,234.5"). One comma before exactly
three digits can be either ("6,500"; but "0,725" and "12345,678" cannot): there the site's decimal sign decides and the cook is
told, and where energy or money depends on it both are named and nothing is guessed. What is converted and does not come out even
is kept with six figures, which is finer than any scale in a kitchen.

Only the words of ``technical_units.py`` and of the kitchen's list are ever units. What is typed is never evaluated, at most sixty
characters are looked at, and an exponent has at most two figures, so that the work is bounded.

>>> wh, metres = Expected("Wh", 0, 1_000_000), Expected("m", -430, 5500)
>>> read_quantity("1.02 kWh", wh).words, read_quantity("1020", wh).words, read_quantity("12 V x 64 Ah", wh).words
('1,020 Wh', '', '768 Wh')
>>> read_quantity("6,500 ft", metres).words, read_quantity("1,500", metres).words, read_quantity("1,5", metres).words
('1,981.2 m', '1,500 m', '')
>>> read_quantity("1,500", metres, lambda: Habits(comma_parts=False)).words
'1.5 m'
>>> read_quantity("3 lb 4 oz", Expected("g", 0, 5000)).words, read_quantity("40 °F", Expected("°C", -40, 55)).words
('1,474.18 g', '4.44444 °C')
>>> read_quantity("1,234", wh)
Traceback (most recent call last):
...
kitchen.domain.typed_quantity.TwoReadings: two_readings
>>> read_quantity("3 kg", Expected("W", 1, 20_000))
Traceback (most recent call last):
...
kitchen.domain.typed_quantity.NotUnderstood: other_kind

Decisions. Of 30 November 2026 unless it says otherwise. A field with a unit takes any unit of its kind, through one door to
pint; pint hears only names that the program wrote, and before the workers fork. What was understood is said after a save
(``kitchen/views/understood.py``). Of "1,500" the site's setting decides; for energy and money it is asked.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain.amounts import GLYPHS, parse_amount
from kitchen.domain.remark import Refused, Remark, remark
from kitchen.domain.systems import OTHER_ELSEWHERE, meant_at
from kitchen.domain.technical_units import Measure, converted, meant_by, measure_of

MOST_CHARACTERS = 60
_SMALLEST, _LARGEST = Fraction(1, 10**18), 10**18
_PLAIN = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)")
_SIGNS = "".join(GLYPHS)
_PIECE = re.compile(
    rf"""
    (?P<figures>
        (?:\d{{1,9}}[ -])?\d{{1,9}}[ ]?[/⁄][ ]?\d{{1,9}}
      | (?:\d{{1,9}}[ ]?)?[{_SIGNS}]
      | [.,]?\d(?:\d|[.,'’](?=\d)|[ ](?=\d{{3}}(?!\d)))*[.,]?(?:[eE][-+]?\d{{1,2}}(?!\w))?
    )
    (?P<word>[^\d{_SIGNS}]*)
    """,
    re.VERBOSE,
)
_EITHER = re.compile(r"(?<![\d.,'’])[1-9]\d{0,2},\d{3}(?![\d.,'’])")
_GROUPED = re.compile(r"\d{1,3}([ ,.'’])\d{3}(?:\1\d{3})*")
_TIMES = re.compile(r"\s*[xX×*·]$")
_RANGE = re.compile(r"(?:[-–—…~]|(?:^|\s)(?:to|or|bis))$")
_AND = re.compile(r"^\s*(?:and\b|[,;+&])?\s*|\s*(?:\band|[,;+&])?\s*$")
_FOLLOWS = {"h": "min", "min": "s", "lb": "oz", "ft": "in"}
_PRODUCTS = {
    frozenset(("voltage", "charge")): ("V", "Ah", "Wh"),
    frozenset(("voltage", "current")): ("V", "A", "W"),
    frozenset(("power", "time")): ("W", "h", "Wh"),
}
_UNSIGNED = frozenset(("charge", "current"))


class NotUnderstood(Refused):
    """What was typed is not the quantity that is needed: what was ``expected``, where that helps to say what to type."""

    def __init__(self, said: Remark, expected: Expected | None = None) -> None:
        super().__init__(said)
        self.expected = expected


class NotANumber(NotUnderstood):
    """There is no number in it."""


class TwoReadings(NotUnderstood):
    """Its comma can part thousands or be the decimal sign, and energy or money depends on which."""


@dataclass(frozen=True)
class Expected:
    """What a field takes: its unit, its ends, the decimals of a bare number (None: any), and whether a comma is asked."""

    unit: str
    low: float
    high: float
    places: int | None = None
    above_low: bool = False
    asked: bool = False

    @property
    def measure(self) -> Measure | None:
        """The unit as it converts; None for a plain number."""
        return measure_of(self.unit)

    @property
    def asks(self) -> bool:
        """Whether a comma before three digits is asked: by itself in every electrical energy and power."""
        return self.asked or self.unit in ("Wh", "kWh", "W")


@dataclass(frozen=True)
class Habits:
    """How numbers and measures are written in this kitchen: whether a comma parts thousands, and whose pints it means."""

    comma_parts: bool = True
    home: str = "written"


@dataclass(frozen=True)
class Understood:
    """A quantity in the field's unit: exactly, as it is kept, and in words where that says more than what was typed."""

    exact: Fraction
    kept: Fraction
    words: str = ""


@dataclass(frozen=True)
class _Piece:
    number: Fraction
    word: str


def read_quantity(text: str, expected: Expected, habits: Callable[[], Habits] = Habits) -> Understood:
    """Return what a person typed into a field.

    Parameters
    ----------
    text : str
        As it was typed, in any length.
    expected : Expected
        What the field takes.
    habits : callable
        How the site writes numbers; it is asked only where the answer depends on it.

    Raises
    ------
    NotUnderstood
        With what is wrong with it.
    """
    typed = text.strip()
    if len(typed) <= MOST_CHARACTERS and _PLAIN.fullmatch(typed):
        exact = Fraction(typed.rstrip("."))
        return Understood(exact, _within(_of_places(exact, expected), expected))
    plain = re.sub(r"[\u00a0\u2009\u202f\t]", " ", typed).replace("−", "-")
    pieces = _pieces(plain, typed, expected, habits)
    exact = _amount(pieces, typed, expected, habits)
    converts = len(pieces) > 1 or (pieces[0].word != "" and meant_by(pieces[0].word, _dimension(expected)) != expected.measure)
    if not (converts or _EITHER.search(plain)):
        return Understood(exact, _within(_of_places(exact, expected), expected))
    kept = _rounded(exact, expected.places) if converts else _of_places(exact, expected)
    words = f"{shown(kept)} {expected.unit}".strip()
    return Understood(exact, _within(kept, expected, typed, words), words)


def shown(number: Fraction | float) -> str:
    """Return a number with its thousands parted and no needless zeros.

    Examples
    --------
    >>> shown(1_000_000.0), shown(Fraction(5, 2)), shown(-430)
    ('1,000,000', '2.5', '-430')
    """
    text = f"{float(number):,.6f}"
    return text.rstrip("0").rstrip(".")


def refuse_two_readings(typed: str) -> None:
    """Ask which is meant where a comma can part thousands or be the decimal sign.

    Raises
    ------
    TwoReadings
        With both ways to type it.
    """
    if _EITHER.search(typed):
        raise two_readings(typed, typed.replace(",", ""), typed.replace(",", "."))


def two_readings(typed: str, joined: str, pointed: str) -> TwoReadings:
    """Return the question which of two ways to type it is meant."""
    return TwoReadings(remark("two_readings", typed=_short(typed), joined=_short(joined), pointed=_short(pointed)))


def _dimension(expected: Expected) -> str:
    return expected.measure.dimension if expected.measure else ""


def _pieces(plain: str, typed: str, expected: Expected, habits: Callable[[], Habits]) -> list[_Piece]:
    """Return the numbers with the words behind them; a minus before the first holds for all of them."""
    sign, unsigned = -1 if plain.startswith("-") else 1, plain[1:].strip() if plain[:1] in ("+", "-") else plain
    found = list(_PIECE.finditer(unsigned)) if len(plain) <= MOST_CHARACTERS else []
    if not found or found[0].start() or "".join(one[0] for one in found) != unsigned:
        raise NotANumber(remark("not_a_number", typed=_short(typed)), expected)
    words = [_AND.sub("", one["word"]) for one in found]
    if any(_RANGE.search(word) for word in words[:-1]):
        raise NotUnderstood(remark("a_range", typed=_short(typed)))
    try:
        numbers = [_number(one["figures"], typed, expected, habits) for one in found]
    except TwoReadings:
        raise
    except ValueError:
        raise NotANumber(remark("not_a_number", typed=_short(typed)), expected) from None
    return [_Piece(sign * number, word) for number, word in zip(numbers, words, strict=True)]


def _number(figures: str, typed: str, expected: Expected, habits: Callable[[], Habits]) -> Fraction:
    if re.search(rf"[/⁄{_SIGNS}]", figures):
        return parse_amount(figures.strip())
    mantissa, _, power = figures.lower().partition("e")
    number = mantissa.strip().rstrip(".,")
    signs = re.findall(r"[.,]", number)
    parts = len(signs) > 1 and len(set(signs)) == 1
    if signs == [","] and _EITHER.fullmatch(number):
        parts = _comma_parts(typed, expected, habits)
    whole, _, rest = number.rpartition(signs[-1]) if signs and not parts else (number, "", "")
    if re.search(r"\D", whole) and not _GROUPED.fullmatch(whole):
        raise ValueError(figures)
    digits = re.sub(r"\D", "", whole) or "0"
    found = Fraction(f"{digits}.{rest or 0}") * Fraction(10) ** int(power or 0)
    if found and not _SMALLEST <= found <= _LARGEST:
        raise ValueError(figures)
    return found


def _comma_parts(typed: str, expected: Expected, habits: Callable[[], Habits]) -> bool:
    if expected.asks:
        refuse_two_readings(typed)
    return habits().comma_parts


def _amount(pieces: Sequence[_Piece], typed: str, expected: Expected, habits: Callable[[], Habits]) -> Fraction:
    """Return the pieces as one amount in the field's unit."""
    own = expected.measure
    if len(pieces) == 1 and not pieces[0].word:
        return pieces[0].number
    bare = [_TIMES.sub("", piece.word) for piece in pieces]
    measures = [_measure(word, typed, expected, habits) if word else None for word in bare]
    told = [measure for measure in measures if measure is not None]
    is_product = len(pieces) == 2 and (bare[0] != pieces[0].word or _is_electrical(told))
    if is_product and own is not None:
        return _product(pieces, measures, typed, expected)
    if own is None or any(measure.dimension != own.dimension for measure in told):
        raise _wrong(typed, told, expected)
    return _sum(pieces, measures, typed, expected)


def _measure(word: str, typed: str, expected: Expected, habits: Callable[[], Habits]) -> Measure:
    measure = meant_by(word, _dimension(expected))
    if measure is None:
        raise NotUnderstood(remark("unknown_unit", typed=_short(typed), word=_short(word)), expected)
    if measure.dimension == "volume" and measure.key in OTHER_ELSEWHERE:
        return Measure("volume", meant_at(habits().home, measure.key))
    return measure


def _is_electrical(measures: Sequence[Measure]) -> bool:
    found = {measure.dimension for measure in measures}
    return len(found) == 2 and "voltage" in found and bool(found & _UNSIGNED)


def _product(pieces: Sequence[_Piece], measures: Sequence[Measure | None], typed: str, expected: Expected) -> Fraction:
    own, told = expected.measure, [measure for measure in measures if measure is not None]
    number = pieces[0].number * abs(pieces[1].number)  # one minus stands before both
    factors = _PRODUCTS.get(frozenset(measure.dimension for measure in told))
    assert own is not None
    if len(told) == 1 and told[0].dimension == own.dimension != "temperature":
        return converted(number, told[0], own)
    made = measure_of(factors[2]) if factors and len(told) == 2 else None
    if made is None or made.dimension != own.dimension:
        raise _wrong(typed, [made] if made else told[:1], expected)
    plain = {measure.dimension: measure for key in (factors or ())[:2] if (measure := measure_of(key))}
    for measure in told:
        number *= converted(Fraction(1), measure, plain[measure.dimension])
    return converted(number, made, own)


def _sum(pieces: Sequence[_Piece], measures: Sequence[Measure | None], typed: str, expected: Expected) -> Fraction:
    """Return "3 lb 4 oz" as one: units that grow smaller, the last of which some units say by themselves."""
    own, total, before = expected.measure, Fraction(0), None
    assert own is not None
    for piece, said in zip(pieces, measures, strict=True):
        measure = said or measure_of(_FOLLOWS.get(before.key, "") if before else "")
        if measure is None or piece.word != _TIMES.sub("", piece.word):
            raise _not_one(typed, expected)
        larger = before is None or converted(Fraction(1), before, own) > converted(Fraction(1), measure, own)
        if not larger or (before is not None and own.dimension == "temperature"):
            raise _not_one(typed, expected)
        total, before = total + converted(piece.number, measure, own), measure
    return total


def _not_one(typed: str, expected: Expected) -> NotUnderstood:
    return NotUnderstood(remark("more_than_one_number", typed=_short(typed)), expected)


def _wrong(typed: str, measures: Sequence[Measure], expected: Expected) -> NotUnderstood:
    own = expected.measure
    other = next((one for one in measures if own is None or one.dimension != own.dimension), None)
    if other is None:
        return _not_one(typed, expected)
    return NotUnderstood(remark("other_kind", typed=_short(typed), dimension=other.dimension), expected)


def _of_places(exact: Fraction, expected: Expected) -> Fraction:
    if expected.places is not None and exact != round(exact, expected.places):
        raise NotUnderstood(remark("too_many_places", places=expected.places) if expected.places else remark("whole_needed"))
    return exact


def _rounded(exact: Fraction, places: int | None) -> Fraction:
    if places is not None:
        return round(exact, places)
    if exact == round(exact, 6):
        return exact
    return round(exact, 5 - math.floor(math.log10(abs(exact))))


def _within(number: Fraction, expected: Expected, typed: str = "", words: str = "") -> Fraction:
    if not expected.low <= number <= expected.high or (expected.above_low and number == expected.low):
        said = remark("means_out_of_range", typed=_short(typed), words=words) if words else remark("out_of_range")
        raise NotUnderstood(said, expected)
    return number


def _short(text: str) -> str:
    return text if len(text) <= 30 else f"{text[:29]}…"
