"""The food-energy estimate as it is printed: rounded, with kilojoules beside kilocalories, for the asked size of a serving."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain.facts import NutritionFacts
from kitchen.domain.label_rounding import KJ_PER_KCAL, label_figure
from kitchen.words.remarks import sentence, words_of
from kitchen.words.sentences import Language


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


# The order is that of Regulation (EU) No 1169/2011, annex XV.
_ORDER = ("energy_kcal", "fat_g", "saturated_fat_g", "carbohydrate_g", "sugars_g", "fibre_g", "protein_g", "salt_g")
_PARTS = frozenset({"saturated_fat_g", "sugars_g"})
_IN_LINE = ("protein_g", "fat_g", "carbohydrate_g", "fibre_g", "salt_g")


def nutrition_plate(
    facts: NutritionFacts, language: Language, portion: Fraction = Fraction(1), serving_g: float | None = None
) -> NutritionPlate:
    """Return the estimate ready to print.

    Parameters
    ----------
    facts : NutritionFacts
        Per written serving.
    language : Language
        Of the words.
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
    >>> told = nutrition_plate(NutritionFacts(412.4, 12.34, 7.96, 60.2, 9.96, 0.934, counted=3), "en", Fraction(1), 400)
    >>> [(row.each, row.of_100_g) for row in told.rows][:2]
    [('412 kcal (1725 kJ)', '103 kcal (431 kJ)'), ('8 g', '2 g')]
    >>> told.line
    '412 kcal, protein 12 g, fat 8 g, carbohydrate 60 g and fibre 10 g, salt 0.93 g'
    """
    size = float(portion)
    missing, left_out, remarks = (
        tuple(words_of(one, language) for one in said) for said in (facts.missing, facts.left_out, facts.remarks)
    )
    return NutritionPlate(
        rows=tuple(
            NutritionRow(
                sentence(language, f"row_{name}"),
                _at_least(facts, name, size, language),
                _at_least(facts, name, 100 / serving_g, language) if serving_g else "",
                name in _PARTS,
            )
            for name in _ORDER
            if getattr(facts, name) is not None
        ),
        counted=facts.counted,
        missing=missing,
        left_out=left_out,
        remarks=remarks,
        whole=bool(facts.counted) and not missing,
        line=_line(facts, size, language),
        serving_g=None if serving_g is None else serving_g * size,
    )


def _at_least(facts: NutritionFacts, name: str, size: float, language: Language, *, marked: bool = True) -> str:
    """Return a figure with "at least" in front where something of it is missing; not where the whole line is ``marked`` so."""
    low = bool(facts.missing) or name in facts.at_least
    figure = figure_words(name, getattr(facts, name) * size, language, low=low)
    return sentence(language, "at_least", figure=figure) if low and marked else figure


def _line(facts: NutritionFacts, size: float, language: Language) -> str:
    """Return the estimate in one line; "at least" stands in front where it is meant of every figure."""
    each = {name: _at_least(facts, name, size, language, marked=not facts.missing) for name in _IN_LINE}
    line = sentence(language, "serving_holds", energy_kcal=facts.energy_kcal * size, **each)
    return sentence(language, "at_least", figure=line) if facts.missing else line


def figure_words(name: str, value: float, language: Language, *, low: bool = False) -> str:
    """Return a figure as ``label_figure`` rounds it, with its unit.

    Examples
    --------
    >>> figure_words("energy_kcal", 99.6, "en"), figure_words("fat_g", 12.5, "en"), figure_words("fat_g", 0.4, "en")
    ('100 kcal (417 kJ)', '13 g', 'under 0.5 g')
    """
    if name == "energy_kcal":
        return sentence(language, "kcal_and_kj", kcal=value, kj=value * KJ_PER_KCAL)
    figure = label_figure(name, value, low=low)
    return sentence(language, "under_grams" if figure.under else "grams", grams=figure.value)
