"""Invented files with rows of sums, clocks without colons, figures behind a sign, columns that trail, and names over two rows."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from tests.energy.meters.files.cook import LASTS_S, START, SUMS_WH, TRUE_WH, VIENNA, Sample, comma, every, table


def quarters(day: datetime, count: int) -> list[datetime]:
    """Return the beginnings of a local day's quarter-hours."""
    begins = day.replace(tzinfo=VIENNA).astimezone(ZoneInfo("UTC"))
    return [(begins + timedelta(minutes=15 * n)).astimezone(VIENNA) for n in range(count)]


def _quarter_wh(begins: datetime) -> float:
    low = int((begins - START).total_seconds())
    return SUMS_WH[min(max(low + 900, 0), LASTS_S)] - SUMS_WH[min(max(low, 0), LASTS_S)]


def sums() -> Iterator[Sample]:
    """Yield files with rows of sums and of names between the readings."""
    day = [[at.strftime("%Y-%m-%d %H:%M"), f"{_quarter_wh(at) / 1000:.5f}"] for at in quarters(datetime(2026, 10, 14), 96)]
    for word in ("Total 2026-10-14", "Sum 14/10/2026", "Summe 14.10.2026", "Subtotal 2026-10-14 24:00"):
        rows = [["Time", "Usage kWh"], *day, [word, f"{TRUE_WH / 1000:.5f}"]]
        yield Sample(f"a day's sum: {word}", table(rows).encode(), TRUE_WH)
    ten = [[at.isoformat(), watts] for at, watts, _ in every(10)]
    names = ["Time", "W"]
    yield Sample("names once more", table([names, *ten[:200], names, *ten[200:]]).encode(), TRUE_WH)
    peak = [[at.strftime("%Y-%m-%d %H:%M"), f"{_quarter_wh(at) / 250:.5f}"] for at in quarters(datetime(2026, 10, 14), 96)]
    yield Sample("mean kW of each quarter", table([["Interval start", "Demand (kW)"], *peak]).encode(), TRUE_WH)
    again = [[f"2026-10-{14 + n // 24} {n % 24:02d}:00", f"{0.1 * (n % 24):.2f}"] for n in range(48)]
    yield Sample("a counter of each day", table([["Time", "Energy today (kWh)"], *again]).encode(), 4600)


def clocks() -> Iterator[Sample]:
    """Yield files whose clocks have no colons, beside a day."""
    for name, form in (("points", "%H.%M"), ("nothing", "%H%M"), ("nothing, with seconds", "%H%M%S")):
        rows = [[at.strftime("%d.%m.%Y"), at.strftime(form), f"{wh + 5000:.1f}"] for at, _, wh in every(60)]
        yield Sample(f"clock with {name}", table([["Datum", "Uhrzeit", "Energie Wh"], *rows], ";").encode(), TRUE_WH)
    night = quarters(datetime(2026, 10, 14), 96)
    rows = [["14.10.2026", int(at.strftime("%H%M")), f"{_quarter_wh(at) / 1000:.5f}"] for at in night]
    yield Sample("clock without leading noughts", table([["Date", "Time", "Usage kWh"], *rows]).encode(), TRUE_WH)


def written() -> Iterator[Sample]:
    """Yield files whose figures are written oddly."""
    rows = [(at.strftime("%d.%m.%Y %H:%M:%S"), watts) for at, watts, _ in every(10)]
    for name, text in (
        ("behind an equals sign", lambda watts: f"={comma(watts, 1)}"),
        ("behind an equals sign, quoted", lambda watts: f'="{comma(watts, 1)}"'),
        ("with exponents", lambda watts: comma(watts / 1000, 4) + "E+03"),
        ("with apostrophes", lambda watts: f"{watts:,.1f}".replace(",", "'")),
        ("with spaces", lambda watts: f"{watts:,.1f}".replace(",", " ").replace(".", ",")),
        ("before a semicolon", lambda watts: f"{comma(watts, 1)};"),
    ):
        body = "".join(f"{stamp};{text(watts)}\n" for stamp, watts in rows)
        yield Sample(f"figures {name}", f"Zeit;Leistung W\n{body}".encode(), TRUE_WH)
    broken = table([[at.isoformat(), watts] for at, watts, _ in every(10)])
    yield Sample("a line break in a name", f'"Time","Power\n(W)"\n{broken}'.encode(), TRUE_WH)


def clock_days() -> Iterator[Sample]:
    """Yield the two days of a year that have 92 and 100 quarter-hours."""
    for day, count in ((datetime(2026, 3, 29), 92), (datetime(2026, 10, 25), 100)):
        values = [0.1 + n % 3 * 0.1 for n in range(count)]
        rows = [[at.strftime("%Y-%m-%d %H:%M"), f"{v:.1f}"] for at, v in zip(quarters(day, count), values, strict=True)]
        yield Sample(f"{count} quarters below each other", table([["Start", "Usage (kWh)"], *rows]).encode(), 1000 * sum(values))
        wide = [["Date", *range(1, count + 1)], [f"{day:%Y-%m-%d}", *(f"{v:.1f}" for v in values)]]
        yield Sample(f"{count} quarters across", table(wide).encode(), 1000 * sum(values))


ROWS = (*sums(), *clocks(), *written(), *clock_days())
