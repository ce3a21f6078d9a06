"""The record of one run's figures, as it is kept with the run. Schema 2; travels through ``kitchen.domain.record``."""

from __future__ import annotations

from dataclasses import dataclass, field

from energy.heat.need import HeatBalance
from kitchen.domain.remark import Said


@dataclass(frozen=True)
class StageSummary:
    """One stage of one run.

    ``uncertainty_wh`` is expanded (k = 2); ``split_wh`` is the standard uncertainty that comes from cutting between two readings
    at this stage's marks. ``peak_w`` is None where no watts were read in the stage. ``cycling``: the element ticked on and off;
    ``duty`` is the share of the time that it was on, None where the watts do not tell.
    """

    kind: str
    label: str
    start_s: float
    end_s: float
    attended: bool
    energy_wh: float
    mean_w: float
    peak_w: float | None
    uncertainty_wh: float
    split_wh: float = 0.0
    cycling: bool = False
    duty: float | None = None

    @property
    def span_s(self) -> float:
        """How long the stage ran. [s]"""
        return self.end_s - self.start_s


@dataclass(frozen=True)
class Coverage:
    """How well the readings cover the run: how many, which share of the time (0..1), the longest gap and the usual interval."""

    readings: int
    covered: float
    longest_gap_s: float
    interval_s: float


@dataclass(frozen=True)
class CrossCheck:
    """The counter beside the watts integrated over the same time; ``limit_wh`` is what both uncertainties allow between them."""

    counter_wh: float
    integral_wh: float
    limit_wh: float

    @property
    def agrees(self) -> bool:
        """Whether the two differ by no more than both uncertainties together."""
        return abs(self.counter_wh - self.integral_wh) <= self.limit_wh


@dataclass(frozen=True)
class RunSummary:
    """The figures of one run.

    Attributes
    ----------
    method : str
        ``counter``, ``watts``, ``charge``, or ``none`` while too little was read (then ``energy_wh`` says nothing).
    place : str
        The side that ``energy_wh`` was measured on: ``socket`` or ``battery``.
    energy_wh, uncertainty_wh : float
        The whole run and its expanded uncertainty (k = 2). [Wh]
    parts : dict of str to float
        The standard uncertainties it is made of: ``display``, ``accuracy``, ``marks``, ``edges``. [Wh]
    peak_w : float or None
        The highest watts; ``peak_seen`` tells whether a display showed them or they are what the counter proves (then the true
        peak may be higher). [W]
    cooking_s, attended_s, total_s : float
        Stages that cook; stages that somebody stood at; from the first stage to the end of the last, rests included. [s]
    charge_fall_pct : float or None
        By how much the battery's charge fell. [%]
    ladder : tuple of (s, Wh)
        The climb of the watt-hours from the start, at most 200 points.
    flags : tuple of Said
        What keeps the run from counting until somebody accepts it with a reason; sentences in a record of schema 1.
    notes : tuple of Said
        What only tells how the figures were made.
    heat : HeatBalance or None
        The heat that food and pot took beside the energy by then; None while the cook goes on or too little was read.
    """

    method: str
    place: str
    energy_wh: float
    uncertainty_wh: float
    mean_w: float
    peak_w: float | None
    peak_seen: bool
    cooking_s: float
    attended_s: float
    total_s: float
    stages: tuple[StageSummary, ...] = ()
    ladder: tuple[tuple[float, ...], ...] = ()
    parts: dict[str, float] = field(default_factory=dict)
    coverage: Coverage | None = None
    cross_check: CrossCheck | None = None
    charge_fall_pct: float | None = None
    resets: int = 0
    flags: tuple[Said, ...] = ()
    notes: tuple[Said, ...] = ()
    heat: HeatBalance | None = None
    schema: int = 2

    @property
    def known(self) -> bool:
        """Whether enough was read to say how much energy it took."""
        return self.method != "none"
