"""Published steps for rounding scaled weights and measures, in ounces and teaspoons."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

_F = Fraction
TBSP, CUP, QUART, GALLON = 3, 48, 192, 768  # teaspoons


@dataclass(frozen=True)
class Steps:
    """One style: for totals up to and including a bound, the step to round to; the finest step it may fall back to."""

    key: str
    label: str
    ounces: tuple[tuple[Fraction | None, Fraction], ...]
    teaspoons: tuple[tuple[Fraction | None, Fraction], ...]

    def ounce_step(self, ounces: Fraction) -> Fraction:
        """Return the step for a weight. [oz]"""
        return _step(self.ounces, ounces)

    def teaspoon_step(self, teaspoons: Fraction) -> Fraction:
        """Return the step for a volume. [tsp]"""
        return _step(self.teaspoons, teaspoons)


def _step(table: tuple[tuple[Fraction | None, Fraction], ...], total: Fraction) -> Fraction:
    return next(step for bound, step in table if bound is None or total <= bound)


# "Guide for Rounding Off Weights and Measures" of the US school-meals standardised-recipe material; its row for 3/4 to 2 cups
# from memory. Above 2 gallons the table ends: quarts there are common practice.
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
)
# US armed-forces recipe service, TM 10-412, General Information: quarter ounces at any weight, quarter teaspoons at any volume.
FORCES = Steps("forces", "armed-forces rounding", ounces=((None, _F(1, 4)),), teaspoons=((None, _F(1, 4)),))
# For a large recipe made small: eighths of a teaspoon throughout, as in a USDA-derived conversion sheet.
SMALL = Steps("small", "small-batch rounding", ounces=SCHOOL.ounces, teaspoons=((_F(CUP, 4), _F(1, 8)), *SCHOOL.teaspoons[2:]))

STYLES: dict[str, Steps] = {steps.key: steps for steps in (SCHOOL, FORCES, SMALL)}
SMALLEST_OUNCES = _F(1, 4)
SMALLEST_TEASPOON = _F(1, 8)
