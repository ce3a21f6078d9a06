"""Dealing: what a page's cards say together of its head, its figures, its badge and its stages. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from typing import Any

from kitchen.cards import Badge, Card, CardRequest, Headline, StageMark
from kitchen.domain.amounts import plain_number
from kitchen.domain.facts import RecipeFacts, StepFacts
from kitchen.domain.stages import STAGE_KINDS

Dealt = Sequence[tuple[Card, Any]]
"""The cards of a page, each with what it prepared."""

MOST_HEADLINES = 4
_TIMES = ("min", "h")


def headlines_of(dealt: Dealt, recipe: RecipeFacts, request: CardRequest) -> tuple[Headline, ...]:
    """Return the few large figures of a page; the typed minutes where no card says anything of time."""
    found = [headline for card, prepared in dealt for headline in card.headlines(prepared, request)]
    if not any(headline.unit in _TIMES for headline in found):
        found += [
            Headline("minutes", plain_number(total), "min", "as written", standing="typed", order=30, brief="in all")
            for total in [sum_minutes(recipe.steps)]
            if total
        ]
    return tuple(sorted(found, key=lambda headline: headline.order)[:MOST_HEADLINES])


def figures_of(dealt: Dealt, recipe: RecipeFacts, request: CardRequest) -> tuple[dict[str, Decimal], bool]:
    """Return the cards' numbers, and whether the minutes are among them; else those typed: all, and of cooking stages."""
    said: dict[str, Decimal | None] = {}
    for card, prepared in dealt:
        said |= card.figures(prepared, request)
    found = {name: value for name, value in said.items() if value is not None}
    if "total_min" in said:
        return found, True
    cooking = [step for step in recipe.steps if step.stage in STAGE_KINDS and STAGE_KINDS[step.stage].cooks]
    typed = {"total_min": sum_minutes(recipe.steps), "cooking_min": sum_minutes(cooking)}
    return found | {name: minutes for name, minutes in typed.items() if minutes}, False


def sum_minutes(steps: Iterable[StepFacts]) -> Decimal:
    """Return the minutes that were typed for these steps."""
    return sum((step.minutes for step in steps if step.minutes is not None), Decimal(0))


def badge_of(dealt: Dealt, request: CardRequest) -> Badge:
    """Return the least sure of what the cards say of their figures; costs and typed minutes do not make a recipe measured."""
    found = [badge for card, prepared in dealt if (badge := card.badge(prepared, request)) is not None]
    return min(found, key=lambda badge: badge.standing != "estimated", default=Badge("", ""))


def marks_of(kinds: Sequence[str], dealt: Dealt, request: CardRequest) -> Iterator[StageMark | None]:
    """Return an iterator over the first card's marks, one for each stage kind; empty when no card knows the stages."""
    for card, prepared in dealt:
        marks = card.stage_marks(prepared, request, kinds) if kinds else None
        if marks is not None:
            return iter(marks)
    return iter(())
