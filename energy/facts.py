"""What an edition knows about a recipe's energy.

Schema 3: a heat balance with what was assumed, without a number that calibrates; schema 2: remarks instead of sentences. Decimals
travel as strings, physics as floats with their unit in the name.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from fractions import Fraction

from energy.heat.balance_facts import HeatModel
from kitchen.domain.remark import Said


@dataclass(frozen=True)
class StageEnergy:
    """One stage, averaged over the runs that count. ``uncertainty_wh`` is expanded (k = 2) or half of a 95 % interval."""

    kind: str
    label: str
    energy_wh: float
    span_s: float
    mean_w: float
    peak_w: float | None
    uncertainty_wh: float
    attended: bool
    cycling: bool = False


@dataclass(frozen=True)
class RunFacts:
    """One run, as "how this was measured" tells it.

    ``verdict_reason`` is the cook's own, or a remark why the run does not go into the figures; ``flags`` and ``notes`` are
    remarks. All of them are sentences in facts of schema 1.
    """

    day: datetime
    energy_wh: float
    uncertainty_wh: float
    peak_w: float | None
    total_s: float
    counts: bool
    method: str  # "counter", "watts" or "charge"
    appliance: str
    source: str
    meter: str
    flags: tuple[Said, ...] = ()
    verdict_reason: Said = ""
    ladder: tuple[tuple[float, ...], ...] = ()  # (seconds from the start, watt-hours so far)
    revision: int = 0
    servings: int = 0
    peak_seen: bool = True
    notes: tuple[Said, ...] = ()
    verdict_at: datetime | None = None


@dataclass(frozen=True)
class SizeFacts:
    """What cooks of one size took on the same appliance: how many servings, the mean of n runs and its uncertainty (k = 2)."""

    servings: int
    energy_wh: float
    uncertainty_wh: float
    runs: int
    total_s: float = 0.0


@dataclass(frozen=True)
class ElsewhereFacts:
    """What the same recipe took on another cooker: the mean of n runs for so many servings, and its uncertainty (k = 2). [Wh]"""

    appliance: str
    kind: str
    servings: int
    energy_wh: float
    uncertainty_wh: float
    runs: int
    total_s: float = 0.0


@dataclass(frozen=True)
class ApplianceFacts:
    """A cooker, as its plate and its manual describe it; the units end the names."""

    name: str
    kind: str
    rated_w: float
    capacity_l: float | None = None
    fill_limit_pct: float = 67
    foam_fill_limit_pct: float = 50
    pressure_kpa: float | None = None
    min_liquid_ml: float | None = None


@dataclass(frozen=True)
class SourceRatings:
    """What a power source can do. Capacity and charging are empty for a hook-up or house mains.

    ``wh_per_pct`` is what one per cent of the battery's charge gives at the socket, with its uncertainty (k = 2), where cooks
    that were read at both ends showed it. [Wh]
    """

    name: str
    kind: str
    capacity_wh: float | None = None
    continuous_w: float | None = None
    surge_w: float | None = None
    inverter_efficiency: float = 1.0
    idle_w: float = 0.0
    charge_efficiency: float = 1.0
    reserve_pct: float = 0.0
    volts: float | None = None
    amps: float | None = None
    charge_w: float | None = None
    panel_w: float | None = None
    wh_per_pct: float | None = None
    wh_per_pct_uncertainty: float = 0.0


@dataclass(frozen=True)
class SourceFacts(SourceRatings):
    """A power source; ``wear_per_kwh`` is what a kilowatt-hour wears off its battery's price, where the owner gave that."""

    wear_per_kwh: Decimal | None = None


@dataclass(frozen=True)
class MeterFacts:
    """What shows the watt-hours."""

    name: str
    place: str
    resolution_wh: float
    accuracy_pct: float


@dataclass(frozen=True)
class TariffFacts:
    """The price at the margin, tax in it; ``words`` say for which hours it is. CO2 only where it was given."""

    name: str
    currency: str
    price_per_kwh: Decimal
    words: Said = ""
    co2_g_per_kwh: float | None = None
    co2_source: str = ""


@dataclass(frozen=True)
class MadeEnergy:
    """What was made before for a line: an edition of another recipe, how much of it goes in, and what all of it took.

    ``share`` is None where that is not known, the energy at the socket and the times None where nobody measured it.
    """

    title: str
    servings: int
    share: Fraction | None = None
    energy_wh: float | None = None
    uncertainty_wh: float = 0.0
    total_s: float | None = None
    attended_s: float | None = None


@dataclass(frozen=True)
class EnergyFacts:
    """The energy card's facts.

    ``energy_wh`` is the mean at the socket over the runs that count, for ``servings``; ``uncertainty_wh`` half of its 95 %
    interval (before schema 3, of one run: the meter's expanded uncertainty); ``next_low_wh`` .. ``next_high_wh`` what the next
    cook may need.
    ``peak_seen`` tells whether a display showed the peak; otherwise it is what the counter proves and may be higher.
    ``no_price`` says why ``tariff`` is None where the source has one that is not in force.
    ``earlier_revision`` is set where the runs belong to an earlier revision than the one that is shown; ``changed_since`` says
    then what differs in food, liquid and stages: empty where nothing does, None in facts from before it was told.
    ``heat`` is the heat balance, None in facts from before there was one; ``sizes`` what each number of servings took
    on this appliance, where more than one was measured; ``elsewhere`` what it took on other cookers. ``usual_spread`` is how much
    cooks of one recipe differ in the kitchen, as a share, and the degrees of freedom it is worth; empty before it was kept.
    ``made`` is what was made before, whose energy and time are in none of these.
    """

    servings: int
    energy_wh: float
    uncertainty_wh: float
    next_low_wh: float
    next_high_wh: float
    peak_w: float | None
    cooking_s: float
    attended_s: float
    total_s: float
    stages: tuple[StageEnergy, ...]
    ladder: tuple[tuple[float, ...], ...]
    runs: tuple[RunFacts, ...]
    appliance: ApplianceFacts
    source: SourceFacts
    meter: MeterFacts
    other_sources: tuple[SourceFacts, ...] = ()
    tariff: TariffFacts | None = None
    peak_seen: bool = True
    earlier_revision: int | None = None
    changed_since: str | None = None
    food_g: float | None = None
    no_price: Said = ""
    heat: HeatModel | None = None
    sizes: tuple[SizeFacts, ...] = ()
    elsewhere: tuple[ElsewhereFacts, ...] = ()
    usual_spread: tuple[float, ...] = ()
    made: tuple[MadeEnergy, ...] = ()
    schema: int = 3

    @property
    def on_other_food(self) -> bool:
        """Whether the figures were measured on a revision that really differs from the one shown."""
        return bool(self.changed_since)

    @property
    def highest_w(self) -> float | None:
        """The most that the cooker draws: as a display showed it, else what its plate says, if that is more. [W]"""
        if self.peak_w is None or self.peak_seen:
            return self.peak_w
        return max(self.peak_w, self.appliance.rated_w)

    @property
    def counted_runs(self) -> int:
        """How many runs made the figures."""
        return sum(run.counts for run in self.runs)
