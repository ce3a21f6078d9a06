"""What a kilowatt-hour costs for a meal: at the margin, by the clock of its charging or of its cooking."""

from __future__ import annotations

from datetime import date, datetime, time
from decimal import Decimal
from zoneinfo import ZoneInfo

from django.conf import settings

from energy.domain.facts import TariffFacts
from energy.domain.tariff_record import FLAT, TariffRecord
from energy.domain.tariff_use import Drawn, cost_of
from energy.models import PowerSource, Run, Tariff
from kitchen.domain import record

NIGHT = time(22)
"""When a battery is charged, where nobody says otherwise: overnight."""

_FULL_S = 4 * 3600.0


def record_of(tariff: Tariff) -> TariffRecord:
    """Return what a tariff keeps of its prices; one flat price where it keeps nothing more."""
    return record.read(TariffRecord, tariff.prices) if tariff.prices else TariffRecord()


def tariff_facts(tariff: Tariff, source: PowerSource, run: Run | None, day: date) -> TariffFacts:
    """Return the price of a meal's kilowatt-hours on a day, with the hours that it is for.

    By the clock: a battery's is that of charging, from its own hour (else from 22:00) for as long as its charger takes for what
    it holds (four hours where its watts are not known); a hook-up's that of the hour at which the run was cooked.
    """
    kept = record_of(tariff)
    price, words = Decimal(tariff.price_per_kwh), ""
    if kept.kind == FLAT:
        price *= 1 + kept.tax_pct / 100
        price += kept.adder_per_kwh * (1 + kept.tax_pct / 100)
    elif (hours := kept.hours(settings.TIME_ZONE)) is not None:
        start, span_s, words = _when(source, run, day, hours.zone_info)
        exact = cost_of(kept.price_list(price, settings.TIME_ZONE), start, [Drawn(span_s, 1000.0)])
        price = Decimal(exact.numerator) / Decimal(exact.denominator)
    return TariffFacts(
        tariff.name,
        tariff.currency,
        price.quantize(Decimal("0.00001")).normalize() if price else Decimal(0),
        words,
        tariff.co2_g_per_kwh,
        tariff.co2_source,
    )


def _when(source: PowerSource, run: Run | None, day: date, zone: ZoneInfo) -> tuple[datetime, float, str]:
    """Return when the energy is taken from the wall, for how long, and that in words."""
    if source.capacity_wh:
        start = datetime.combine(day, source.charged_from or NIGHT, zone)
        span_s = 3600 * source.capacity_wh / source.charge_w if source.charge_w else _FULL_S
        return start, span_s, f"charged from {start:%H:%M}"
    cooked = datetime.combine(day, time(18), zone) if run is None else run.started_at.astimezone(zone)
    start = datetime.combine(day, cooked.time(), zone)
    span_s = 3600.0 if run is None or run.ended_at is None else (run.ended_at - run.started_at).total_seconds()
    return start, span_s, f"cooked at {start:%H:%M}"
