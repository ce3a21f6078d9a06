"""The card of food safety: it shows no plate, only the cautions of the recipe's foods, measured or not."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from functools import cache
from typing import Any

from energy import queries
from energy.cards.cautions import Rule, rules
from energy.domain.food_safety import FoodRule, keys_for
from kitchen.cards import Card, CardRequest, Caution, Facts
from kitchen.models import Revision

SCHEMA = 1


class SafetyCard(Card):
    """The card with the slug ``safety``; its facts name the cautions that the recipe's foods call for."""

    slug = "safety"
    title = "Food safety"
    order = 90

    def collect(self, revision: Revision, *, at: datetime) -> Facts | None:
        """Return the keys of the cautions, or None where no food calls for one. One query."""
        names = [
            f"{line.line.name or line.line.text}, {line.line.food.name if line.line.food else ''}" for line in _lines(revision)
        ]
        keys = keys_for(names, _food_rules())
        return {"schema": SCHEMA, "cautions": list(keys)} if keys else None

    def present(self, facts: Facts, request: CardRequest) -> dict[str, Any] | None:
        """Show no plate."""
        return None

    def cautions(self, facts: Facts, request: CardRequest) -> Sequence[Caution]:
        """Return the sentences of the keys; one that this program does not know any more is left out."""
        known = {rule.key: rule for rule in rules() if rule.foods}
        return [_caution(known[key]) for key in facts["cautions"] if key in known]


def _lines(revision: Revision) -> list[Any]:
    return queries.cooked_lines(revision.pk)


@cache
def _food_rules() -> tuple[FoodRule, ...]:
    return tuple(FoodRule(rule.key, rule.foods, rule.but) for rule in rules() if rule.foods)


def _caution(rule: Rule) -> Caution:
    return Caution(rule.words, rule.source, rule.on_paper)
