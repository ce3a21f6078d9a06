"""Published steps for rounding scaled weights and measures, in ounces and teaspoons."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

_F = Fraction
TBSP, CUP, QUART, GALLON = 3, 48, 192, 768  # teaspoons


Table = tuple[tuple[Fraction | None, Fraction], ...]


@dataclass(frozen=True)
class Steps:
    """One style: for totals up to and including a bound, the step to round to.

    ``australian`` is the table of volumes for tablespoons of four teaspoons and cups of fifty.
    """

    key: str
    label: str
    ounces: Table
    teaspoons: Table
    australian: Table

    def ounce_step(self, ounces: Fraction) -> Fraction:
        """Return the step for a weight. [oz]"""
        return _step(self.ounces, ounces)

    def teaspoon_step(self, teaspoons: Fraction, per_tbsp: int = TBSP) -> Fraction:
        """Return the step for a volume in teaspoons, of which so many make a tablespoon. [tsp]"""
        return _step(self.teaspoons if per_tbsp == TBSP else self.australian, teaspoons)


def _step(table: Table, total: Fraction) -> Fraction:
    return next(step for bound, step in table if bound is None or total <= bound)


# "Guide for Rounding Off Weights and Measures" of the US school-meals standardised-recipe material; its row for 3/4 to 2 cups
# from memory. Above 2 gallons the table ends: quarts there are common practice. For Australian measures the same rows hold with
# a cup of 50 teaspoons and a tablespoon of 4 (our own reading, with
# half tablespoons from half a cup on, so that no line needs three measures).
SCHOOL = Steps(
    "school",
    "school-meals rounding",
    ounces=((_F(10), _F(1, 4)), (_F(40), _F(1, 2)), (_F(80), _F(1)), (None, _F(4))),
    teaspoons=(
        (_F(TBSP), _F(1, 8)),
        (_F(3 * TBSP), _F(1, 4)),
        (_F(CUP, 2), _F(1, 2)),
        (_F(3 * CUP, 4), _F(1)),
        (_F(2 * CUP), _F(TBSP)),
        (_F(2 * QUART), _F(CUP, 4)),
        (_F(GALLON), _F(CUP, 2)),
        (_F(2 * GALLON), _F(CUP)),
        (None, _F(QUART)),
    ),
    australian=(
        (_F(4), _F(1, 8)),
        (_F(25, 2), _F(1, 4)),
        (_F(25), _F(1)),
        (_F(75, 2), _F(2)),
        (_F(100), _F(4)),
        (None, _F(25, 2)),
    ),
)
# US armed-forces recipe service, TM 10-412, General Information: quarter ounces at any weight, quarter teaspoons at any volume.
_QUARTERS: Table = ((None, _F(1, 4)),)
FORCES = Steps("forces", "armed-forces rounding", ounces=_QUARTERS, teaspoons=_QUARTERS, australian=_QUARTERS)
# For a large recipe made small: eighths of a teaspoon throughout, as in a USDA-derived conversion sheet.
SMALL = Steps(
    "small",
    "small-batch rounding",
    ounces=SCHOOL.ounces,
    teaspoons=((_F(CUP, 4), _F(1, 8)), *SCHOOL.teaspoons[2:]),
    australian=((_F(25, 2), _F(1, 8)), *SCHOOL.australian[2:]),
)

STYLES: dict[str, Steps] = {steps.key: steps for steps in (SCHOOL, FORCES, SMALL)}
SMALLEST_OUNCES = _F(1, 4)
SMALLEST_TEASPOON = _F(1, 8)


def style_for(rounding: str, k: Fraction) -> str:
    """Return the style for ``k`` times the servings under the rounding that was chosen.

    Below the written servings the school-meals table, which is made for large numbers, gives way to eighths of a teaspoon; the
    armed-forces table takes quarters there too and falls back to an eighth where a quarter would be off by more than 5 %.

    Examples
    --------
    >>> style_for("school", Fraction(1, 2)), style_for("school", Fraction(2)), style_for("forces", Fraction(1, 2))
    ('small', 'school', 'forces')
    """
    return "small" if rounding == "school" and k < 1 else rounding
