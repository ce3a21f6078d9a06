"""Energy's part of a packed library: gear, ways of reading files, runs and all that belongs to them. Never a device's token."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import time
from typing import Any
from zoneinfo import ZoneInfoNotFoundError

from django.utils import timezone

from energy.documents import (
    ApplianceDocument,
    FileShapeDocument,
    GearDocument,
    MeterDocument,
    RunsDocument,
    SourceDocument,
    TariffDocument,
)
from energy.models import Appliance, FileShape, Meter, PowerSource, Run, Tariff
from energy.runs.operations.merged_runs import merge_run, run_here
from energy.runs.operations.unpacked_runs import add_run
from energy.runs.queries.packed import HELD, run_document, sent_outside_runs
from energy.tariffs.queries.pricing import record_of
from kitchen.archivists import Archivist, Desk
from kitchen.domain import record
from kitchen.domain.archive import Document
from kitchen.models import Recipe
from kitchen.operations.unpacked_rows import keep_named, refused


@dataclass(frozen=True)
class Gear:
    """Which rows here the archive's names mean."""

    appliances: Mapping[str, Appliance]
    sources: Mapping[str, PowerSource]
    meters: Mapping[str, Meter]


class EnergyArchivist(Archivist):
    """Packs and unpacks what the energy app keeps. A run is the same when recipe, revision, start and meter are."""

    slug = "energy"

    def pack(self) -> Document:
        """Return all gear, and the named ways of reading files."""
        packed = GearDocument(
            tariffs=tuple(_tariff_document(tariff) for tariff in Tariff.objects.order_by("name")),
            appliances=tuple(record.taken(ApplianceDocument, appliance) for appliance in Appliance.objects.order_by("name")),
            sources=tuple(_source_document(source) for source in PowerSource.objects.select_related("tariff").order_by("name")),
            meters=tuple(record.taken(MeterDocument, meter) for meter in Meter.objects.order_by("name")),
            shapes=tuple(record.taken(FileShapeDocument, shape) for shape in FileShape.objects.order_by("name")),
        )
        return dict(record.write(packed))

    def left_out(self) -> dict[str, int]:
        """Return how many readings devices sent while nothing was cooked; they belong to no run, and a backup keeps them."""
        return {"device readings outside runs": sent_outside_runs()}

    def leave_recipe(self, held: Document, desk: Desk) -> None:
        """Count the runs of a recipe whose archive is not taken."""
        desk.account.left["runs"] += len(record.read(RunsDocument, held).runs)

    def pack_recipe(self, recipe: Recipe) -> Document | None:
        """Return the recipe's runs, or None where nobody has cooked it with a meter."""
        runs = Run.objects.filter(revision__recipe=recipe).select_related("revision", "appliance", "source", "meter", "operator")
        packed = tuple(run_document(run) for run in runs.prefetch_related(*HELD).order_by("started_at", "pk"))
        return dict(record.write(RunsDocument(packed))) if packed else None

    def unpack(self, held: Document, desk: Desk) -> Gear:
        """Add the gear that is not here, and return which row each of the archive's names means."""
        packed, account = record.read(GearDocument, held), desk.account
        place = "apps/energy.json"
        tariffs = {
            document.name: keep_named(Tariff, _priceable(document, place), account, kind="tariffs", place=place)
            for document in packed.tariffs
        }
        sources = {}
        for document in packed.sources:
            if document.tariff is not None and document.tariff not in tariffs:
                raise refused(place, f"{document.name} names the tariff “{document.tariff}”, which is not there")
            tariff = None if document.tariff is None else tariffs[document.tariff]
            pointed = {"tariff": tariff, "charged_from": _clock(document, place)}
            sources[document.name] = keep_named(PowerSource, document, account, kind="power sources", place=place, **pointed)
        for shape in packed.shapes:
            keep_named(FileShape, shape, account, kind="ways of reading files", place=place)
        return Gear(
            {named.name: keep_named(Appliance, named, account, kind="appliances", place=place) for named in packed.appliances},
            sources,
            {named.name: keep_named(Meter, named, account, kind="meters", place=place) for named in packed.meters},
        )

    def unpack_recipe(self, held: Document, recipe: Recipe, brought: Any, desk: Desk) -> None:
        """Add the recipe's runs that are not here; what was cooked is locked, and each new run's figures are worked out."""
        revisions = {revision.number: revision for revision in recipe.revisions.all()}
        place = f"apps/energy/{recipe.uid}.json"
        for packed in record.read(RunsDocument, held).runs:
            if packed.revision not in revisions:
                raise refused(place, f"a run names revision {packed.revision}, which is not there")
            gear = {
                "appliance": _named_row(brought.appliances, packed.appliance, place),
                "source": _named_row(brought.sources, packed.source, place),
                "meter": _named_row(brought.meters, packed.meter, place),
            }
            revision = revisions[packed.revision]
            here = run_here(packed, revision, gear)
            if here is None:
                add_run(packed, revision, gear, desk, place)
            else:
                merge_run(here, packed, desk, place)
                desk.account.same["runs"] += 1


def _tariff_document(tariff: Tariff) -> TariffDocument:
    return record.taken(TariffDocument, tariff, prices=record_of(tariff) if tariff.prices else None)


def _priceable(document: TariffDocument, place: str) -> TariffDocument:
    """Return a tariff whose hours and blocks can be priced; one that a form would refuse is refused here too."""
    try:
        if document.prices is not None:
            hours = document.prices.hours(timezone.get_current_timezone_name())
            mistakes = [] if hours is None else hours.mistakes()
            if mistakes:
                raise ValueError(mistakes[0].rstrip("."))
            document.prices.usual_price(document.price_per_kwh, timezone.get_current_timezone_name())
    except (ValueError, LookupError, ZoneInfoNotFoundError) as error:
        raise refused(place, f"the prices of {document.name} cannot be used: {error}") from None
    return document


def _clock(document: SourceDocument, place: str) -> time | None:
    if document.charged_from is None:
        return None
    try:
        return time.fromisoformat(document.charged_from)
    except ValueError:
        raise refused(place, f"{document.name} is charged from “{document.charged_from}”, which is no clock") from None


def _source_document(source: PowerSource) -> SourceDocument:
    return record.taken(
        SourceDocument,
        source,
        tariff=None if source.tariff is None else source.tariff.name,
        charged_from=None if source.charged_from is None else f"{source.charged_from:%H:%M}",
    )


def _named_row(rows: Mapping[str, Any], name: str, place: str) -> Any:
    if name not in rows:
        raise refused(place, f"a run names “{name}”, which apps/energy.json does not hold")
    return rows[name]
