"""Figures of food energy as a label rounds them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from kitchen.domain.money import Bound, round_bound

KJ_PER_KCAL = 4.184
"""The thermochemical calorie."""

# A figure up to the first number is told as "under"; below the second it has one more decimal than from there on.
_STEPS: Mapping[str, tuple[float, float, int]] = {"saturated_fat_g": (0.1, 10, 0), "salt_g": (0.0125, 1, 1)}
_STEP = (0.5, 10, 0)
_LEAST_SALT_G = 0.01


@dataclass(frozen=True)
class LabelFigure:
    """A figure as it is printed, or what it is ``under``."""

    value: float
    under: bool = False


def label_figure(name: str, value: float, *, low: bool = False) -> LabelFigure:
    """Return a figure as it is printed.

    Parameters
    ----------
    name : str
        A field of NutritionFacts that is a mass.
    value : float >= 0
        [g]
    low : bool
        Whether it is "at least": then it is rounded down, and "under" would say nothing.

    References
    ----------
    European Commission, guidance document on tolerances for nutrient values declared on a label (December 2012), rounding
    guidelines (from memory): fat, carbohydrate, sugars, protein and fibre to 1 g from 10 g up, to 0.1 g below,
    "under 0.5 g" from there down; saturates alike, "under 0.1 g"; salt to 0.1 g from 1 g up, to 0.01 g below, "under 0.01 g" from
    0.0125 g down.

    Examples
    --------
    >>> [label_figure("fat_g", grams).value for grams in (12.5, 9.97, 9.94, 0)], label_figure("fat_g", 0.4)
    ([13.0, 10.0, 9.9, 0.0], LabelFigure(value=0.5, under=True))
    >>> [label_figure("salt_g", grams).value for grams in (1.26, 0.996, 0.21)], label_figure("salt_g", 0.012)
    ([1.3, 1.0, 0.21], LabelFigure(value=0.01, under=True))
    """
    least, coarse_from, places = _STEPS.get(name, _STEP)
    if 0 < value <= least and not low:
        return LabelFigure(_LEAST_SALT_G if name == "salt_g" else least, under=True)
    bound: Bound = "least" if low else ""
    fine = _rounded(value, places + 1, bound)
    return LabelFigure(_rounded(value, places, bound) if fine >= coarse_from else fine)


def _rounded(value: float, places: int, bound: Bound) -> float:
    return float(round_bound(Decimal(str(value)), places, bound))
