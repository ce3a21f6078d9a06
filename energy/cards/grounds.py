"""What the published figures rest on: the runs that make them, and those that were set aside, in words. Pure."""

from __future__ import annotations

from django.utils import timezone

from energy.estimates.domain.repeats import apart
from energy.facts import EnergyFacts, RunFacts
from energy.words import ENGLISH, sentence, words_of
from energy.words.figures import format_wh
from energy.words.helping import what_would_help
from kitchen.cards import Grounds


def grounds_of(facts: EnergyFacts) -> Grounds:
    """Return the runs behind the energy figures in words, and what would make the figures surer."""
    far = apart_words(facts)
    return Grounds(
        made_of=tuple(_run_words(run) for run in facts.runs if run.counts),
        set_aside=tuple(_run_words(run) for run in facts.runs if not run.counts),
        notes=(*([far] if far else []), *what_would_help(facts, ENGLISH)),
    )


def apart_words(facts: EnergyFacts) -> str:
    """Return which of the counted runs lies too far from the others to be chance; empty where none does."""
    counted = [run for run in facts.runs if run.counts]
    place = apart([run.energy_wh for run in counted])
    if place is None:
        return ""
    far = counted[place]
    return sentence(ENGLISH, "lies_apart", day=timezone.localdate(far.day), energy=format_wh(far.energy_wh, far.uncertainty_wh))


def _run_words(run: RunFacts) -> str:
    energy = format_wh(run.energy_wh, run.uncertainty_wh) if run.method != "none" else sentence(ENGLISH, "not_known")
    why = words_of(run.verdict_reason, ENGLISH) or " ".join(words_of(flag, ENGLISH) for flag in run.flags[:1])
    code = "run_behind_because" if why else "run_behind"
    return sentence(ENGLISH, code, day=timezone.localdate(run.day), energy=energy, servings=run.servings, why=why)
