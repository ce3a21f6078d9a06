"""How much of a simmering liquid an open pan drives off: a proposal for the cook, from the minutes of the steps.

Whether a liquid simmers in an open pan is the cook's to say: the lines are read before the steps are written, and "simmer" in a
method does not tell whether the lid is on. So no line gets the rule by itself; the proposal is made where a step is a reducing
one, or says that the pan is open.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Protocol

from kitchen.domain.facts import StepFacts

ML_PER_MIN = 25.0
"""An open boil loses about 250 mL in ten minutes; under pressure it is less than a spoon (a kitchen test)."""

_OPEN = re.compile(
    r"\b(?:uncovered|without (?:a|the|its) lid|lid off|take off the lid|take the lid off|remove the lid|open (?:pan|pot)|"
    r"no lid|boil (?:it )?down|reduced? (?:by|until)|reduce the (?:sauce|liquid|stock|wine))\b",
    re.IGNORECASE,
)
_CLOSED = re.compile(r"\b(?:pressure|with (?:a|the|its) lid on|covered|lid on)\b", re.IGNORECASE)


class Timed(Protocol):
    """What of a step the proposal looks at."""

    @property
    def text(self) -> str: ...

    @property
    def stage(self) -> str: ...

    @property
    def minutes(self) -> object: ...


def open_minutes(steps: Sequence[Timed | StepFacts]) -> float:
    """Return for how long the method boils in an open pan. [min]

    Examples
    --------
    >>> from decimal import Decimal
    >>> open_minutes([StepFacts("Simmer uncovered.", "hold", Decimal(12)), StepFacts("Cover and rest.", "rest", Decimal(5))])
    12.0
    """
    return sum(float(str(step.minutes)) for step in steps if step.minutes and _is_open(step))


def _is_open(step: Timed | StepFacts) -> bool:
    if step.stage == "reduce":
        return True
    return step.stage in ("", "hold", "come_up") and bool(_OPEN.search(step.text)) and not _CLOSED.search(step.text)


def proposed_loss_ml(steps: Sequence[Timed | StepFacts]) -> float:
    """Return what an open pan probably drives off in one batch; 0 where no step boils in an open pan. [mL]

    Notes
    -----
    25 mL a minute at a full boil in a pan of usual width, to 10 mL. A gentle simmer loses less and a wide pan more, so it is a
    proposal and no more.

    Examples
    --------
    >>> from decimal import Decimal
    >>> proposed_loss_ml([StepFacts("Reduce by a third.", "reduce", Decimal(10))])
    250.0
    >>> proposed_loss_ml([StepFacts("Simmer, covered.", "hold", Decimal(40))])
    0.0
    """
    return round(open_minutes(steps) * ML_PER_MIN / 10) * 10.0
