"""The food-energy estimate as it is printed: rounded, with kilojoules beside kilocalories, for the asked size of a serving."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from kitchen.domain.facts import NutritionFacts

KJ_PER_KCAL = 4.184


@dataclass(frozen=True)
class NutritionRow:
    """One figure of the plate; ``of_100_g`` is empty where the weight of a serving is not known; ``part`` of the one above."""

    label: str
    each: str
    of_100_g: str = ""
    part: bool = False


@dataclass(frozen=True)
class NutritionPlate:
    """The estimate as the page prints it for one serving.

    ``counted`` is how many lines are in it: without any there is no estimate. ``whole`` is true where no line with mass is
    missing. ``line`` is the estimate in one line, for paper; ``serving_g`` the weight of a serving where the cook typed one.
    """

    rows: tuple[NutritionRow, ...]
    counted: int
    missing: tuple[str, ...]
    left_out: tuple[str, ...]
    remarks: tuple[str, ...]
    whole: bool
    line: str
    serving_g: float | None = None


# The order is that of Regulation (EU) No 1169/2011, annex XV. Label, field, whether it is a part of the one above.
_ROWS = (
    ("Energy", "energy_kcal", False),
    ("Fat", "fat_g", False),
    ("of which saturated", "saturated_fat_g", True),
    ("Carbohydrate, without fibre", "carbohydrate_g", False),
    ("of which sugars", "sugars_g", True),
    ("Fibre", "fibre_g", False),
    ("Protein", "protein_g", False),
    ("Salt", "salt_g", False),
)


def plate(facts: NutritionFacts, portion: Fraction = Fraction(1), serving_g: float | None = None) -> NutritionPlate:
    """Return the estimate ready to print.

    Parameters
    ----------
    facts : NutritionFacts
        Per written serving.
    portion : Fraction > 0
        Size of a serving as a multiple of the written one; the number of servings changes nothing. [-]
    serving_g : float > 0, optional
        Weight of a written serving as the cook typed it; it gives the figures for 100 g. [g]

    Returns
    -------
    NutritionPlate
        Figures as text, each with "at least" where something of it is missing.

    Examples
    --------
    >>> told = plate(NutritionFacts(412.4, 12.34, 7.96, 60.2, 9.96, 0.934, counted=3), Fraction(1), 400)
    >>> [(row.each, row.of_100_g) for row in told.rows][:2]
    [('412 kcal (1725 kJ)', '103 kcal (431 kJ)'), ('8 g', '2 g')]
    >>> told.line
    '412 kcal, protein 12 g, fat 8 g, carbohydrate 60 g and fibre 10 g, salt 0.93 g'
    """
    size = float(portion)
    return NutritionPlate(
        rows=tuple(
            NutritionRow(label, _said(facts, name, size), _said(facts, name, 100 / serving_g) if serving_g else "", part)
            for label, name, part in _ROWS
            if getattr(facts, name) is not None
        ),
        counted=facts.counted,
        missing=facts.missing,
        left_out=facts.left_out,
        remarks=facts.remarks,
        whole=bool(facts.counted) and not facts.missing,
        line=_line(facts, size),
        serving_g=None if serving_g is None else serving_g * size,
    )


def _said(facts: NutritionFacts, name: str, size: float) -> str:
    low = bool(facts.missing) or name in facts.at_least
    return f"{'at least ' if low else ''}{shown(name, getattr(facts, name) * size, low=low)}"


def _line(facts: NutritionFacts, size: float) -> str:
    """Return the estimate in one line; "at least" stands in front where it is meant of every figure."""

    def said(name: str) -> str:
        low = name in facts.at_least and not facts.missing
        text = shown(name, getattr(facts, name) * size, low=low or bool(facts.missing))
        return f"{'at least ' if low else ''}{text}"

    figures = [
        f"{facts.energy_kcal * size:.0f} kcal",
        f"protein {said('protein_g')}",
        f"fat {said('fat_g')}",
        f"carbohydrate {said('carbohydrate_g')} and fibre {said('fibre_g')}",
        f"salt {said('salt_g')}",
    ]
    return ("at least " if facts.missing else "") + ", ".join(figures)


# A figure up to the first number is told as "under"; below the second it has one more decimal than from there on.
_STEPS: Mapping[str, tuple[float, float, int]] = {"saturated_fat_g": (0.1, 10, 0), "salt_g": (0.0125, 1, 1)}
_STEP = (0.5, 10, 0)


def shown(name: str, value: float, *, low: bool = False) -> str:
    """Return a figure as it is printed.

    Parameters
    ----------
    name : str
        A field of NutritionFacts.
    value : float >= 0
        [kcal for ``energy_kcal``, else g]
    low : bool
        Whether it is "at least", so that "under" would say nothing.

    References
    ----------
    European Commission, guidance document on tolerances for nutrient values declared on a label (December 2012), rounding
    guidelines (from memory): energy to 1; fat, carbohydrate, sugars, protein and fibre to 1 g from 10 g up, to 0.1 g below,
    "under 0.5 g" from there down; saturates alike, "under 0.1 g"; salt to 0.1 g from 1 g up, to 0.01 g below, "under 0.01 g" from
    0.0125 g down. A kilocalorie is 4.184 kJ.

    Examples
    --------
    >>> shown("energy_kcal", 99.6), shown("fat_g", 12.5), shown("fat_g", 9.97), shown("fat_g", 0.4), shown("fat_g", 0)
    ('100 kcal (417 kJ)', '13 g', '10 g', 'under 0.5 g', '0 g')
    >>> shown("salt_g", 1.26), shown("salt_g", 0.996), shown("salt_g", 0.21), shown("salt_g", 0.012)
    ('1.3 g', '1 g', '0.21 g', 'under 0.01 g')
    """
    if name == "energy_kcal":
        return f"{value:.0f} kcal ({value * KJ_PER_KCAL:.0f} kJ)"
    least, coarse_from, places = _STEPS.get(name, _STEP)
    if 0 < value <= least and not low:
        return f"under {0.01 if name == 'salt_g' else least:g} g"
    fine = _rounded(value, places + 1)
    return f"{_rounded(value, places) if fine >= coarse_from else fine:g} g"


def _rounded(value: float, places: int) -> float:
    return float(Decimal(str(value)).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP))
