"""What a tariff says, as it is kept: bands or blocks, adders, charges, tax. Schema 1; travels through ``record``."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from energy.tariffs.domain.bill import ONCE, Bill, Block, Charges, bill, block_lines
from energy.tariffs.domain.hours import DAY_MIN, Band, Hours
from energy.tariffs.domain.use import PriceList, marginal_block

FLAT, BY_HOURS, BY_BLOCKS = "flat", "hours", "blocks"


@dataclass(frozen=True)
class BandRecord:
    """A band as it is kept; see ``tariff_hours.Band``."""

    name: str
    price_per_kwh: Decimal
    start_min: int = 0
    end_min: int = 0
    days: tuple[int, ...] = ()
    months: tuple[int, ...] = ()

    def band(self) -> Band:
        """Return the band that it keeps."""
        return Band(self.name, self.price_per_kwh, self.start_min, self.end_min, frozenset(self.days), frozenset(self.months))


@dataclass(frozen=True)
class TariffRecord:
    """How a kilowatt-hour is priced.

    ``kind`` is ``flat``, ``hours`` or ``blocks``; an empty ``zone`` is the site's own. ``usual_kwh`` is what the house uses in a
    month anyway. All prices are before ``tax_pct``.
    """

    kind: str = FLAT
    zone: str = ""
    bands: tuple[BandRecord, ...] = ()
    blocks: tuple[Block, ...] = ()
    usual_kwh: Decimal = Decimal(0)
    adder_per_kwh: Decimal = Decimal(0)
    standing_per_day: Decimal = Decimal(0)
    base_per_month: Decimal = Decimal(0)
    tax_pct: Decimal = Decimal(0)
    rounding: str = ONCE
    holidays: tuple[date, ...] = ()
    schema: int = 1

    def hours(self, zone: str) -> Hours | None:
        """Return the bands in their zone, or in the site's where none is named; None without bands."""
        if self.kind != BY_HOURS:
            return None
        return Hours(tuple(band.band() for band in self.bands), self.zone or zone, frozenset(self.holidays))

    def price_list(self, flat: Decimal, zone: str) -> PriceList:
        """Return the tariff at the margin; ``flat`` is its one price where it has no bands and no blocks."""
        return PriceList(
            flat=flat if self.kind == FLAT else None,
            hours=self.hours(zone),
            blocks=self.blocks if self.kind == BY_BLOCKS else (),
            usual_kwh=self.usual_kwh,
            adder_per_kwh=self.adder_per_kwh,
            tax_pct=self.tax_pct,
        )

    def usual_price(self, flat: Decimal, zone: str) -> Fraction:
        """Return one price of a kilowatt-hour, tax in it: the flat one, the block's at the margin, or the mean of all hours.

        Examples
        --------
        >>> record = TariffRecord(BY_HOURS, "Europe/London", (BandRecord("day", Decimal("0.30")),), tax_pct=Decimal(5))
        >>> float(record.usual_price(Decimal(0), "UTC"))
        0.315
        """
        hours = self.hours(zone)
        if hours is not None:
            price = _mean_price(hours)
        else:
            price = Fraction(flat if self.kind == FLAT else marginal_block(self.blocks, self.usual_kwh))
        return (price + Fraction(self.adder_per_kwh)) * (1 + Fraction(self.tax_pct) / 100)

    def bill(self, flat: Decimal, zone: str, used_kwh: Decimal, *, days: int, months: int, places: int = 2) -> Bill:
        """Return a whole bill for a use that is spread evenly over the hours of the year (bands), or as its blocks cut it."""
        charges = Charges(self.adder_per_kwh, self.standing_per_day, self.base_per_month, self.tax_pct)
        energy = self._energy_lines(flat, zone, used_kwh, max(months, 1))
        return bill(energy, charges, days=days, months=months, rounding=self.rounding, places=places)

    def _energy_lines(self, flat: Decimal, zone: str, used_kwh: Decimal, months: int) -> list[tuple[str, Decimal, Decimal]]:
        hours = self.hours(zone)
        if hours is not None:
            shares = _shares_by_band(hours)
            return [(name, used_kwh * Decimal(part.numerator) / Decimal(part.denominator), price) for name, price, part in shares]
        if self.kind == BY_BLOCKS:
            return [(words, kwh * months, price) for words, kwh, price in block_lines(used_kwh / months, self.blocks)]
        return [("energy", used_kwh, flat)]


def _shares_by_band(hours: Hours) -> list[tuple[str, Decimal, Fraction]]:
    """Return name, price and share of all hours of an ordinary year for each price of the clock."""
    minutes: dict[tuple[str, Decimal], int] = {}
    for month in range(1, 13):
        for day in hours.week(month):
            for start, end, band in day:
                if band is not None:
                    key = (band.name, band.price_per_kwh)
                    minutes[key] = minutes.get(key, 0) + end - start
    total = 12 * 7 * DAY_MIN
    return [(name, price, Fraction(held, total)) for (name, price), held in minutes.items()]


def _mean_price(hours: Hours) -> Fraction:
    return sum((Fraction(price) * part for _, price, part in _shares_by_band(hours)), Fraction(0))
