"""What a kilowatt-hour costs for a meal: at the margin, by the clock of its charging or of its cooking."""

from __future__ import annotations

from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from django.utils import timezone

from energy.facts import TariffFacts
from energy.models import PowerSource, Run, Tariff
from energy.tariffs.domain.record import FLAT, TariffRecord
from energy.tariffs.domain.use import Drawn, cost_of
from kitchen.domain import record
from kitchen.domain.money import UNIT_PRICE_PLACES, round_half_up
from kitchen.domain.remark import Said, remark

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
    flat = Decimal(tariff.price_per_kwh)
    price: Fraction | Decimal = flat
    hours_said: Said = ""
    if kept.kind == FLAT:
        price = (flat + kept.adder_per_kwh) * (1 + kept.tax_pct / 100)
    elif (hours := kept.hours(timezone.get_current_timezone_name())) is not None:
        start, span_s, hours_said = _drawn_when(source, run, day, hours.zone_info)
        price = cost_of(kept.price_list(flat, timezone.get_current_timezone_name()), start, [Drawn(span_s, 1000.0)])
    return TariffFacts(
        tariff.name,
        tariff.currency,
        round_half_up(price, UNIT_PRICE_PLACES).normalize(),
        hours_said,
        tariff.co2_g_per_kwh,
        tariff.co2_source,
    )


def _drawn_when(source: PowerSource, run: Run | None, day: date, zone: ZoneInfo) -> tuple[datetime, float, Said]:
    """Return when the energy is taken from the wall, for how long, and what is said of it."""
    if source.capacity_wh:
        start = datetime.combine(day, source.charged_from or NIGHT, zone)
        span_s = 3600 * source.capacity_wh / source.charge_w if source.charge_w else _FULL_S
        return start, span_s, remark("charged_from", clock=f"{start:%H:%M}")
    cooked = datetime.combine(day, time(18), zone) if run is None else run.started_at.astimezone(zone)
    start = datetime.combine(day, cooked.time(), zone)
    span_s = 3600.0 if run is None or run.ended_at is None else (run.ended_at - run.started_at).total_seconds()
    return start, span_s, remark("cooked_at", clock=f"{start:%H:%M}")
