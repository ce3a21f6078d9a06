"""What an archive says of appliances, power and cooks, field by field; values travel as in ``kitchen.domain.archive``."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from energy.facts import ApplianceFacts, MeterFacts, SourceRatings
from energy.tariffs.domain.record import TariffRecord


@dataclass(frozen=True)
class ApplianceDocument(ApplianceFacts):
    """A cooker: as an edition knows it, and its vessel."""

    vessel_kg: float | None = None
    vessel_material: str = ""
    note: str = ""


@dataclass(frozen=True)
class TariffDocument:
    """What a kilowatt-hour costs, from a day to a day; ``prices`` holds bands, blocks and charges, None for one price."""

    name: str
    currency: str
    price_per_kwh: Decimal
    valid_from: date
    valid_to: date | None = None
    prices: TariffRecord | None = None
    co2_g_per_kwh: float | None = None
    co2_source: str = ""


@dataclass(frozen=True)
class SourceDocument(SourceRatings):
    """What the cooker is plugged into; ``tariff`` names one of the tariffs here, ``charged_from`` is a clock like "22:00"."""

    display_step_pct: float = 1
    battery_price: Decimal | None = None
    battery_cycles: int | None = None
    charged_from: str | None = None
    tariff: str | None = None
    note: str = ""


@dataclass(frozen=True)
class MeterDocument(MeterFacts):
    """What shows the watt-hours, as an edition knows it, and a note."""

    note: str = ""


@dataclass(frozen=True)
class FileShapeDocument:
    """A named way of reading a meter's file."""

    name: str
    made_at: datetime
    shape: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class GearDocument:
    """``apps/energy.json``: everything that runs name, and the ways of reading meters' files. Never a device's token."""

    tariffs: tuple[TariffDocument, ...] = ()
    appliances: tuple[ApplianceDocument, ...] = ()
    sources: tuple[SourceDocument, ...] = ()
    meters: tuple[MeterDocument, ...] = ()
    shapes: tuple[FileShapeDocument, ...] = ()
    schema: int = 2


@dataclass(frozen=True)
class StageDocument:
    """One stage of a run, in order; it lasts until the next one starts. ``event`` is the press that began it."""

    kind: str
    starts_at: datetime
    label: str = ""
    attended: bool = False
    event: str | None = None


@dataclass(frozen=True)
class SentReadingDocument:
    """What a display showed at one instant: any of counter, power and charge; alone, what a device sent of the run's meter."""

    at: datetime
    energy_wh: float | None = None
    power_w: float | None = None
    charge_pct: float | None = None


@dataclass(frozen=True)
class ReadingDocument(SentReadingDocument):
    """A reading of the run's own; ``origin`` is ``typed``, ``desk`` or ``file``.

    ``id`` is its UUID, that of the press where it was logged at a desk; ``loaded`` the place, from 0, of the file it came from.
    """

    note: str = ""
    origin: str = "typed"
    id: str | None = None
    loaded: int | None = None


@dataclass(frozen=True)
class MomentDocument:
    """A note or a photo at an instant; ``photo`` is the digest of one of the recipe's photos."""

    at: datetime
    text: str = ""
    photo: str | None = None
    id: str | None = None


@dataclass(frozen=True)
class DeskEventDocument:
    """One press on the run desk, as it was said, and what a form corrected in it; one taken back before it came has no kind."""

    id: str
    received_at: datetime
    kind: str = ""
    at: datetime | None = None
    said: dict[str, Any] = field(default_factory=dict)
    amended: dict[str, Any] = field(default_factory=dict)
    skew_s: float | None = None
    said_by: str = ""
    withdrawn_at: datetime | None = None


@dataclass(frozen=True)
class LoadedFileDocument:
    """A meter's file that was read in: its name and digest, never its bytes."""

    name: str
    digest: str
    loaded_at: datetime
    shape: dict[str, Any] = field(default_factory=dict)
    words: str = ""
    rows: int = 0
    loaded_by: str = ""
    before: dict[str, Any] = field(default_factory=dict)
    came: dict[str, Any] = field(default_factory=dict)
    confirmed: bool = False


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
    typed_end: datetime | None = None
    ambient_c: float | None = None
    food_start_c: float | None = None
    altitude_m: int = 0
    portions_served: Decimal | None = None
    portions_left: Decimal | None = None
    portions_thrown: Decimal | None = None
    note: str = ""
    operator: str = ""
    verdict: str = "counts"
    verdict_reason: str = ""
    verdict_at: datetime | None = None
    once: str | None = None
    pauses: tuple[tuple[datetime | None, ...], ...] = ()
    stages: tuple[StageDocument, ...] = ()
    readings: tuple[ReadingDocument, ...] = ()
    moments: tuple[MomentDocument, ...] = ()
    presses: tuple[DeskEventDocument, ...] = ()
    files: tuple[LoadedFileDocument, ...] = ()
    sent: tuple[SentReadingDocument, ...] = ()


@dataclass(frozen=True)
class RunsDocument:
    """``apps/energy/<uid>.json``: the measured cooks of one recipe, the first one first."""

    runs: tuple[RunDocument, ...] = ()
    schema: int = 2
