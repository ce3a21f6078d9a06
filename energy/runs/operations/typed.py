"""What a recorder hands to the operations: the details of a run, and its stage starts and notes.

Moments are seconds from the start of the run.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from energy.models import Appliance, Meter, PowerSource
from energy.runs.domain.rhythm import Came
from energy.runs.domain.samples import Sample
from kitchen.domain.remark import Remark
from kitchen.models import Revision


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
class StageStart:
    """A stage that began ``at_s`` seconds after the start. ``attended`` None means: as cooks usually do in such a stage.

    ``key`` is the number of the run's stage that it was, where it was one.
    """

    at_s: float
    kind: str
    label: str = ""
    attended: bool | None = None
    key: int | None = None


@dataclass(frozen=True)
class NewNote:
    """What somebody wrote in a row without figures, ``at_s`` seconds after the start."""

    at_s: float
    text: str


@dataclass(frozen=True)
class FileFacts:
    """What is kept of a meter's file beside its readings; ``doubts`` ask for somebody's yes."""

    name: str
    digest: str
    shape: dict[str, Any]
    words: tuple[str, ...]
    came: Came = field(default_factory=Came)
    doubts: tuple[Remark, ...] = ()


@dataclass(frozen=True)
class TypedRows:
    """What the rows of a form or a sheet hold; ``file`` where the readings are those of a meter's file."""

    readings: Sequence[Sample] = ()
    stages: Sequence[StageStart] = ()
    notes: Sequence[NewNote] = ()
    file: FileFacts | None = None

    @property
    def last_s(self) -> float:
        """The last moment of all of them, from the start of the run."""
        return max((row.at_s for rows in (self.readings, self.stages, self.notes) for row in rows), default=0.0)
