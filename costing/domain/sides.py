"""Sides: what a paired recipe adds, taken from its own cost and energy facts."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from costing.domain.facts import CostFacts, SideCost
from costing.domain.sheet import unpriced


def side_cost(slug: str, title: str, *, portions: Decimal, facts: CostFacts, wall_wh: float | None, currency: str) -> SideCost:
    """Return a side as the main dish's facts keep it.

    Parameters
    ----------
    slug, title : str
        The side's address and name.
    portions : Decimal, > 0
        How many of its portions go with one serving of the main dish.
    facts : CostFacts
        The side's own cost facts.
    wall_wh : float or None
        What the side's own servings take from the wall; None where no cook of it was measured. [Wh]
    currency : str
        The main dish's currency; a side in another one cannot be added.
    """
    bare = SideCost(slug, title, portions, facts.servings, cooks=facts.cooks)
    reason = _why_not_added(facts, currency)
    if reason:
        return replace(bare, reason=reason)
    ingredients = sum((line.cost for line in facts.lines if line.cost is not None), Fraction(0))
    return replace(
        bare,
        cost=ingredients * (1 + Fraction(facts.allowance_pct) / 100),
        left_out=tuple(unpriced(facts.lines)),
        wall_wh=wall_wh,
    )


def _why_not_added(facts: CostFacts, currency: str) -> str:
    if facts.currency != currency:
        return f"its prices are in {facts.currency}, which does not add to {currency}"
    if not any(line.kind == "priced" for line in facts.lines):
        return "none of its ingredients has a price yet"
    return ""
