"""Reading a pack as its label prints it: "6 x 400 g tins", "5 lb 8 oz", "case of 24", "per kg", "400 g (240 g drained)".

The rule. Amounts, units and containers are those of a recipe's line, read by the same reader. Before that the words that only
labels have go out: the e-mark, "net wt", and the words of some other languages for a piece, a tin or a bunch. A number with a
sign of multiplication, before or behind, counts packs. An outer pack ("case of", "6-pack") with nothing but a number holds so
many pieces. "Per", a slash or a unit alone say that it is sold loose, by that unit. A drained weight stands beside the content.
An amount told twice must say the same; where it does not within 2 %, the metric one counts, since a pint is not the same
everywhere. One comma before three digits is asked, and so is a point before three digits of grams, millilitres or pieces.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from kitchen.domain.amounts import format_amount
from kitchen.domain.line_measures import Measure, read_bare_unit, read_measure
from kitchen.domain.line_units import CONTAINERS
from kitchen.domain.typed_quantity import refuse_two_readings, two_readings
from kitchen.domain.units import UNITS, CannotConvert, convert, find_unit, to_base

MOST_PACKS = 1000
LOOSE = "loose"
_LONGEST = 100
_PIECES = {"", "each", "piece"}
_METRIC = {"g", "kg", "mg", "mL", "cL", "dL", "L"}
_SAME = Fraction(2, 100)
# What labels and shelf tickets of some countries say, in the words of the kitchen's own list.
_LABEL_WORDS: Mapping[str, str] = {
    "stück": "pieces", "stueck": "pieces", "stk": "pieces", "st": "pieces", "ud": "pieces", "uds": "pieces", "pz": "pieces",
    "pièce": "pieces", "pièces": "pieces", "ct": "pieces", "count": "pieces", "bund": "bunch", "botte": "bunch", "dose": "tin",
    "dosen": "tins", "boîte": "tin", "packung": "packet", "flasche": "bottle", "bouteille": "bottle", "sack": "bag",
    "sacks": "bags", "beutel": "bag", "glas": "jar", "litro": "L", "litri": "L", "litros": "L", "kilos": "kg",
    "stuk": "pieces", "stuks": "pieces", "szt": "pieces", "ks": "pieces", "db": "pieces", "kpl": "pieces", "pezzo": "pieces",
    "pezzi": "pieces", "unidad": "pieces", "unidades": "pieces", "netz": "bag", "barquette": "tray", "pot de": "pot",
    "sachet de": "sachet", "boîte de": "tin", "sac de": "bag", "etto": "100 g", "multipack": "",
    "paquet": "packet", "paquete": "packet", "lata": "tin", "latas": "tins", "blik": "tin", "barattolo": "jar", "tarro": "jar",
    "tüte": "bag", "becher": "pot", "kiste": "case", "tetra": "carton", "un": "pieces",
}  # fmt: skip
_LABEL = re.compile(rf"(?<![^\W_])(?:{'|'.join(sorted(_LABEL_WORDS, key=len, reverse=True))})(?![^\W_])\.?", re.IGNORECASE)
_NET = re.compile(
    r"^(?:net(?:t|to)?\.?(?:\s*(?:wt|weight|content)s?)?\.?|contents?|(?:net(?:t|to)\s*)?(?:inhalt|füllmenge|gewicht|inhoud|vikt|vekt|vægt|indhold)"
    r"|poids net|(?:peso|contenido|conteúdo|contenuto|masa|hmotnost) net[t]?o)\s*:?\s*(?=\d)",
    re.IGNORECASE,
)
_E_MARK = re.compile(r"\s*(?:℮|\be\b(?=\s*$))")
_GROUPED = re.compile(r"\b(\d{1,3}(?:,\d{3})+)(?=\.\d)")
_PER = re.compile(r"^(?:per|/|le|al|la|je|pro|the)\s*(?P<unit>\S.*)$", re.IGNORECASE)
_DRAINED = re.compile(
    r"[\s,;/(]*(?:(?:drained|abtropfgewicht|(?:poids\s+net\s+)?égoutté|(?:peso\s+)?(?:sgocciolato|escurrido)|uitlekgewicht)(?:\s+(?:weight|wt\.?|net))?\s*:?\s*"
    r"(?P<after>\d[\d.,]*\s*[a-z]+)|(?<=[\s,;/(])(?P<before>\d[\d.,]*\s*[a-z]+)\s+drained)\s*\)?",
    re.IGNORECASE,
)
_ALL_DRAINED = re.compile(r"\s+drained$", re.IGNORECASE)
_DOZENS = re.compile(r"^(?:(?P<many>\d{1,4}|half(?:\s+a)?|an?|one)\s+)?(?:doz(?:en)?s?|dz)\.?$", re.IGNORECASE)
_OUTER = re.compile(
    r"^(?:pack\s+of\s+(?P<of>\d{1,6})|(?P<many>\d{1,6})(?:(?:er)?[\s-]*(?:pk|pack)s?|er)\b)\s*(?:[x×*,]\s*)?(?P<inside>.*)$",
    re.IGNORECASE,
)
_TIMES = re.compile(r"^(?P<packs>\d{1,6})\s*[x×*]\s*(?P<inside>\S.*)$", re.IGNORECASE)
_TIMES_BEHIND = re.compile(r"^(?P<inside>\S.*?)\s*[x×*]\s*(?P<packs>\d{1,6})$", re.IGNORECASE)
_HELD = re.compile(
    r"^(?:(?P<packs>\d{1,6}|an?|one)\s+)?(?P<held>[a-z]+)(?:\s+of\s+|\s*\(\s*|\s*,\s*|\s+)(?P<inside>\d[^()]*)\)?$", re.IGNORECASE
)
_BONUS = re.compile(r"^(?P<first>\S.*?)\s*\+\s*(?P<more>\d[^+]*?)\s+(?:free|gratis)$", re.IGNORECASE)
_TWICE = re.compile(
    r"^(?P<first>[^(/]*\d[^(/]*[^\W\d_][^(/]*?)\s*(?:\(\s*(?P<bracket>\d[^()]*)\)|/\s*(?P<slash>\d[^/]*))(?P<rest>.*)$"
)
_NOTHING = re.compile(r"0+(?:[.,]0+)?(?![\d.,/])")
_POINT_OR_GROUP = re.compile(r"(?<![\d.,])[1-9]\d{0,2}\.\d{3}(?![\d.,])")
_ONE = {"a", "an", "one"}


@dataclass(frozen=True)
class Pack:
    """``packs`` packs of ``amount`` ``unit`` each; the unit is a key of the unit list, empty for pieces.

    ``container`` is the word for one of them ("can"), ``drained_g`` what of one is left without its liquid. [g]
    ``sold`` is ``loose`` for what is sold by the unit itself, else empty.
    """

    amount: Fraction
    unit: str = ""
    packs: int = 1
    container: str = ""
    drained_g: Fraction | None = None
    sold: str = ""


def parse_pack(text: str) -> Pack:
    """Return the pack that a person typed.

    Raises
    ------
    TwoReadings
        Where a comma or a point can part thousands or be the decimal sign.
    ValueError
        With a sentence that can stand beside the field.

    Examples
    --------
    >>> parse_pack("2 x 500 g")
    Pack(amount=Fraction(500, 1), unit='g', packs=2, container='', drained_g=None, sold='')
    >>> [(str(one.amount), one.unit, one.packs) for one in map(parse_pack, ("a dozen", "5 lb 8 oz", "400 g x 6", "case of 24"))]
    [('12', '', 1), ('11/2', 'lb', 1), ('400', 'g', 6), ('24', '', 1)]
    >>> parse_pack("per kg").sold, parse_pack("400 g tin (240 g drained)").drained_g
    ('loose', Fraction(240, 1))
    >>> parse_pack("1,500 g")
    Traceback (most recent call last):
    ...
    kitchen.domain.typed_quantity.TwoReadings: two_readings
    >>> parse_pack("0 g")
    Traceback (most recent call last):
    ...
    ValueError: A pack must hold more than nothing. Type how much is in it, like “500 g” or “12”.
    """
    typed = " ".join(text.split())
    if len(typed) > _LONGEST:
        raise _no_pack(typed)
    grouped = _GROUPED.sub(lambda found: found[1].replace(",", ""), typed)
    refuse_two_readings(grouped)  # the price of a gram depends on it
    pack = _read(_plain(grouped), typed)
    if _POINT_OR_GROUP.search(grouped) and pack.unit in {"g", "mL", ""}:
        pointed = _POINT_OR_GROUP.sub(lambda found: found[0].replace(".", ""), grouped)
        raise two_readings(typed, pointed, _POINT_OR_GROUP.sub(lambda found: f"{found[0]}0", grouped))
    if pack.packs > MOST_PACKS:
        raise ValueError(f"{pack.packs} packs are more than fit here; at most {MOST_PACKS}.")
    return pack


def pack_words(amount: Fraction, unit: str, packs: int = 1, *, sold: str = "", drained_g: Fraction | None = None) -> str:
    """Return a pack as a person would type it; `parse_pack` reads it back.

    Examples
    --------
    >>> pack_words(Fraction(500), "g", 2), pack_words(Fraction(12), ""), pack_words(Fraction(1), "kg", sold=LOOSE)
    ('2 x 500 g', '12', 'per kg')
    >>> pack_words(Fraction(400), "g", drained_g=Fraction(240))
    '400 g, drained 240 g'
    """
    words = f"{format_amount(amount)} {_unit_label(amount, unit)}".strip()
    if sold == LOOSE:
        return f"per {_unit_label(amount, unit) or 'piece' if amount == 1 else words}"
    words = f"{packs} x {words}" if packs != 1 else words
    return words if drained_g is None else f"{words}, drained {format_amount(drained_g)} g"


def content(pack: Pack) -> tuple[Fraction, str]:
    """Return what one pack holds in its base unit: g, mL, pieces, or the household word itself.

    Examples
    --------
    >>> content(parse_pack("1.5 L")), content(parse_pack("2 bunches"))
    ((Fraction(1500, 1), 'mL'), (Fraction(2, 1), 'bunch'))
    """
    known = UNITS[pack.unit or "each"]
    return (pack.amount, pack.unit) if known.per_base is None else to_base(pack.amount, pack.unit)


def _plain(typed: str) -> str:
    words = re.sub(r"(?<=^\d)['’]s$|(?<=^\d\d)['’]s$", "", _NET.sub("", _E_MARK.sub("", typed)).strip())
    return _LABEL.sub(lambda found: _LABEL_WORDS[found[0].rstrip(".").casefold()], words).strip(" .")


def _read(words: str, typed: str) -> Pack:
    if _NOTHING.match(words):
        raise ValueError("A pack must hold more than nothing. Type how much is in it, like “500 g” or “12”.")
    dozens = _DOZENS.match(words)
    if dozens:
        return Pack(_dozens(dozens["many"]))
    per = _PER.match(words)
    if per or (find_unit(words) and words.lower() not in _ONE):
        return _loose(per["unit"] if per else words, typed)
    drained = _DRAINED.search(words)
    if drained:
        weighed = _amount(drained["after"] or drained["before"], typed)
        rest = f"{words[: drained.start()]} {words[drained.end() :]}".strip(" ,;")
        return replace(_read(rest, typed), drained_g=_in_grams(weighed, typed))
    if _ALL_DRAINED.search(words):
        whole = _read(_ALL_DRAINED.sub("", words), typed)
        return replace(whole, drained_g=_in_grams(whole, typed))
    return _packed(words, typed)


def _packed(words: str, typed: str) -> Pack:
    """Return what stands in some pack: of several, in an outer one, with a bonus, or told twice."""
    outer = _OUTER.match(words)
    if outer:
        count, inside = int(outer["of"] or outer["many"]), outer["inside"].strip()
        packed = _read(inside, typed) if inside else Pack(Fraction(count))
        return replace(packed, packs=packed.packs * count if inside else 1, container="packet")
    twice = _TWICE.match(words)
    if twice and twice["bracket"] and (_TIMES.match(words) or _TIMES.match(twice["bracket"])):
        return _told_twice(twice, typed)
    several = _TIMES.match(words) or _TIMES_BEHIND.match(words)
    if several:
        one = _read(several["inside"].strip(), typed)
        return replace(one, packs=_counted(several["packs"]) * one.packs)
    held = _HELD.match(words)
    unit = find_unit(held["held"]) if held else None
    if held and unit is not None and unit.key in CONTAINERS:
        one = _read(held["inside"].strip(), typed)
        several_inside = one.packs > 1 or one.unit in CONTAINERS
        container = one.container if several_inside else unit.key
        return replace(one, packs=_counted(held["packs"]) * one.packs, container=container)
    bonus = _BONUS.match(words)
    if bonus:
        first, more = _amount(bonus["first"], typed), _amount(bonus["more"], typed)
        return replace(first, amount=first.amount + _into(more, first, typed))
    return _told_twice(twice, typed) if twice else _amount(words, typed)


def _told_twice(found: re.Match[str], typed: str) -> Pack:
    """Return the pack that is told in two ways; "3 x 80 g (240 g)" and the other way round tell several and all of them."""
    inside = found["bracket"] or found["slash"]
    several = next((told for told in (inside, found["first"]) if _TIMES.match(told.strip())), None)
    if several is not None:
        packs, whole = _read(several.strip(), typed), _amount(found["first"] if several is inside else inside, typed)
        if _into(whole, packs, typed) != packs.amount * packs.packs:
            raise _no_pack(typed)
        return packs
    first = _amount(f"{found['first']} {found['rest'].strip()}".strip(), typed)
    other = _amount(inside, typed)
    told = _into(other, first, typed)
    if abs(told - first.amount) <= _SAME * first.amount:
        return first
    if other.unit in _METRIC and first.unit not in _METRIC:
        return replace(other, container=first.container)
    if first.unit in _METRIC and other.unit not in _METRIC:
        return first
    raise _no_pack(typed)


def _amount(words: str, typed: str) -> Pack:
    if words[-1:] in "x×*":
        raise _no_pack(typed)
    measure = read_measure(f"{words} of it") or read_bare_unit(f"{words} of it", 0) if words.lower() not in _ONE else None
    if measure is None or measure.low != measure.high or measure.hedge:
        raise _no_pack(typed)
    rest = words[measure.end :].strip(" .")
    if rest and rest.lower() != "of it":
        raise ValueError(
            f"“{_shortened(rest)}” is not a unit we know. Use g, kg, mL, L, lb, oz, cups, bunch ... or only a number of pieces."
        )
    return _held(measure)


def _held(measure: Measure) -> Pack:
    """Return the pack of a measure; of tins whose size is told, that size."""
    container = measure.unit if measure.unit in CONTAINERS else ""
    if measure.size:
        size = read_measure(f"{measure.size} of it")
        if size is not None and size.unit and measure.low.denominator == 1:
            return Pack(size.low, size.unit, int(measure.low), container)
    return Pack(measure.low, "" if measure.unit in _PIECES else measure.unit, 1, container)


def _loose(unit: str, typed: str) -> Pack:
    one = find_unit(unit)
    if one is None:
        return replace(_amount(unit, typed), sold=LOOSE)
    key = "" if one.key in _PIECES else one.key
    measured = one.dimension in ("mass", "volume")
    return Pack(Fraction(1), key, 1, key if key in CONTAINERS else "", None, LOOSE if measured else "")


def _dozens(many: str | None) -> Fraction:
    word = (many or "one").lower()
    return Fraction(12) * (Fraction(1, 2) if word.startswith("half") else 1 if word in _ONE else int(word))


def _counted(word: str | None) -> int:
    number = (word or "one").lower()
    if number in _ONE:
        return 1
    if int(number) < 1:
        raise ValueError("A pack must hold more than nothing. Type how much is in it, like “500 g” or “12”.")
    return int(number)


def _into(other: Pack, first: Pack, typed: str) -> Fraction:
    try:
        return convert(other.amount, other.unit, first.unit)
    except CannotConvert:
        raise _no_pack(typed) from None


def _in_grams(weighed: Pack, typed: str) -> Fraction:
    return _into(weighed, Pack(Fraction(1), "g"), typed)


def _no_pack(typed: str) -> ValueError:
    return ValueError(f"“{_shortened(typed)}” is not a pack. Type an amount and a unit, like “500 g”, “2 x 400 g” or “12”.")


def _unit_label(amount: Fraction, unit: str) -> str:
    known = UNITS.get(unit)
    if known is None:
        return unit
    return known.label if amount <= 1 else known.plural


def _shortened(text: str) -> str:
    return text if len(text) <= 40 else f"{text[:40]}…"
