"""A volume in spoons and cups that a cook has: which of them, and how many of each."""

from __future__ import annotations

from fractions import Fraction

from kitchen.domain import steps
from kitchen.domain.rounding import MOST_ERROR, cup_mark, nearest, within
from kitchen.domain.steps import Steps
from kitchen.domain.systems import US_SPOONS, SpoonSet
from kitchen.domain.units import convert

Part = tuple[Fraction, str]

# Which measures stand for a volume that a cook wrote in the first of them.
LADDERS: dict[str, tuple[str, ...]] = {
    "tsp": ("tbsp", "tsp"),
    "tbsp": ("tbsp", "tsp"),
    "cup": ("cup", "tbsp", "tsp"),
    "quart": ("quart", "cup", "tbsp", "tsp"),
    "gallon": US_SPOONS.ladder,
}
_WHOLE_LADDER = ("gallon", "quart", "pint", "cup", "tbsp", "tsp")


def spoon_parts(
    teaspoons: Fraction,
    style: Steps,
    spoons: SpoonSet = US_SPOONS,
    ladder: tuple[str, ...] = (),
    most: Fraction = MOST_ERROR,
) -> tuple[Part, ...]:
    """Return a volume in spoons and cups of one set, rounded by a style.

    Parameters
    ----------
    teaspoons : Fraction > 0
        The volume. [teaspoons of the set]
    style : Steps
        Whose table of steps.
    spoons : SpoonSet
        Whose spoons and cups.
    ladder : tuple of str
        The units to use, largest first; by default all of the set.
    most : Fraction
        Greatest error before a finer step is taken. [-]

    Returns
    -------
    tuple of (Fraction, str)
        Numbers with their unit keys, largest first.

    Examples
    --------
    >>> from kitchen.domain.systems import AUSTRALIAN_SPOONS
    >>> [f"{number} {key}" for number, key in spoon_parts(Fraction(64), steps.SCHOOL)]
    ['4/3 cup']
    >>> [f"{number} {key}" for number, key in spoon_parts(Fraction(48), steps.SCHOOL, AUSTRALIAN_SPOONS)]
    ['1 cup_metric']
    """
    ladder = ladder or spoons.ladder
    step = style.teaspoon_step(teaspoons, spoons.per_tbsp)
    if style is steps.FORCES:
        return _whole_parts(within(teaspoons, step, steps.SMALLEST_TEASPOON, most=most), _with_pints(ladder, spoons))
    with_cups = spoons.cup in ladder

    def mark(exact: Fraction, step: Fraction) -> Fraction:
        return cup_mark(exact, step, spoons) if with_cups else nearest(exact, step)

    def finer(step: Fraction) -> Fraction:
        uneven = step == spoons.quarter and spoons.quarter % spoons.per_tbsp
        return Fraction(spoons.per_tbsp) if uneven else step / 2

    return _cup_parts(within(teaspoons, step, steps.SMALLEST_TEASPOON, most=most, mark=mark, finer=finer), ladder, spoons)


def _with_pints(ladder: tuple[str, ...], spoons: SpoonSet) -> tuple[str, ...]:
    return _WHOLE_LADDER[_WHOLE_LADDER.index(ladder[0]) :] if spoons is US_SPOONS else ladder


def _whole_parts(teaspoons: Fraction, ladder: tuple[str, ...]) -> tuple[Part, ...]:
    """Take whole measures from the largest down; the last takes what is left, with its fraction."""
    parts: list[Part] = []
    for key in ladder[:-1]:
        size = convert(Fraction(1), key, ladder[-1])
        number, teaspoons = divmod(teaspoons, size)
        if number:
            parts.append((Fraction(number), key))
    return (*parts, (teaspoons, ladder[-1])) if teaspoons or not parts else tuple(parts)


def _cup_parts(teaspoons: Fraction, ladder: tuple[str, ...], spoons: SpoonSet) -> tuple[Part, ...]:
    """Take gallons and quarts whole, cups in the fractions that are sold, then spoons."""
    above = [key for key in ladder if key in ("gallon", "quart")]
    parts = list(_whole_parts(teaspoons, (*above, spoons.tsp))) if above else [(teaspoons, spoons.tsp)]
    rest = parts.pop()[0] if parts[-1][1] == spoons.tsp else Fraction(0)
    if spoons.cup in ladder and rest >= spoons.quarter:
        step = spoons.third if rest % spoons.third == 0 else spoons.quarter
        cups = rest // step * step
        parts.append((cups / spoons.per_cup, spoons.cup))
        rest -= cups
    return (*parts, *_spoons(rest, spoons)) if rest else tuple(parts)


def _spoons(teaspoons: Fraction, spoons: SpoonSet) -> tuple[Part, ...]:
    if teaspoons < spoons.per_tbsp:
        return ((teaspoons, spoons.tsp),)
    if teaspoons % Fraction(spoons.per_tbsp, 2) == 0:
        return ((teaspoons / spoons.per_tbsp, spoons.tbsp),)
    return _whole_parts(teaspoons, (spoons.tbsp, spoons.tsp))
