"""Appetite: how much more a walker eats than somebody who sits, from published energy requirements."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

LEVELS = ("sedentary", "low active", "active", "very active")


@dataclass(frozen=True)
class _Equation:
    """Requirement = start - per_year x age + activity x (per_kg x mass + per_m x height)."""

    start: float
    per_year: float
    per_kg: float
    per_m: float
    activity: tuple[float, float, float, float]


_EQUATIONS = {
    "man": _Equation(662, 9.53, 15.91, 539.6, (1.0, 1.11, 1.25, 1.48)),
    "woman": _Equation(354, 6.91, 9.36, 726, (1.0, 1.12, 1.27, 1.45)),
}
# The published table's own example of an adult.
_AGE, _HEIGHT_M, _MASS_KG = 30, 1.65, 50.4


def energy_need_kcal(who: str, level: str, *, age: float, height_m: float, mass_kg: float) -> float:
    """Return an adult's estimated energy requirement for a day.

    Parameters
    ----------
    who : str
        ``man`` or ``woman``, 19 years and older.
    level : str
        One of ``LEVELS``.
    age : float
        Years.
    height_m : float
        Height. [m]
    mass_kg : float
        Body mass. [kg]

    Returns
    -------
    float
        Energy a day. [kcal]

    Raises
    ------
    KeyError, ValueError
        If the person or the level is not one of those named.

    References
    ----------
    Institute of Medicine, Dietary Reference Intakes for Energy, Carbohydrate, Fiber, Fat, Fatty Acids, Cholesterol, Protein, and
    Amino Acids (2005), chapter 5.

    Examples
    --------
    >>> round(energy_need_kcal("man", "sedentary", age=30, height_m=1.65, mass_kg=50.4))
    2068
    """
    of = _EQUATIONS[who]
    activity = of.activity[LEVELS.index(level)]
    return of.start - of.per_year * age + activity * (of.per_kg * mass_kg + of.per_m * height_m)


def suggested_factor(level: str = "active", against: str = "low active") -> Fraction:
    """Return what somebody at one level of activity eats as a multiple of another level, to a tenth, the mean of man and woman.

    Notes
    -----
    A suggestion only: people differ more than levels do, so the page lets the reader change it.

    Examples
    --------
    >>> suggested_factor(), suggested_factor("very active")
    (Fraction(11, 10), Fraction(13, 10))
    """
    build = {"age": _AGE, "height_m": _HEIGHT_M, "mass_kg": _MASS_KG}
    ratios = [energy_need_kcal(who, level, **build) / energy_need_kcal(who, against, **build) for who in _EQUATIONS]
    return Fraction(round(10 * sum(ratios) / len(ratios)), 10)
