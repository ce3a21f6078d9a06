"""Exact amounts in words: read from and written as a cook would put them."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

from kitchen.domain.remark import Refused, remark

GLYPHS = {
    "½": Fraction(1, 2),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "⅕": Fraction(1, 5),
    "⅖": Fraction(2, 5),
    "⅗": Fraction(3, 5),
    "⅘": Fraction(4, 5),
    "⅙": Fraction(1, 6),
    "⅚": Fraction(5, 6),
    "⅐": Fraction(1, 7),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
    "⅑": Fraction(1, 9),
    "⅒": Fraction(1, 10),
}
# A tenth reads better as 0.1 on a scale, so it is read but not written.
_WRITTEN = {value: glyph for glyph, value in GLYPHS.items() if glyph not in "⅐⅑⅒⅕⅖⅗⅘"}
_GLUED = {("1", "2"), ("1", "3"), ("2", "3"), ("1", "4"), ("3", "4"), ("1", "8"), ("3", "8"), ("5", "8"), ("7", "8")}
MOST_DIGITS = 9

NUMBER = re.compile(
    rf"""
    (?P<whole>[1-9]\d{{0,2}}(?:[,'’\u00a0\u2009\u202f]\d{{3}}|\s000)+(?!\d)|\d{{1,{MOST_DIGITS}}})
    (?:
        \s?(?P<glyph>[{"".join(GLYPHS)}])
      | (?:\s{{1,3}}|[-‐‑–]|\s(?:and|&)\s)
        (?P<part_top>\d{{1,{MOST_DIGITS}}})\s?[/⁄]\s?(?P<part_bottom>\d{{1,{MOST_DIGITS}}})(?!\d)
      | \s?[/⁄]\s?(?P<bottom>\d{{1,{MOST_DIGITS}}})(?![\d%])
      | (?P<decimal>[.,·]\d{{1,{MOST_DIGITS}}})
    )?
    (?![\d%]) (?![.,]\d)
  | (?P<only>[{"".join(GLYPHS)}])
  | (?P<bare>\.\d{{1,{MOST_DIGITS}}})(?![\d%])
    """,
    re.VERBOSE,
)


def read_number(text: str, start: int = 0) -> tuple[Fraction, int] | None:
    """Return the number that begins exactly at ``start`` and where it ends, or None.

    Examples
    --------
    >>> read_number("1 1/2 cups"), read_number("11/2 cups"), read_number("1,5 kg")
    ((Fraction(3, 2), 5), (Fraction(3, 2), 4), (Fraction(3, 2), 3))
    >>> read_number("2% milk") is None
    True
    """
    found = NUMBER.match(text, start)
    if found is None:
        return None
    value = _value(found)
    return None if value is None else (value, found.end())


def _value(found: re.Match[str]) -> Fraction | None:
    if found["only"]:
        return GLYPHS[found["only"]]
    if found["bare"]:
        return Fraction(found["bare"])
    whole = re.sub(r"[^\d]", "", found["whole"])
    if found["glyph"]:
        return int(whole) + GLYPHS[found["glyph"]]
    if found["part_bottom"]:
        return _over(int(found["part_top"]), int(found["part_bottom"]), int(whole))
    if found["bottom"]:
        return _fraction(whole, found["bottom"])
    if found["decimal"]:
        return Fraction(f"{whole}.{found['decimal'][1:]}")
    return Fraction(int(whole))


def _over(top: int, bottom: int, whole: int = 0) -> Fraction | None:
    return whole + Fraction(top, bottom) if bottom else None


def _fraction(top: str, bottom: str) -> Fraction | None:
    """Read ``11/2`` as one and a half: a lost space is far more common in recipes than eleven halves."""
    if len(top) > 1 and (top[-1], bottom) in _GLUED:
        return _over(int(top[-1]), int(bottom), int(top[:-1]))
    return _over(int(top), int(bottom))


def parse_amount(text: str) -> Fraction:
    """Return the exact amount that a person typed.

    Parameters
    ----------
    text : str
        A whole number, a decimal with point or comma, a fraction, or a whole number and a fraction.

    Returns
    -------
    Fraction
        The exact value.

    Raises
    ------
    Refused
        For what is no amount.

    Examples
    --------
    >>> [str(parse_amount(typed)) for typed in ("1 1/2", "1½", "11/2", "0,25", "1,000", "7/13")]
    ['3/2', '3/2', '3/2', '1/4', '1000', '7/13']
    >>> parse_amount("some")
    Traceback (most recent call last):
    ...
    kitchen.domain.remark.Refused: not_an_amount
    """
    typed = text.strip()
    found = read_number(typed)
    if found is None or found[1] != len(typed):
        shown = typed if len(typed) <= 40 else typed[:40] + "…"
        raise Refused(remark("not_an_amount", typed=shown))
    return found[0]


def format_amount(amount: Fraction) -> str:
    """Return the shortest exact writing of an amount; ``parse_amount`` reads it back to the same number.

    Kitchen fractions get their own sign, short decimals a point, everything else a written fraction.

    Examples
    --------
    >>> [format_amount(Fraction(a)) for a in ("3/2", "2", "1/8", "0.35", "1.2", "100/7", "7/13")]
    ['1½', '2', '⅛', '0.35', '1.2', '14 2/7', '7/13']
    """
    if amount < 0:
        return f"-{format_amount(-amount)}"
    whole, rest = divmod(amount, 1)
    if not rest:
        return str(whole)
    if rest in _WRITTEN:
        return f"{whole or ''}{_WRITTEN[rest]}"
    if 1000 % rest.denominator == 0:
        return f"{whole}.{rest.numerator * (1000 // rest.denominator):03d}".rstrip("0")
    return f"{whole} {rest}" if whole else str(rest)


def format_range(low: Fraction, high: Fraction) -> str:
    """Return one amount, or two with a dash between them when they differ.

    Examples
    --------
    >>> format_range(Fraction(2), Fraction(3)), format_range(Fraction(1, 2), Fraction(1, 2))
    ('2–3', '½')
    """
    return format_amount(low) if low == high else f"{format_amount(low)}–{format_amount(high)}"


def format_decimal(amount: Fraction, digits: int = 3) -> str:
    """Return a decimal with at most ``digits`` significant digits and no trailing zeros.

    Examples
    --------
    >>> format_decimal(Fraction(435, 100)), format_decimal(Fraction(1, 3)), format_decimal(Fraction(12345))
    ('4.35', '0.333', '12345')
    """
    number = float(amount)
    if abs(number) >= 10 ** (digits - 1):
        return f"{number:.0f}"
    shown = f"{number:.{digits}g}"
    return f"{float(shown):.6f}".rstrip("0").rstrip(".") if "e" in shown else shown


def plain_number(value: Decimal) -> str:
    """Return a decimal without trailing zeros.

    Examples
    --------
    >>> plain_number(Decimal("20.0")), plain_number(Decimal("2.5"))
    ('20', '2.5')
    """
    return f"{value.normalize():f}"
