"""A stage of a cook in words, as a row of a table: of one run, or of a meal."""

from __future__ import annotations

from dataclasses import dataclass

from energy.facts import StageEnergy
from energy.runs.domain.summary import StageSummary
from energy.words.figures import format_percent, format_watts
from kitchen.domain.stages import STAGE_KINDS


@dataclass(frozen=True)
class StageWords:
    """One stage in words; ``duty`` is the share of the time that its element was on, empty where the watts do not tell."""

    name: str
    minutes: str
    energy: str
    mean: str
    peak: str
    attended: bool
    cycling: bool
    duty: str


def stage_words(stage: StageEnergy | StageSummary, minutes: str, energy: str, duty: float | None = None) -> StageWords:
    """Return a stage in words; ``minutes`` is its span, rounded where it is estimated, ``energy`` a range there."""
    return StageWords(
        name=stage.label or STAGE_KINDS[stage.kind].label,
        minutes=minutes,
        energy=energy,
        mean=format_watts(stage.mean_w),
        peak="" if stage.peak_w is None else format_watts(stage.peak_w),
        attended=stage.attended,
        cycling=stage.cycling,
        duty="" if duty is None else format_percent(duty * 100),
    )
