"""Where an estimate comes from, for "how this was worked out". Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from energy.estimates.domain.meal import MealEnergy, circumstances_of
from energy.facts import EnergyFacts
from energy.words import ENGLISH, words_of
from energy.words.figure_words import times_measured
from energy.words.figures import format_wh
from energy.words.working import Working, boiling_words, working
from kitchen.domain.remark import Said


@dataclass(frozen=True)
class Estimated:
    """The account of the three ends, or why there is none; all empty where the figures were measured.

    ``sizes`` are rows of (size, energy, runs) where a line through several measured sizes gives the energy.
    """

    working: Working | None
    boiling: str
    sizes: tuple[tuple[str, str, str], ...]
    why_plain: str


def estimated(meal: MealEnergy, kit: Mapping[str, Any]) -> Estimated:
    """Return where the figures of a meal come from, as far as they were not measured."""
    balance = meal.balance
    return Estimated(
        working=working(balance, ENGLISH) if balance else None,
        boiling=boiling_words(balance, ENGLISH) if balance else "",
        sizes=_size_rows(meal.facts) if meal.estimate.how == "sizes" else (),
        why_plain=_why_plain(meal.estimate.why, kit),
    )


def _size_rows(facts: EnergyFacts) -> tuple[tuple[str, str, str], ...]:
    return tuple(
        (f"for {size.servings}", format_wh(size.energy_wh, size.uncertainty_wh), times_measured(size.runs, ENGLISH))
        for size in facts.sizes
    )


def _why_plain(why: Said, kit: Mapping[str, Any]) -> str:
    """Return why no heat balance stands behind a figure that asks for one; empty where one does, or none is needed."""
    if not why:
        return ""
    if circumstances_of(kit).said:
        return f"What your height and cold change cannot be said. {words_of(why, ENGLISH)}"
    return f"Plain proportion, since no heat balance can be made. {words_of(why, ENGLISH)}"
