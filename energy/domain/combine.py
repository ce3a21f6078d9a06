"""From measured runs to the energy card's facts: which runs count together, and their averages."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from energy.domain.facts import ApplianceFacts, MeterFacts, SourceFacts
from energy.domain.summary import RunSummary


@dataclass(frozen=True)
class MeasuredRun:
    """One run with everything that tells what it was measured on; ``counts`` is the owner's verdict."""

    summary: RunSummary
    day: datetime
    servings: int
    counts: bool
    appliance: ApplianceFacts
    source: SourceFacts
    meter: MeterFacts
    verdict_reason: str = ""
    revision: int = 0
