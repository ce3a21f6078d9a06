"""What a cook hands to the arithmetic: readings, stage spans and the meter that showed them.

Every moment is a number of seconds from one zero that the caller chooses (usually the start of the first stage).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from uuid import UUID

from energy.heat.need import HeatNeed

RESET_NOTE = "the counter was reset here"

FIGURE_UNITS = {"energy_wh": "Wh", "power_w": "W", "charge_pct": "%"}
"""What a display can show, in the order of a reading's figures."""

FIGURES = tuple(FIGURE_UNITS)

Figures = tuple[float | None, float | None, float | None]
"""Counter, watts and charge, None where nothing was read. [Wh, W, %]"""


@dataclass(frozen=True, slots=True)
class Sample:
    """One reading: what the displays showed at one moment; None where nothing was read.

    ``energy_wh`` is the meter's counter as displayed (never a step), ``power_w`` the watts, ``charge_pct`` the battery's charge.
    ``note`` is what the cook wrote beside it, ``origin`` how it came (``typed``, ``desk``, ``file`` or ``device``), ``id`` the
    name under which it is kept, None where it has none yet.
    """

    at_s: float
    energy_wh: float | None = None
    power_w: float | None = None
    charge_pct: float | None = None
    note: str = ""
    origin: str = "typed"
    id: UUID | None = None

    def __post_init__(self) -> None:
        """Refuse numbers that no display can show, with a sentence."""
        for name, value in (("the time", self.at_s), ("the counter", self.energy_wh), ("the watts", self.power_w)):
            if value is not None and not math.isfinite(value):
                raise ValueError(f"{name} of a reading should be a plain number, not {value}")
        if self.energy_wh is not None and self.energy_wh < 0:
            raise ValueError(f"a counter cannot show {self.energy_wh:g} Wh: it starts at zero")
        if self.power_w is not None and self.power_w < 0:
            raise ValueError(f"a cooker cannot draw {self.power_w:g} W: leave the minus out, or the reading")
        if self.charge_pct is not None and not 0 <= self.charge_pct <= 100:
            raise ValueError(f"a charge lies between 0 and 100 %, not at {self.charge_pct:g} %")

    @property
    def figures(self) -> Figures:
        """Its three figures."""
        return self.energy_wh, self.power_w, self.charge_pct

    @property
    def words(self) -> str:
        """What the displays showed and what was noted, in words."""
        shown = zip(self.figures, FIGURE_UNITS.values(), strict=True)
        return ", ".join([*(figure_words(value, unit) for value, unit in shown if value is not None), *filter(None, [self.note])])


def figure_words(value: float, unit: str) -> str:
    """Return a figure as a display shows it.

    Examples
    --------
    >>> figure_words(1250.5, "Wh").replace(chr(160), " "), Sample(0, 54, note="lid off").words.replace(chr(160), " ")
    ('1,250.5 Wh', '54 Wh, lid off')
    """
    return f"{value:,.10g}\u00a0{unit}"


@dataclass(frozen=True)
class StageSpan:
    """One stage of a run: its kind (a key of ``STAGE_KINDS``), its own label or an empty one, and when it ran."""

    kind: str
    label: str
    start_s: float
    end_s: float
    attended: bool = False

    @property
    def span_s(self) -> float:
        """How long the stage ran. [s]"""
        return self.end_s - self.start_s


@dataclass(frozen=True)
class MeterSpec:
    """How well the meter shows: the smallest step of its counter, its accuracy class, and the side it sits on.

    ``place`` is ``socket`` (between source and cooker) or ``battery`` (before the inverter, on the battery's own display).
    """

    resolution_wh: float = 1.0
    accuracy_pct: float = 2.0
    place: str = "socket"


@dataclass(frozen=True)
class Limits:
    """What a run is held against; None where it is not known.

    ``source_w`` is what the source gives continuously, ``source_surge_w`` for seconds; ``heat`` what food and pot must have taken
    by the time they boiled; ``method_s`` the minutes that the method gives its cooking steps.
    """

    rated_w: float | None = None
    source_name: str = "the source"
    source_w: float | None = None
    source_surge_w: float | None = None
    heat: HeatNeed | None = None
    method_s: float | None = None
