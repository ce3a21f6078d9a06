"""What an archive says of appliances, power and cooks, field by field; values travel as in ``kitchen.domain.archive``."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal


@dataclass(frozen=True)
class ApplianceDocument:
    """A cooker, as its plate and its manual describe it; the units end the names."""

    name: str
    kind: str
    rated_w: float
    capacity_l: float | None = None
    vessel_kg: float | None = None
    vessel_material: str = ""
    fill_limit_pct: float = 67
    foam_fill_limit_pct: float = 50
    min_liquid_ml: float | None = None
    pressure_kpa: float | None = None
    note: str = ""


@dataclass(frozen=True)
class TariffDocument:
    """A price for a kilowatt-hour, in force from a day to a day."""

    name: str
    currency: str
    price_per_kwh: Decimal
    valid_from: date
    valid_to: date | None = None


@dataclass(frozen=True)
class SourceDocument:
    """What the cooker is plugged into; ``tariff`` is the name of one of the archive's tariffs."""

    name: str
    kind: str
    capacity_wh: float | None = None
    continuous_w: float | None = None
    surge_w: float | None = None
    inverter_efficiency: float = 1
    idle_w: float = 0
    charge_efficiency: float = 1
    reserve_pct: float = 10
    display_step_pct: float = 1
    volts: float | None = None
    amps: float | None = None
    tariff: str | None = None
    note: str = ""


@dataclass(frozen=True)
class MeterDocument:
    """What shows the watt-hours."""

    name: str
    place: str = "socket"
    resolution_wh: float = 1
    accuracy_pct: float = 2
    note: str = ""


@dataclass(frozen=True)
class GearDocument:
    """``apps/energy.json``: everything that runs name."""

    tariffs: tuple[TariffDocument, ...] = ()
    appliances: tuple[ApplianceDocument, ...] = ()
    sources: tuple[SourceDocument, ...] = ()
    meters: tuple[MeterDocument, ...] = ()
    schema: int = 1


@dataclass(frozen=True)
class StageDocument:
    """One stage of a run, in order; it lasts until the next one starts."""

    kind: str
    starts_at: datetime
    label: str = ""
    attended: bool = False


@dataclass(frozen=True)
class ReadingDocument:
    """What the displays showed at one instant: any of counter, power and charge; ``origin`` is ``typed`` or ``file``."""

    at: datetime
    energy_wh: float | None = None
    power_w: float | None = None
    charge_pct: float | None = None
    note: str = ""
    origin: str = "typed"


@dataclass(frozen=True)
class RunDocument:
    """One measured cook of a revision; gear by name, whoever cooked as a name. Its figures are worked out again."""

    revision: int
    appliance: str
    source: str
    meter: str
    started_at: datetime
    recorded_at: datetime
    servings: int
    ended_at: datetime | None = None
    ambient_c: float | None = None
    food_start_c: float | None = None
    altitude_m: int = 0
    note: str = ""
    operator: str = ""
    verdict: str = "counts"
    verdict_reason: str = ""
    stages: tuple[StageDocument, ...] = ()
    readings: tuple[ReadingDocument, ...] = ()


@dataclass(frozen=True)
class RunsDocument:
    """``apps/energy/<uid>.json``: the measured cooks of one recipe, the first one first."""

    runs: tuple[RunDocument, ...] = ()
    schema: int = 1
