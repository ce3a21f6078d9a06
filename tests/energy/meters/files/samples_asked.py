"""Invented files of what people really have: what they ask for, and what they hold once that is told."""

from __future__ import annotations

from datetime import datetime, timedelta

from energy.meters.files.tables.xml_rows import NAMES
from tests.energy.meters.files.cook import START, SUMS_WH, TRUE_WH, Sample, every, intervals_wh, table

assert len(NAMES) == 6


def _feed(blocks: list[tuple[str, str, str, list[float]]], step_s: int = 900, power: int = -1) -> bytes:
    """Return a feed: of each block its meter reading, the unit and the direction as codes, and its values."""
    midnight = int(START.replace(hour=0, minute=0).timestamp())
    entries = []
    for number, (reading, uom, flow, values) in enumerate(blocks):
        at = f"/UsagePoint/1/MeterReading/{reading}"
        rows = "".join(
            f"<IntervalReading><timePeriod><duration>{step_s}</duration><start>{midnight + n * step_s}</start></timePeriod>"
            f"<value>{value * 10**-power:.0f}</value></IntervalReading>\n"
            for n, value in enumerate(values)
        )
        entries += [
            f'<entry><link rel="self" href="{at}"/><link rel="related" href="/ReadingType/{number}"/></entry>\n',
            f'<entry><link rel="self" href="{at}/IntervalBlock/1"/><link rel="up" href="{at}/IntervalBlock"/><content>'
            f"<IntervalBlock>{rows}</IntervalBlock></content></entry>\n",
            f'<entry><link rel="self" href="/ReadingType/{number}"/><content><ReadingType>'
            f"<accumulationBehaviour>4</accumulationBehaviour><flowDirection>{flow}</flowDirection>"
            f"<powerOfTenMultiplier>{power}</powerOfTenMultiplier><uom>{uom}</uom></ReadingType></content></entry>\n",
        ]
    text = '<?xml version="1.0" encoding="UTF-8"?>\n<feed xmlns="http://naesb.org/espi">\n' + "".join(entries) + "</feed>\n"
    return text.encode()


_QUARTERS = intervals_wh(900)
_SUN = [5.0] * len(_QUARTERS)

_DAY = range(96)

READ = (
    Sample("xml intervals", _feed([("1", "72", "1", _QUARTERS)]), TRUE_WH),
    Sample("xml intervals in kilowatt-hours' tenths", _feed([("1", "72", "1", _QUARTERS)], power=-2), TRUE_WH),
    Sample("xml beside what is sent out", _feed([("1", "72", "1", _QUARTERS), ("2", "72", "19", _SUN)]), TRUE_WH),
    Sample("xml beside gas", _feed([("2", "169", "1", _SUN), ("1", "72", "1", _QUARTERS)]), TRUE_WH),
    Sample("xml of gas alone", _feed([("2", "169", "1", _SUN)]), refusal="therm"),
    Sample("xml that breaks off", _feed([("1", "72", "1", _QUARTERS)])[:-500], refusal="breaks off"),
    Sample(
        "xml with a document type", b'<?xml version="1.0"?>\n<!DOCTYPE a [<!ENTITY b "c">]>\n<IntervalBlock/>', refusal="entities"
    ),
    Sample("xml of another kind", b'<?xml version="1.0"?><rss></rss>', refusal="open standard"),
    Sample(
        "names and values",
        "".join(f"time={at.isoformat()} plug=hob power_w={watts:.1f} state=on\n" for at, watts, _ in every(10)).encode(),
        TRUE_WH,
    ),
    Sample(
        "names and values behind a time",
        "".join(f"{at:%Y-%m-%d %H:%M:%S} INFO power={watts:.0f}W voltage=231V\n" for at, watts, _ in every(10)).encode(),
        TRUE_WH,
    ),
    Sample(
        "a unit in a column of its own",
        table(
            [["start", "consumption", "unit"], *([f"2026-10-14 {n // 4:02d}:{n % 4 * 15:02d}", 250, "Wh"] for n in _DAY)]
        ).encode(),
        24_000,
    ),
    Sample(
        "used beside sent out",
        table(
            [["start", "Import (kWh)", "Export (kWh)"], *([f"2026-10-14 {n:02d}:00", "0.25", "0.5"] for n in range(24))]
        ).encode(),
        6000,
    ),
    Sample(
        "only sent out",
        table([["start", "device", "kWh"], *([f"2026-10-14 {n:02d}:00", "feed-in", "0.5"] for n in range(24))]).encode(),
        refusal="sent out",
    ),
)


def _parts(first: str, second: str, factor: float = 2.0) -> bytes:
    rows = [[f"{at:%Y-%m-%d %H:%M:%S}", f"{watts:.1f}"] for at, watts, _ in every(10)]
    more = [[at, f"{float(watts) * factor:.1f}"] for at, watts in rows]
    return (f"{first}\n" + table([["time", "W"], *rows]) + f"\n{second}\n" + table([["time", "W"], *more])).encode()


def _registers() -> bytes:
    rows: list[list[object]] = [["time", "register", "kWh"]]
    for at, _, wh in every(60):
        day, night = (wh, 0.0) if at < START + timedelta(minutes=30) else (SUMS_WH[1800], wh - SUMS_WH[1800])
        rows += [
            [at.isoformat(), name, f"{value:.4f}"] for name, value in (("1.8.1", 70 + day / 1000), ("1.8.2", 90 + night / 1000))
        ]
    return table(rows).encode()


def _yearless(stamp: str, first: datetime = START) -> bytes:
    rows = [[f"{first + (at - START):{stamp}}", f"{watts:.1f}"] for at, watts, _ in every(10)]
    return table([["time", "power (W)"], *rows], ";").encode()


_EVE = START.replace(month=12, day=31, hour=23, minute=30)

ASKED = (
    (Sample("two sections", _parts("Meter A", "Meter B"), TRUE_WH), "device", {"device": "meter a"}),
    (Sample("two sections, both", _parts("Meter A", "Meter B"), 3 * TRUE_WH), "device", {"device": "+"}),
    (Sample("two registers", _registers(), TRUE_WH), "device", {"device": "+"}),
    (Sample("no year, points", _yearless("%d.%m. %H:%M:%S"), TRUE_WH), "year", {"year": 2026}),
    (Sample("no year, names", _yearless("%b %d %H:%M:%S"), TRUE_WH), "year", {"year": 2026}),
    (
        Sample("no year, over its end", _yearless("%d.%m. %H:%M:%S", _EVE), TRUE_WH),
        "year",
        {"year": 2026},
    ),
)
"""Each file with the key of its question, and the answer."""
