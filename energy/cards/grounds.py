"""What the cook should know of the runs behind the published figures, in words. Pure."""

from __future__ import annotations

from django.utils import timezone

from energy.estimates.domain.repeats import apart
from energy.facts import EnergyFacts
from energy.words import ENGLISH, sentence
from energy.words.figures import format_wh
from energy.words.helping import what_would_help
from kitchen.cards import Grounds


def grounds_of(facts: EnergyFacts) -> Grounds:
    """Return which run lies far from the others, and what would make the figures surer."""
    far = apart_words(facts)
    return Grounds(notes=(*([far] if far else []), *what_would_help(facts, ENGLISH)))


def apart_words(facts: EnergyFacts) -> str:
    """Return which of the counted runs lies too far from the others to be chance; empty where none does."""
    counted = [run for run in facts.runs if run.counts]
    place = apart([run.energy_wh for run in counted])
    if place is None:
        return ""
    far = counted[place]
    return sentence(ENGLISH, "lies_apart", day=timezone.localdate(far.day), energy=format_wh(far.energy_wh, far.uncertainty_wh))
