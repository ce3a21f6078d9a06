"""Sides: what a paired recipe adds, taken from its own cost and energy facts."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from costing.domain.electricity import Electricity
from costing.domain.facts import CostFacts, SideCost
from costing.domain.priced import priced_line, sharing
from costing.domain.sheet import unpriced
from kitchen.domain.remark import Said, remark


def side_cost(slug: str, title: str, *, portions: Decimal, facts: CostFacts, electricity: Electricity, currency: str) -> SideCost:
    """Return a side as the main dish's facts keep it.

    Parameters
    ----------
    slug, title : str
        The side's address and name.
    portions : Decimal, > 0
        How many of its portions go with one serving of the main dish.
    facts : CostFacts
        The side's own cost facts.
    electricity : Electricity
        What the side's own servings take from the wall; its price is not asked for.
    currency : str
        The main dish's currency; a side in another one cannot be added.
    """
    bare = SideCost(slug, title, portions, facts.servings, cooks=facts.cooks)
    reason = _why_not_added(facts, currency)
    if reason:
        return replace(bare, reason=reason)
    counted = tuple(line for line in facts.lines if line.counted)
    made = [(line.made, Fraction(1)) for line in counted if line.made is not None]
    electricity = electricity.with_made(made)
    ingredients = sum((priced.cost for priced in sharing([priced_line(line, Fraction(1)) for line in counted])), Fraction(0))
    return replace(
        bare,
        cost=ingredients * (1 + Fraction(facts.allowance_pct) / 100),
        left_out=tuple(unpriced(facts.lines)),
        wall_wh=electricity.wall_wh,
        wall_at_least=electricity.at_least,
        wall_off_wh=electricity.off_wh,
        bought_lines=counted,
    )


def _why_not_added(facts: CostFacts, currency: str) -> Said:
    if facts.currency != currency:
        return remark("side_in_currency", own=facts.currency, currency=currency)
    if not any(line.counted for line in facts.lines):
        return remark("side_unpriced")
    return ""
