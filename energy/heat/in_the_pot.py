"""Which lines of a recipe are in the pot when it comes to the boil, and which are not: what a heat balance may count."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from energy.heat.specific_heat import Composition
from kitchen.domain.facts import LineFacts, StepFacts
from kitchen.domain.foods import is_liquid, line_amount, line_grams, why_not
from kitchen.domain.nouns import singular
from kitchen.domain.remark import Remark, Said, remark
from kitchen.domain.vessel import added_later

BOILING_LIQUID_PCT = 95.0
"""A food with at least this much water is what boils: water, stock, tea. [%]"""

_STAYS = ("fixed", "batch")
"""Rules of lines that more servings in one pot do not change."""

_HOT = re.compile(r"\b(?:hot|boiling|boiled|warm)\b", re.IGNORECASE)
_FROZEN = re.compile(r"\bfrozen\b", re.IGNORECASE)
_DRAINED = re.compile(r"\bdrained\b", re.IGNORECASE)
_SOAKED = re.compile(r"\b(?:pre-?)?soaked\b", re.IGNORECASE)

LEFT_WHEN_DRAINED = 0.6
"""What a tin holds without its liquid, of what its label says: 240 of 400 g of beans, more of maize; common practice."""

TAKEN_UP_PER_G = 1.1
"""Water that dried beans hold once they were soaked: they weigh a little more than twice; common practice. [g/g]"""

DRY_PCT = 20.0
"""A food with less water than this is dry: soaked, it brings water into the pot that no line names. [%]"""

_WATER = Composition(100)
_ALL_AT_ONCE = re.compile(r"\beverything\b|\ball (?:of )?the (?:ingredients|rest)\b", re.IGNORECASE)

# Words that name a form or a size, not the food itself, when a method is searched for it.
_FORMS = frozenset(
    re.findall(r"\w+", "fresh dried ground whole large small medium tinned plain red green white black brown leaf for the")
)


@dataclass(frozen=True)
class CookedLine:
    """A line of the recipe with the title of its part, and what its food is made of where that is known."""

    line: LineFacts
    part: str = ""
    composition: Composition | None = None

    @property
    def name(self) -> str:
        """The food in the cook's words, else the line as typed."""
        return self.line.name or self.line.text

    @property
    def boils(self) -> bool:
        """Whether it is the liquid that boils."""
        return self.composition is not None and self.composition.water >= BOILING_LIQUID_PCT


@dataclass(frozen=True)
class LeftOut:
    """Something that a heat balance does not count, and why. ``unsure``: it may have taken heat, so the heat is "at least"."""

    name: Said
    why: Said
    unsure: bool = False


@dataclass(frozen=True)
class PotFood:
    """A line that takes part, with its mass at the start [g]; ``fixed``: more servings need no more of it."""

    name: str
    mass_g: float
    composition: Composition
    fixed: bool = False


def sort_lines(
    lines: Sequence[CookedLine], steps: Sequence[StepFacts], k: Fraction, *, kettle: bool = False, start_noted: bool = True
) -> tuple[list[PotFood], list[LeftOut]]:
    """Return what is in the pot when it comes to the boil, and what is left out of the count with the reason.

    Parameters
    ----------
    lines : sequence of CookedLine
        The recipe as written.
    steps : sequence of StepFacts
        Its method: a food named only after the steps that come up is probably added later.
    k : Fraction
        Servings cooked over servings written.
    kettle : bool
        A kettle boils water and nothing else (common practice).
    start_noted : bool
        Whether the food's own temperature was noted; if not, nobody knows how hot a "hot stock" went in.

    Examples
    --------
    >>> water = Composition(99.9, ash=0.1)
    >>> lines = [CookedLine(LineFacts("1 L water", Fraction(1), Fraction(1), "kg", "water"), "", water),
    ...          CookedLine(LineFacts("20 g dill", Fraction(20), Fraction(20), "g", "dill"), "To finish", water)]
    >>> taken, left = sort_lines(lines, [], Fraction(3, 2))
    >>> [(food.name, food.mass_g) for food in taken], [(one.name, one.why.code) for one in left]
    ([('water', 1500.0)], [('dill', 'added_at_end')])
    """
    early, late = _halves(steps)
    taken: list[PotFood] = []
    left: list[LeftOut] = []
    for cooked in lines:
        mass_g = line_grams(cooked.line, _multiple(cooked.line, k))
        reason = _aside(cooked, kettle) or _unsure(cooked, mass_g, early, late, start_noted)
        if reason is None and mass_g is not None and cooked.composition is not None:
            in_pot, more = _in_the_pot(cooked, mass_g, cooked.composition)
            taken += in_pot
            left += more
        elif reason is not None:
            left.append(reason)
    return taken, left


def _in_the_pot(cooked: CookedLine, mass_g: float, composition: Composition) -> tuple[list[PotFood], list[LeftOut]]:
    """Return what of a line is in the pot: what a drained tin leaves at least, and water that something dry took up."""
    fixed = cooked.line.rule in _STAYS
    if cooked.line.unit == "can" and _DRAINED.search(cooked.line.text):
        drained = PotFood(cooked.name, mass_g * LEFT_WHEN_DRAINED, composition, fixed)
        return [drained], [LeftOut(cooked.name, remark("drained_in_part", counted_pct=LEFT_WHEN_DRAINED * 100), unsure=True)]
    food = PotFood(cooked.name, mass_g, composition, fixed)
    if composition.water < DRY_PCT and _SOAKED.search(cooked.line.text):
        return [food, PotFood(cooked.name, mass_g * TAKEN_UP_PER_G, _WATER, fixed)], []
    return [food], []


def _multiple(line: LineFacts, k: Fraction) -> Fraction:
    """Return the multiple of a line; what stays the same for a batch does so for the cook too."""
    return Fraction(1) if line.rule in _STAYS else k


def _aside(cooked: CookedLine, kettle: bool) -> LeftOut | None:
    """Return why a line takes no heat by the boil, for sure."""
    if added_later(cooked.line, cooked.part):
        return LeftOut(cooked.name, remark("added_at_end"))
    if kettle and cooked.composition is not None and not cooked.boils:
        return LeftOut(cooked.name, remark("kettle_boils_water"))
    return LeftOut(cooked.name, remark("to_taste")) if cooked.line.to_taste else None


def _unsure(cooked: CookedLine, mass_g: float | None, early: str, late: str, start_noted: bool) -> LeftOut | None:
    """Return why nobody knows what heat a line takes by the boil."""
    line = cooked.line
    why: Remark | None = None
    if line.optional:
        why = remark("optional")
    elif mass_g is None:
        amount = line_amount(line)
        unread = remark("amount_unread" if line.text[:1].isdigit() else "no_amount")
        why = unread if amount is None else why_not(amount, line.unit, line.food)
    elif cooked.composition is None:
        why = remark("food_unknown")
    elif not start_noted and _HOT.search(line.text) and line.food is not None and is_liquid(line.food):
        why = remark("perhaps_hot")
    elif _FROZEN.search(line.text):
        why = remark("goes_in_frozen")
    elif not cooked.boils and _named_late(cooked, early, late):
        why = remark("named_after_boil")
    return LeftOut(cooked.name, why, unsure=True) if why else None


def _halves(steps: Sequence[StepFacts]) -> tuple[str, str]:
    """Return the method up to its last step that comes up, and the rest; without such a step all of it counts as early."""
    last = max((number for number, step in enumerate(steps) if step.stage == "come_up"), default=len(steps) - 1)
    early = " ".join(step.text for step in steps[: last + 1])
    return early, " ".join(step.text for step in steps[last + 1 :])


def _named_late(cooked: CookedLine, early: str, late: str) -> bool:
    """Return whether the method first names a food after the boil; "everything" at the start names them all."""
    food = cooked.line.food.name if cooked.line.food else ""
    names = _words(f"{cooked.name} {food}") - _FORMS
    return not _ALL_AT_ONCE.search(early) and not names & _words(early) and bool(names & _words(late))


def _words(text: str) -> set[str]:
    return {singular(word) for word in re.findall(r"[^\W\d_]{3,}", text.lower())}
