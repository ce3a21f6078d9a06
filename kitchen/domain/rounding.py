"""Rounding to marks: to the nearest one, and to finer ones as long as the error would be above what a cook may be off."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from kitchen.domain.systems import SpoonSet

MOST_ERROR = Fraction(5, 100)


def is_near(exact: Fraction, rounded: Fraction, most: Fraction = MOST_ERROR) -> bool:
    """Say whether the rounded amount is within ``most`` of the exact one, as a share of it."""
    return abs(rounded - exact) <= most * exact


def nearest(exact: Fraction, step: Fraction) -> Fraction:
    """Return the nearest multiple of the step, half up, never down to nothing.

    Examples
    --------
    >>> nearest(Fraction(5, 4), Fraction(1, 2)), nearest(Fraction(1, 100), Fraction(1, 8))
    (Fraction(3, 2), Fraction(1, 8))
    """
    return max(step * ((2 * exact + step) // (2 * step)), step)


def within(
    exact: Fraction,
    step: Fraction,
    smallest: Fraction,
    *,
    most: Fraction = MOST_ERROR,
    mark: Callable[[Fraction, Fraction], Fraction] = nearest,
    finer: Callable[[Fraction], Fraction] = lambda step: step / 2,
) -> Fraction:
    """Round to the step, made finer as often as the error asks and the smallest measure allows.

    The marks of a finer step hold those of the coarser one, so that a larger amount never comes out smaller.

    Examples
    --------
    >>> within(Fraction(23, 10), Fraction(1), Fraction(1, 8))
    Fraction(9, 4)
    """
    rounded = mark(exact, step)
    while not is_near(exact, rounded, most) and step > smallest:
        step = max(finer(step), smallest)
        rounded = mark(exact, step)
    return rounded


def cup_mark(teaspoons: Fraction, step: Fraction, spoons: SpoonSet) -> Fraction:
    """Return the nearest mark of a volume that is measured with cups: quarters and thirds of a cup, and steps above a quarter.

    The third of a cup, which is in every set, is a mark of its own from there to eight cups (common practice); the published
    table has quarters only.
    """
    quarter, third = spoons.quarter, spoons.third
    if step > quarter:
        return nearest(teaspoons, step)
    below = teaspoons // quarter * quarter
    most_steps = (quarter - step / 2) // step  # three Australian tablespoons are a quarter cup but for half a teaspoon
    marks = [below + min(nearest(teaspoons - below, step), most_steps * step), below + quarter]
    if below:
        marks.append(below)
    if third <= teaspoons + third / 2 <= 8 * spoons.per_cup:
        marks.append(nearest(teaspoons, third))
    return min(marks, key=lambda rounded: (abs(rounded - teaspoons), -rounded))
