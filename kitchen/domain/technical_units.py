"""Units of what is measured with an instrument: power, energy, temperature and their like, each with the words people type.

The sizes are pint's, through the one door in ``units.py``; weights and volumes are the kitchen's own. A word with a capital that
matters (mW and MW) is known only as it stands there.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from kitchen.domain.units import UNITS, by_pint, find_unit


@dataclass(frozen=True)
class Measure:
    """One unit: what it measures, its key, and its name in pint; weights and volumes carry the kitchen's key and no such name."""

    dimension: str
    key: str
    pint: str = ""


_TABLE = {
    "energy": (
        ("Wh", "watt_hour", "wh, watt hour, watt hours, watthours, watt-hour, watt-hours"),
        ("kWh", "kilowatt_hour", "kwh, kw h, kilowatt hour, kilowatt hours, kilowatt-hour, kilowatt-hours"),
        ("MWh", "megawatt_hour", "megawatt hours, megawatt-hours"),
        ("mWh", "milliwatt_hour", "milliwatt hours, milliwatt-hours"),
        ("GWh", "gigawatt_hour", "gwh"),
        ("W min", "watt * minute", "w min, wmin, watt minutes"),
        ("mW min", "milliwatt * minute", ""),
        ("J", "joule", "j, joule, joules"),
        ("kJ", "kilojoule", "kj, kilojoule, kilojoules"),
        ("MJ", "megajoule", "megajoule, megajoules"),
        ("kcal", "kilocalorie", "kcal, kilocalorie, kilocalories"),
    ),
    "power": (
        ("W", "watt", "w, watt, watts"),
        ("kW", "kilowatt", "kw, kilowatt, kilowatts"),
        ("MW", "megawatt", "megawatt, megawatts"),
        ("mW", "milliwatt", "milliwatt, milliwatts"),
    ),
    "charge": (("Ah", "ampere_hour", "ah, amp hour, amp hours, amp-hours"), ("mAh", "milliampere_hour", "mah")),
    "current": (("A", "ampere", "a, amp, amps, ampere, amperes"), ("mA", "milliampere", "milliamps")),
    "voltage": (("V", "volt", "v, volt, volts"), ("kV", "kilovolt", "kv"), ("mV", "millivolt", "millivolts")),
    "time": (
        ("ms", "millisecond", "ms, milliseconds"),
        ("s", "second", 's, sec, secs, second, seconds, ″, "'),
        ("min", "minute", "min, mins, minute, minutes, m, ′, '"),
        ("h", "hour", "h, hr, hrs, hour, hours, std"),
        ("days", "day", "d, day, days"),
        ("weeks", "week", "week, weeks"),
    ),
    "months": (("months", "month", "month, months"), ("years", "year", "year, years")),
    "length": (
        ("mm", "millimeter", "mm"),
        ("cm", "centimeter", "cm"),
        ("m", "meter", "m, metre, metres, meter, meters"),
        ("km", "kilometer", "km, kilometres, kilometers"),
        ("in", "inch", 'in, inch, inches, ″, "'),
        ("ft", "foot", "ft, foot, feet, ′, '"),
        ("yd", "yard", "yd, yard, yards"),
        ("mi", "mile", "mi, mile, miles"),
    ),
    "pressure": (
        ("Pa", "pascal", "pa"),
        ("hPa", "hectopascal", "hpa"),
        ("kPa", "kilopascal", "kpa"),
        ("mbar", "millibar", "mbar"),
        ("bar", "bar", "bar, bars"),
        ("psi", "psi", "psi, lb/in²"),
        ("atm", "atmosphere", "atm"),
        ("mmHg", "millimeter_Hg", "mmhg"),
        ("inHg", "inch_Hg", "inhg"),
    ),
    "temperature": (
        ("°C", "degC", "°c, c, deg c, degc, celsius, degrees c, degrees celsius, degree celsius, °, degrees"),
        ("°F", "degF", "°f, f, deg f, degf, fahrenheit, degrees f, degrees fahrenheit, degree fahrenheit"),
        ("K", "kelvin", "kelvin"),
    ),
    "share": (("%", "percent", "%, percent, per cent, pct"),),
    "density": (
        ("g/mL", "gram / milliliter", "g/ml, g/cm³, g/cc, kg/l"),
        ("g/L", "gram / liter", "g/l, kg/m³"),
    ),
    "emission": (
        ("g/kWh", "gram / kilowatt_hour", "g/kwh, kg/mwh"),
        ("kg/kWh", "kilogram / kilowatt_hour", "kg/kwh"),
        ("lb/MWh", "pound / megawatt_hour", "lb/mwh"),
    ),
}

_ALL = {key: Measure(dimension, key, name) for dimension, rows in _TABLE.items() for key, name, _ in rows}


def _by_word() -> dict[str, list[Measure]]:
    found: dict[str, list[Measure]] = {}
    for rows in _TABLE.values():
        for key, _, words in rows:
            for word in dict.fromkeys((key, *(word.strip() for word in words.split(",")))):
                found.setdefault(word, []).append(_ALL[key])
    return found


_BY_WORD = _by_word()


def measure_of(key: str) -> Measure | None:
    """Return the unit of a field by its key; None for a plain number.

    Examples
    --------
    >>> measure_of("Wh").dimension, measure_of("L").dimension, measure_of("")
    ('energy', 'volume', None)
    """
    return _ALL.get(key) or (Measure(UNITS[key].dimension, key) if key in UNITS else None)


def meant_by(word: str, dimension: str = "") -> Measure | None:
    """Return the unit that a typed word means, of the dimension that is wanted where it has several; None where it is none.

    Examples
    --------
    >>> meant_by("m", "length").key, meant_by("m", "time").key, meant_by("C", "volume").key, meant_by("C", "temperature").key
    ('m', 'min', 'cup', '°C')
    >>> meant_by("KWH").key, meant_by("mW").key, meant_by("MW").key, meant_by("mwh"), meant_by("pico")
    ('kWh', 'mW', 'MW', None, None)
    """
    written = " ".join(word.replace("º", "°").replace("° ", "°").rstrip(".").split())
    found = [*(_BY_WORD.get(written) or _BY_WORD.get(written.lower()) or ())]
    kitchen = find_unit(written) if written else None
    if kitchen is not None and kitchen.dimension in ("mass", "volume"):
        found.append(Measure(kitchen.dimension, kitchen.key))
    return next((one for one in found if one.dimension == dimension), found[0] if found else None)


def converted(amount: Fraction, measure: Measure, into: Measure) -> Fraction:
    """Return an amount in another unit of the same dimension, exactly; a temperature's zero is counted.

    Examples
    --------
    >>> converted(Fraction(40), measure_of("°F"), measure_of("°C")), converted(Fraction(6), measure_of("quart"), measure_of("L"))
    (Fraction(40, 9), Fraction(1419529419, 250000000))
    """
    if measure == into:
        return amount
    times, more = _line(measure, into)
    return amount * times + more


@cache
def _line(measure: Measure, into: Measure) -> tuple[Fraction, Fraction]:
    if measure.pint:
        return by_pint(measure.pint, into.pint)
    return Fraction(UNITS[measure.key].per_base or 1) / Fraction(UNITS[into.key].per_base or 1), Fraction(0)


@cache
def factor(unit: str, into: str) -> float:
    """Return what values in one unit are multiplied by to stand in another, both by their keys.

    Examples
    --------
    >>> factor("kWh", "Wh"), factor("MJ", "Wh") == 1000 / 3.6, factor("W min", "Wh") == 1 / 60
    (1000.0, True, True)
    """
    return float(_line(_ALL[unit], _ALL[into])[0])


def ask_pint_now() -> None:
    """Ask pint for every pair of units, so that workers that are forked afterwards never load it."""
    for measure in _ALL.values():
        for into in _ALL.values():
            if measure.dimension == into.dimension:
                _line(measure, into)
