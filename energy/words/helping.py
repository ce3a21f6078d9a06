"""What would make a recipe's figures surer, for its cook: a field to fill in, and cooking it again."""

from __future__ import annotations

from energy.estimates.domain.circumstances import Circumstances
from energy.estimates.domain.estimating import estimate
from energy.estimates.domain.repeats import half_after
from energy.facts import EnergyFacts
from energy.words.figures import format_percent
from energy.words.remarks import Language, sentence

_TIMES = 2
"""An empty field widens no measured figure, only estimates: that for twice as many is asked, on a day that is known."""


def what_would_help(facts: EnergyFacts, language: Language) -> tuple[str, ...]:
    """Return which field that nobody filled in would narrow an estimate most, and what two more cooks would give."""
    return tuple(words for words in (_field_words(facts, language), _cooks_words(facts, language)) if words)


def _field_words(facts: EnergyFacts, language: Language) -> str:
    servings, model = _TIMES * facts.servings, facts.heat
    if model is None or not model.usable:
        return ""
    other = Circumstances(model.food_start_c, model.ambient_c, model.altitude_m)
    _, balance = estimate(facts, servings, other=other)
    code, narrower_wh = balance.widest if balance is not None else ("", 0.0)
    if not code:
        return ""
    return sentence(language, "field_helps", what=sentence(language, f"range_{code}"), servings=servings, narrower_wh=narrower_wh)


def _cooks_words(facts: EnergyFacts, language: Language) -> str:
    n, mean_wh = facts.counted_runs, facts.energy_wh
    if n < 1 or mean_wh <= 0:
        return ""
    after_wh = half_after(n, facts.uncertainty_wh, facts.next_high_wh - mean_wh)
    if after_wh >= facts.uncertainty_wh:
        return ""
    now, then = (format_percent(100 * half_wh / mean_wh) for half_wh in (facts.uncertainty_wh, after_wh))
    return sentence(language, "two_more_cooks", now=now, then=then)
