"""Reads of the shared gear: appliances, power sources, meters, tariffs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Count, Model, QuerySet
from django.utils import timezone

from energy.kinds import TRAVELLING_SOURCES
from energy.models import Appliance, Meter, PowerSource, Run, Tariff
from energy.tariffs.domain.prices import format_price
from energy.words import ENGLISH, sentence
from kitchen.queries import the_site


@dataclass(frozen=True)
class GearUse:
    """What depends on a piece of gear; ``refuses`` says that it cannot be removed, ``words`` why or what will happen."""

    refuses: bool = False
    words: str = ""


@dataclass(frozen=True)
class TariffRow:
    """A tariff with its price in words, how many sources use it, and whether its days are over."""

    tariff: Tariff
    price: str
    source_count: int
    ended: bool = False


def gear_rows(model: type[Model]) -> Sequence[Any] | QuerySet[Any]:
    """Return one sort of gear by name, each with what uses it counted. One query."""
    if model is Tariff:
        tariffs = Tariff.objects.annotate(source_count=Count("sources"))
        return [_tariff_row(one, timezone.localdate()) for one in tariffs]
    rows: QuerySet[Any] = model._default_manager.annotate(run_count=Count("runs"))
    return rows.select_related("tariff") if model is PowerSource else rows


def _tariff_row(tariff: Any, day: date) -> TariffRow:
    ended = tariff.valid_to is not None and tariff.valid_to < day
    return TariffRow(tariff, format_price(tariff.price_per_kwh, tariff.currency), tariff.source_count, ended)


def gear_use(thing: Model) -> GearUse:
    """Return what depends on this piece of gear."""
    if isinstance(thing, Tariff):
        sources = thing.sources.count()
        code = "one_without_price" if sources == 1 else "some_without_price"
        return GearUse(False, sentence(ENGLISH, code, sources=sources) if sources else "")
    if isinstance(thing, Meter) and thing.sent.exists():
        return GearUse(True, sentence(ENGLISH, "devices_sent_of_it", name=str(thing)))
    runs: int = Run.objects.filter(**{_RUN_FIELDS[type(thing).__name__]: thing}).count()
    if not runs:
        return GearUse()
    return GearUse(True, sentence(ENGLISH, "one_run_rests" if runs == 1 else "some_runs_rest", runs=runs, name=str(thing)))


_RUN_FIELDS = {"Appliance": "appliance", "PowerSource": "source", "Meter": "meter"}


def card_sources(but: PowerSource, at_most: int) -> list[PowerSource]:
    """Return other sources that a reader of a card may have: batteries first, then hook-ups. One query."""
    others = PowerSource.objects.exclude(pk=but.pk).filter(kind__in=TRAVELLING_SOURCES)
    return list(others.order_by("kind", "name")[:at_most])


def missing_gear() -> list[str]:
    """Return in words what no cook can be recorded without and is not there yet. Three queries."""
    needed: list[tuple[str, type[Model]]] = [("an_appliance", Appliance), ("a_meter", Meter), ("a_source", PowerSource)]
    return [sentence(ENGLISH, code) for code, model in needed if not model._default_manager.exists()]


def gear_defaults(model: type[Model]) -> dict[str, Any]:
    """Return what a new form of this sort starts with. At most one query."""
    if model is Tariff:
        return {"currency": the_site().currency, "valid_from": timezone.localdate()}
    if model is PowerSource:
        known = list(Tariff.objects.values_list("pk", flat=True)[:2])
        return {"tariff": known[0]} if len(known) == 1 else {}
    return {}
