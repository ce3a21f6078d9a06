"""Reading figures that a shop printed: "1,299.00", "1.299,00", "1 299,00", "1'299.00", "-,99", "5,–"."""

from __future__ import annotations

import re
from fractions import Fraction

from kitchen.domain.typed_quantity import two_readings

_SPACES = re.compile(r"(?<=\d)[ \u00a0\u202f'’](?=\d{3}(?!\d))")
_PLAIN = re.compile(r"\d{1,15}(?:[.,]\d{1,15})*|[.,]\d{1,15}")
_EITHER = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")
_GROUPS = re.compile(r"\d{1,3}(?:[.,]\d{3})+")
_NO_CENTS = re.compile(r"(?<=\d)[.,][-–—]{1,2}$")
_ONLY_CENTS = re.compile(r"^[-–—](?=[.,]\d)")


def read_figures(text: str, *, comma: bool | None = None) -> Fraction:
    """Return the number that a label or a till prints, exactly.

    Parameters
    ----------
    text : str
        Figures alone.
    comma : bool or None
        Whether the comma is the decimal sign there; None where nobody said, so that what can be read in two ways is asked.

    Raises
    ------
    TwoReadings
        Where one sign before three digits could part thousands as well.
    ValueError
        Where it is no number.

    Examples
    --------
    >>> [float(read_figures(text)) for text in ("1,299.00", "1.299,00", "1 299,00", "2,5", "-,99", "5,–")]
    [1299.0, 1299.0, 1299.0, 2.5, 0.99, 5.0]
    >>> float(read_figures("1.299", comma=True)), float(read_figures("1.299", comma=False))
    (1299.0, 1.299)
    """
    plain = _ONLY_CENTS.sub("0", _NO_CENTS.sub("", _SPACES.sub("", text.strip())))
    if not _PLAIN.fullmatch(plain):
        raise ValueError(text)
    signs = re.findall(r"[.,]", plain)
    if not signs:
        return Fraction(plain)
    last = signs[-1]
    if len(signs) == 1 and _EITHER.fullmatch(plain):
        if comma is None:
            raise two_readings(plain, plain.replace(last, ""), f"{plain.replace(last, '.')}0")
        parts = last == ("." if comma else ",")
    else:
        parts = len(signs) > 1 and len(set(signs)) == 1
    whole, _, rest = (plain, "", "") if parts else plain.rpartition(last)
    if re.search(r"[.,]", whole) and not (_GROUPS.fullmatch(whole) and last not in whole[:-1] * (not parts)):
        raise ValueError(text)
    return Fraction(f"{re.sub(r'[.,]', '', whole) or '0'}.{rest or '0'}")
