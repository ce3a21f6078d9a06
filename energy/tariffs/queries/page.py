"""What a tariff's own page shows: the week, the price now, the cheapest hours for what the kitchen cooks and charges."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.utils import timezone

from energy.charts.weeks import WeekDrawing, week_drawing
from energy.models import Run, Tariff
from energy.runs.queries.runs import does_count, run_summary
from energy.tariffs.domain.hours import MONTHS, Hours
from energy.tariffs.domain.lines import days_words, months_words
from energy.tariffs.domain.prices import format_price
from energy.tariffs.domain.record import TariffRecord
from energy.tariffs.domain.use import Drawn, PriceList, cheapest_start
from energy.tariffs.queries.pricing import record_of
from energy.words import ENGLISH, sentence
from energy.words.figures import format_wh
from energy.words.titles import clock
from kitchen.domain.money import format_money, places_of

MOST_RECIPES = 8


@dataclass(frozen=True)
class BandLine:
    """One band in words."""

    name: str
    price: str
    when: str


@dataclass(frozen=True)
class CheapestLine:
    """What is cooked or charged, what it takes, when it is cheapest today and what that saves."""

    name: str
    energy: str
    now: str
    start: str
    then: str


@dataclass(frozen=True)
class TariffPage:
    """Everything the page shows; ``week`` is None for a tariff without hours."""

    kept: TariffRecord
    now: str
    usual: str
    bands: tuple[BandLine, ...]
    week: WeekDrawing | None
    week_narrow: WeekDrawing | None
    months: tuple[tuple[int, str], ...]
    cheapest: tuple[CheapestLine, ...]


def tariff_page(tariff: Tariff, now: datetime, month: int | None) -> TariffPage:
    """Return a tariff's page. Two queries for a tariff by the clock, none for another."""
    kept = record_of(tariff)
    prices = kept.price_list(Decimal(tariff.price_per_kwh), timezone.get_current_timezone_name())
    hours = prices.hours
    local = now.astimezone(None if hours is None else hours.zone_info)
    return TariffPage(
        kept=kept,
        now=_price_words(prices.at(now), tariff),
        usual=format_price(tariff.price_per_kwh, tariff.currency),
        bands=() if hours is None else tuple(_band_lines(hours, tariff)),
        week=None if hours is None else week_drawing(hours, month or local.month, language=ENGLISH),
        week_narrow=None if hours is None else week_drawing(hours, month or local.month, language=ENGLISH, narrow=True),
        months=tuple(enumerate(MONTHS, 1)),
        cheapest=tuple(_cheapest(tariff, prices, now, hours)) if hours is not None else (),
    )


def bill_of(tariff: Tariff, used_kwh: float, days: int, months: int) -> Any:
    """Return a whole bill, as ``TariffRecord.bill`` makes it."""
    kept = record_of(tariff)
    flat, places = Decimal(tariff.price_per_kwh), places_of(tariff.currency)
    return kept.bill(flat, timezone.get_current_timezone_name(), Decimal(str(used_kwh)), days=days, months=months, places=places)


def _band_lines(hours: Hours, tariff: Tariff) -> list[BandLine]:
    return [
        BandLine(band.name, format_price(band.price_per_kwh, tariff.currency), _when_it_holds(band))
        for band in sorted(hours.bands, key=lambda band: band.price_per_kwh)
    ]


def _when_it_holds(band: Any) -> str:
    window = sentence(ENGLISH, "all_day")
    if (band.start_min, band.end_min) != (0, 0):
        window = sentence(ENGLISH, "from_to", least=clock(band.start_min), most=clock(band.end_min or 24 * 60))
    return ", ".join(part for part in (window, days_words(sorted(band.days)), months_words(sorted(band.months))) if part)


def _cheapest(tariff: Tariff, prices: PriceList, now: datetime, hours: Hours) -> list[CheapestLine]:
    """Return the cheapest start today for charging each battery on this tariff, and for what was cooked on its sockets."""
    local = now.astimezone(hours.zone_info)
    until = max(local, local.replace(hour=23, minute=45, second=0, microsecond=0))
    asked = [*_charging(tariff), *_cooking(tariff)]
    return [
        CheapestLine(
            name=name,
            energy=format_wh(sum(part.energy_wh for part in drawn)),
            now=format_money(best.cost_now, tariff.currency),
            start=_start_words(best.start, local),
            then=format_money(best.cost, tariff.currency),
        )
        for name, drawn, best in ((name, drawn, cheapest_start(prices, local, until, drawn)) for name, drawn in asked)
    ]


def _start_words(start: datetime, now: datetime) -> str:
    soon = start - now < timedelta(minutes=1)
    return sentence(ENGLISH, "start_now") if soon else sentence(ENGLISH, "start_at", clock=f"{start:%H:%M}")


def _charging(tariff: Tariff) -> Iterator[tuple[str, list[Drawn]]]:
    """Yield the batteries that are charged on a tariff, with what fills each from its reserve. One query."""
    for source in tariff.sources.order_by("name"):
        if source.capacity_wh and source.charge_w:
            wall_wh = source.capacity_wh * (1 - source.reserve_pct / 100) / source.charge_efficiency
            yield sentence(ENGLISH, "charging", name=source.name), [Drawn(3600 * wall_wh / source.charge_w, wall_wh)]


def _cooking(tariff: Tariff) -> Iterator[tuple[str, list[Drawn]]]:
    for run in _last_runs(tariff):
        summary = run_summary(run)
        if summary is not None and summary.stages:
            yield (
                sentence(ENGLISH, "cooked_for", title=run.revision.recipe.title, servings=run.servings),
                [Drawn(stage.span_s, stage.energy_wh) for stage in summary.stages],
            )


def _last_runs(tariff: Tariff) -> list[Run]:
    """Return the newest counting run of each recipe that was cooked straight from this tariff. One query."""
    runs = Run.objects.filter(source__tariff=tariff, source__capacity_wh__isnull=True, ended_at__isnull=False)
    newest: dict[int, Run] = {}
    for run in runs.select_related("revision__recipe").order_by("-started_at")[:200]:
        if does_count(run):
            newest.setdefault(run.revision.recipe_id, run)
    return list(newest.values())[:MOST_RECIPES]


def _price_words(price: Fraction, tariff: Tariff) -> str:
    return format_price(price, tariff.currency)
