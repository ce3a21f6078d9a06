"""What stands beside a step of the method."""

from __future__ import annotations

from kitchen.domain.amounts import plain_number
from kitchen.domain.facts import StepFacts
from kitchen.domain.stages import unsaid_temperature
from kitchen.words.remarks import sentence
from kitchen.words.sentences import Language


def temperature_words(step: StepFacts, hottest_c: float | None, language: Language) -> str:
    """Return a step's temperature as it was written, and how hot it gets where the reader cooks, if that is less. [C]"""
    if step.temp_c is None:
        return ""
    written = plain_number(step.temp_c)
    if hottest_c is None or hottest_c >= step.temp_c:
        return unsaid_temperature(step.text, written)
    return sentence(language, "less_hot_here", written=written, here=f"{hottest_c:.0f}")
