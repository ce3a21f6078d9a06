"""What a recorder hands to the operations: the details of a run, its readings and its stage starts.

Moments are seconds from the start of the run.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from energy.models import Appliance, Meter, PowerSource
from kitchen.models import Revision

RESET_NOTE = "the counter was reset here"


@dataclass(frozen=True)
class RunDetails:
    """What was cooked, on what, when, for how many, and how cold and how high it was."""

    revision: Revision
    appliance: Appliance
    source: PowerSource
    meter: Meter
    started_at: datetime
    servings: int
    ambient_c: float | None = None
    food_start_c: float | None = None
    altitude_m: int = 0
    note: str = ""


@dataclass(frozen=True)
class NewReading:
    """What the displays showed ``at_s`` seconds after the start; at least one of the three figures is there."""

    at_s: float
    energy_wh: float | None = None
    power_w: float | None = None
    charge_pct: float | None = None
    note: str = ""
    origin: str = "typed"


@dataclass(frozen=True)
class StageStart:
    """A stage that began ``at_s`` seconds after the start. ``attended`` None means: as cooks usually do in such a stage."""

    at_s: float
    kind: str
    label: str = ""
    attended: bool | None = None
