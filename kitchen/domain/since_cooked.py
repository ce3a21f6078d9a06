"""What changed in a recipe since a revision of it was cooked, as far as its food, its liquid and its stages go."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction

from kitchen.domain.compare import LineRow, line_rows
from kitchen.domain.facts import FoodFacts, LineFacts, RecipeFacts, StepFacts
from kitchen.domain.foods import is_liquid, line_amount, line_grams
from kitchen.domain.remark import Remark, remark
from kitchen.domain.stages import STAGE_KINDS
from kitchen.domain.units import volume_ml

TOLERANCE = 0.02
"""Differences up to 2 % are not worth a word: no kitchen scale and no cook is surer."""

_Change = tuple[Remark, int]

_FAT = re.compile(r"\b(?:oil|ghee|butter)\b", re.IGNORECASE)


@dataclass(frozen=True)
class SinceCooked:
    """What differs, and which way it points: ``more`` and ``less`` tell whether anything asks for more or less heat.

    ``unweighed`` names changed lines whose mass is not known.
    """

    said: tuple[Remark, ...] = ()
    more: bool = False
    less: bool = False
    unweighed: tuple[str, ...] = ()

    @property
    def differs(self) -> bool:
        """Whether anything really differs."""
        return bool(self.said or self.unweighed)

    @property
    def meaning(self) -> Remark:
        """What that means for figures that were measured before.

        Examples
        --------
        >>> SinceCooked((remark("more_food", by_g=150),), more=True).meaning
        Remark(code='figures_low', values={})
        """
        if self.more == self.less or self.unweighed:
            return remark("figures_off")
        return remark("figures_low" if self.more else "figures_high")


def since_cooked(cooked: RecipeFacts, shown: RecipeFacts) -> SinceCooked:
    """Return what differs between the revision that was cooked and the one that is shown.

    Parameters
    ----------
    cooked, shown : RecipeFacts
        The revision on which something was measured, and the one that its figures stand beside.

    Returns
    -------
    SinceCooked
        Masses in grams and volumes in millilitres, for the servings of ``shown``: the cooked revision is brought to them in
        proportion, since measured energies are too.

    Notes
    -----
    Liquids (oil is not one) are compared by volume, the rest by mass; a line whose mass is not known is named only where it
    changed. Stages are compared by kind: minutes together, and the hottest temperature.

    Examples
    --------
    >>> from kitchen.domain.facts import PartFacts
    >>> def pot(grams):
    ...     line = LineFacts(f"{grams} g lentils", Fraction(grams), Fraction(grams), "g", "lentils")
    ...     return RecipeFacts("pot", "Pot", "", 4, 1, parts=(PartFacts("", (line,)),))
    >>> found = since_cooked(pot(300), pot(450))
    >>> found.said, found.meaning.code
    ((Remark(code='more_food', values={'by_g': 150.0}),), 'figures_low')
    >>> since_cooked(pot(300), pot(304)).differs
    False
    """
    weighed = _weigh(line_rows(cooked, shown), Fraction(shown.servings, cooked.servings))
    found = [*_mass_change(weighed), *_liquid_change(weighed), *_stage_changes(cooked.steps, shown.steps)]
    return SinceCooked(
        said=tuple(said for said, _ in found),
        more=any(sign > 0 for _, sign in found),
        less=any(sign < 0 for _, sign in found),
        unweighed=tuple(dict.fromkeys(weighed.unknown)),
    )


@dataclass
class _Weighed:
    """What both revisions hold, the older first; ``unknown`` names what changed and cannot be weighed."""

    mass_g: list[float] = field(default_factory=lambda: [0.0, 0.0])
    liquid_ml: list[float] = field(default_factory=lambda: [0.0, 0.0])
    unknown: list[str] = field(default_factory=list)


def _weigh(rows: Sequence[LineRow], k: Fraction) -> _Weighed:
    """Add up the lines of both sides; a line that one side cannot tell counts on neither."""
    held = _Weighed()
    for row in rows:
        before, after = _side(row.before, k), _side(row.after, Fraction(1))
        line = row.after or row.before
        if line is None or before is None or after is None:
            if line is not None and _changed(row) and not _slight(line):
                held.unknown.append(line.name or line.text)
            continue
        totals = held.liquid_ml if _is_cooking_liquid(line) else held.mass_g
        totals[0] += before
        totals[1] += after
    return held


def _side(line: LineFacts | None, k: Fraction) -> float | None:
    """Return what a line weighs or, for a liquid, how much it is: nothing where it is not there, None where nobody knows."""
    if line is None:
        return 0.0
    multiple = Fraction(1) if line.rule in ("fixed", "batch") else k  # what is for one batch is so for the servings too
    return liquid_ml(line, multiple) if _is_cooking_liquid(line) else line_grams(line, multiple)


def _changed(row: LineRow) -> bool:
    if row.before is None or row.after is None:
        return True
    return _measure(row.before) != _measure(row.after)


def _measure(line: LineFacts) -> tuple[Fraction | None, str, str]:
    return line_amount(line), line.unit, line.size


def _slight(line: LineFacts) -> bool:
    """Whether a line is too little to matter, or may be left out."""
    return line.to_taste or line.optional or line.rule == "seasoning"


def _is_cooking_liquid(line: LineFacts) -> bool:
    food = line.food or FoodFacts(line.name)
    return is_liquid(food) and not _FAT.search(food.name) and not _FAT.search(line.name)


def liquid_ml(line: LineFacts, k: Fraction) -> float | None:
    """Return the volume of a liquid line: as poured, else from its mass and its density, or None. [mL]

    Examples
    --------
    >>> liquid_ml(LineFacts("1 L stock", Fraction(1), Fraction(1), "L", "stock"), Fraction(2))
    2000.0
    """
    middle = line_amount(line)
    measured = None if middle is None else volume_ml(middle * k, line.unit)
    if measured is not None:
        return float(measured)
    mass_g = line_grams(line, k)
    per_ml = line.food.g_per_ml if line.food else None
    return mass_g / per_ml if mass_g is not None and per_ml else None


def _mass_change(held: _Weighed) -> list[_Change]:
    before, after = held.mass_g
    if not _differ(before, after):
        return []
    code, sign = ("more_food", 1) if after > before else ("less_food", -1)
    return [(remark(code, by_g=_round(abs(after - before))), sign)]


def _liquid_change(held: _Weighed) -> list[_Change]:
    before, after = held.liquid_ml
    if not _differ(before, after):
        return []
    return [(remark("liquid", before_ml=_round(before), after_ml=_round(after)), 1 if after > before else -1)]


def _differ(before: float, after: float) -> bool:
    return abs(after - before) > TOLERANCE * max(before, after)


def _round(value: float) -> int:
    """Return a mass or a volume as a cook would say it: to 5 from 100 on, to 1 below."""
    step = 5 if value >= 100 else 1
    return round(value / step) * step


def _stage_changes(cooked: tuple[StepFacts, ...], shown: tuple[StepFacts, ...]) -> list[_Change]:
    before, after = Counter(_kinds(cooked)), Counter(_kinds(shown))
    found: list[_Change] = []
    for kind in dict.fromkeys([*_kinds(shown), *_kinds(cooked)]):
        label, weight = STAGE_KINDS[kind].label, _takes_energy(kind)
        if not before[kind]:
            found.append((remark("stage_added", stage=label), weight))
        elif not after[kind]:
            found.append((remark("stage_left_out", stage=label), -weight))
        else:
            found += _span_change(kind, cooked, shown, weight) + _heat_change(kind, cooked, shown)
    return found


def _takes_energy(kind: str) -> int:
    """Return 1 where more minutes of a stage take more energy: also keeping warm does, resting does not."""
    return int(STAGE_KINDS[kind].cooks or kind == "keep_warm")


def _kinds(steps: tuple[StepFacts, ...]) -> list[str]:
    return [step.stage for step in steps if step.stage in STAGE_KINDS]


def _span_change(kind: str, cooked: tuple[StepFacts, ...], shown: tuple[StepFacts, ...], weight: int) -> list[_Change]:
    before, after = (_minutes(kind, steps) for steps in (cooked, shown))
    if before is None or after is None or not _differ(float(before), float(after)):
        return []
    said = remark("stage_minutes", stage=STAGE_KINDS[kind].label, before=float(before), after=float(after))
    return [(said, weight if after > before else -weight)]


def _minutes(kind: str, steps: tuple[StepFacts, ...]) -> Decimal | None:
    spans = [step.minutes for step in steps if step.stage == kind]
    known = [span for span in spans if span is not None]
    return sum(known, Decimal(0)) if known else None


def _heat_change(kind: str, cooked: tuple[StepFacts, ...], shown: tuple[StepFacts, ...]) -> list[_Change]:
    before, after = (
        max((step.temp_c for step in steps if step.stage == kind and step.temp_c is not None), default=None)
        for steps in (cooked, shown)
    )
    if before is None or after is None or not _differ(float(before), float(after)):
        return []
    said = remark("stage_temp", stage=STAGE_KINDS[kind].label, before=float(before), after=float(after))
    return [(said, 1 if after > before else -1)]
