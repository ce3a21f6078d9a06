"""Invented files of a supplier: the energy of each interval, in rows and across."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from tests.energy.meters.files.cook import START, TRUE_WH, Sample, comma, hm, intervals_wh, table

UTC = ZoneInfo("UTC")


def _first_periods() -> Iterator[Sample]:
    zero = START.replace(hour=0, minute=0)
    hours = intervals_wh(3600)
    begins = [zero + timedelta(hours=n) for n in range(48)]
    pairs = list(zip(begins, hours, strict=True))
    rows = [
        ["Energy consumption time period", "Usage(Real energy in kilowatt-hours)", "Reading quality"],
        *([f"{at:%Y-%m-%d %H:%M:%S} to {at + timedelta(hours=1):%Y-%m-%d %H:%M:%S}", f"{wh / 1000:.4f}", ""] for at, wh in pairs),
    ]
    yield Sample("periods in one cell", ('"Energy usage data:"\n"For location: a field"\n\n' + table(rows)).encode(), TRUE_WH)
    rows = [
        ["Period", "kWh"],
        *([f"{at:%d/%m/%Y %H:%M} - {at + timedelta(hours=1):%H:%M}", f"{wh / 1000:.4f}"] for at, wh in pairs),
    ]
    yield Sample("periods with the day once", table(rows).encode(), TRUE_WH)
    rows = [
        ["ID", "Fecha", "Hora", "Consumo_kWh", "Metodo_obtencion"],
        *(["ES00", at.strftime("%d/%m/%Y"), at.hour + 1, comma(wh / 1000), "R"] for at, wh in pairs),
    ]
    yield Sample("hours numbered from one", table(rows, ";").encode(), TRUE_WH)
    rows = [["Date", "Hour", "kWh"], *([at.strftime("%Y-%m-%d"), at.hour, f"{wh / 1000:.4f}"] for at, wh in pairs)]
    yield Sample("hours numbered from nought", table(rows).encode(), TRUE_WH)


def _second_periods() -> Iterator[Sample]:
    zero = START.replace(hour=0, minute=0)
    hours = intervals_wh(3600)
    begins = [zero + timedelta(hours=n) for n in range(48)]
    pairs = list(zip(begins, hours, strict=True))
    rows = [
        [
            "ID",
            "USAGE_DATE",
            "REVISION_DATE",
            "USAGE_START_TIME",
            "USAGE_END_TIME",
            "USAGE_KWH",
            "ESTIMATED_ACTUAL",
            "CONSUMPTION_SURPLUSGENERATION",
        ],
        *(
            [
                f"'{100890}",
                at.strftime("%m/%d/%Y"),
                at.strftime("%m/%d/%Y 06:00:00"),
                at.strftime(" %H:%M"),
                (at + timedelta(hours=1)).strftime(" %H:%M"),
                wh_kwh,
                "A",
                flow,
            ]
            for at, wh in pairs
            for wh_kwh, flow in ((f"{wh / 1000:.4f}", "Consumption"), ("0.9", "Surplus Generation"))
        ),
    ]
    yield Sample("surplus rows among consumption", table(rows).encode(), TRUE_WH)


def _third_periods() -> Iterator[Sample]:
    zero = START.replace(hour=0, minute=0)
    hours = intervals_wh(3600)
    begins = [zero + timedelta(hours=n) for n in range(48)]
    pairs = list(zip(begins, hours, strict=True))
    rows = [
        ["Ab-Datum", "Ab-Zeit", "Bis-Datum", "Bis-Zeit", "Profilwert", "Einheit", "Status"],
        *(
            [
                f"{at:%d.%m.%Y}",
                f"{at:%H:%M:%S}",
                f"{at + timedelta(hours=1):%d.%m.%Y}",
                f"{at + timedelta(hours=1):%H:%M:%S}",
                comma(wh / 1000, 5),
                "kWh",
                "W",
            ]
            for at, wh in pairs
        ),
    ]
    yield Sample("from and to with days and clocks", table(rows, ";").encode("cp1252"), TRUE_WH)
    rows = [
        ["Datum", "Zeit von", "Zeit bis", "Verbrauch (kWh)"],
        *([f"{at:%d.%m.%Y}", f"{at:%H:%M}", f"{at + timedelta(hours=1):%H:%M}", comma(wh / 1000, 4)] for at, wh in pairs),
    ]
    yield Sample("clock from and clock to", table(rows, ";").encode(), TRUE_WH)
    rows = [
        ["Name", "Cook"],
        ["Address", "A field, 12"],
        ["Account Number", "123456789"],
        ["Service", "Service 1"],
        [],
        ["TYPE", "DATE", "START TIME", "END TIME", "USAGE (kWh)", "COST", "NOTES"],
        *(
            [
                "Electric usage",
                f"{at:%Y-%m-%d}",
                f"{at:%H:%M}",
                f"{at + timedelta(minutes=59):%H:%M}",
                f"{wh / 1000:.4f}",
                "$0.10",
                "",
            ]
            for at, wh in pairs
        ),
    ]
    yield Sample("account above, usage below", table(rows).encode(), TRUE_WH)


def _fourth_periods() -> Iterator[Sample]:
    zero = START.replace(hour=0, minute=0)
    hours = intervals_wh(3600)
    begins = [zero + timedelta(hours=n) for n in range(48)]
    pairs = list(zip(begins, hours, strict=True))
    rows = [
        ["Consumption (kWh)", " Estimated Cost Inc. Tax (p)", " Start", " End"],
        *([f"{wh / 1000:.4f}", " 4.51", f" {at.isoformat()}", f" {(at + timedelta(hours=1)).isoformat()}"] for at, wh in pairs),
    ]
    yield Sample("figures first, times last", table(rows).encode(), TRUE_WH)
    rows = [
        ["Interval", "Demand (kW)"],
        *(
            [f"{at:%m/%d/%Y %I:%M %p}", f"{wh / 250:.4f}"]
            for at, wh in zip((zero + timedelta(minutes=15 * n) for n in range(192)), intervals_wh(900), strict=True)
        ),
    ]
    yield Sample("mean kilowatts of each quarter-hour", table(rows).encode(), TRUE_WH)
    head = (
        "Identifiant;Type de donnees;Date de debut;Date de fin;Grandeur physique;Unite;Pas en minutes\n"
        "0123;Courbe de charge;14/10/2026;16/10/2026;Energie active;W;30\n"
    )
    halves = zip((zero + timedelta(minutes=30 * n) for n in range(96)), intervals_wh(1800), strict=True)
    rows = [["Horodate", "Valeur"], *([(at + timedelta(minutes=30)).isoformat(), f"{wh * 2:.0f}"] for at, wh in halves)]
    yield Sample("mean watts of each half-hour below their unit", (head + table(rows, ";")).encode(), TRUE_WH)
    day_rows: list[list[object]] = [["Time", "Usage kWh"]]
    for n, (at, wh) in enumerate(pairs):
        if n % 24 == 0:
            day_rows.append([f"{at:%A, %B %d, %Y}", ""])
        day_rows.append([f"{at:%I:%M %p}", f"{wh / 1000:.4f}"])
        if n % 24 == 23:
            day_rows.append(["Daily total", f"{sum(hours[n - 23 : n + 1]) / 1000:.4f}"])
    yield Sample("day headings and daily totals", table([[f'"{row[0]}"', row[1]] for row in day_rows]).encode(), TRUE_WH)
    rows = [
        ["Date", "kWh"],
        *([f"{zero + timedelta(days=n):%d/%m/%Y}", f"{TRUE_WH / 1000 if n == 4 else 1:.4f}"] for n in range(14)),
    ]
    yield Sample("a row a day", table(rows).encode(), TRUE_WH + 13000)
    rows = [["Date", "kWh"], *([f"{at:%Y-%m-%d %H:%M}", f"{wh / 1000:.4f}"] for at, wh in pairs if not 3 <= at.hour < 6)]
    yield Sample("intervals with holes", table(rows).encode(), TRUE_WH)
    rows = [
        ["Read time", "Consumption (kWh)", "Generation (kWh)", "Net (kWh)"],
        *([f"{at:%Y-%m-%d %H:%M}", f"{wh / 1000:.4f}", "0.2", f"{wh / 1000 - 0.2:.4f}"] for at, wh in pairs),
    ]
    yield Sample("consumption, generation and net", table(rows).encode(), TRUE_WH)


def _fifth_periods() -> Iterator[Sample]:
    zero = START.replace(hour=0, minute=0)
    hours = intervals_wh(3600)
    begins = [zero + timedelta(hours=n) for n in range(48)]
    pairs = list(zip(begins, hours, strict=True))
    rows = [
        ["Date", "Usage", "Direction"],
        *(
            [f"{at:%Y-%m-%d %H:%M}", value, way]
            for at, wh in pairs
            for value, way in ((f"{wh / 1000:.4f}", "Import"), ("0.2", "Export"))
        ),
    ]
    yield Sample("directions in a column", table(rows).encode(), TRUE_WH)


def periods() -> Iterator[Sample]:
    yield from _first_periods()
    yield from _second_periods()
    yield from _third_periods()
    yield from _fourth_periods()
    yield from _fifth_periods()


def _second_days() -> Iterator[Sample]:
    zero = START.replace(hour=0, minute=0)
    for step_s, count in ((900, 96), (1800, 48), (3600, 24)):
        whole = intervals_wh(step_s)
        rows_wh = [whole[:count], whole[count:]]
        names: dict[str, list[str]] = {
            "ranges": [f"{hm(n * step_s)}-{hm((n + 1) * step_s)}" for n in range(count)],
            "ends that finish at midnight": [hm((n + 1) * step_s % 86400) for n in range(count)],
            "letters and numbers": [f"HH{n + 1:02d}" for n in range(count)],
            "words and numbers": [f"Interval {n + 1}" for n in range(count)],
            "units": [f"{hm(n * step_s)} (kWh)" for n in range(count)],
            "four digits": [hm((n + 1) * step_s).replace(":", "") for n in range(count)],
            "half days": [f"{datetime(2026, 1, 1) + timedelta(seconds=n * step_s):%I:%M %p}" for n in range(count)],
            "seconds": [f"{hm(n * step_s)}:00" for n in range(count)],
        }
        for name, titles in names.items():
            rows = [
                ["Meter", "Date", *titles, "Total"],
                *(
                    [
                        123456,
                        f"{zero + timedelta(days=n):%d/%m/%Y}",
                        *(f"{wh / 1000:.4f}" for wh in day),
                        f"{sum(day) / 1000:.3f}",
                    ]
                    for n, day in enumerate(rows_wh)
                ),
            ]
            yield Sample(f"days across: {count} columns named by {name}", table(rows).encode(), TRUE_WH)
        rows = [["100", "EXPORT", "202610150000"], ["200", "M1", "E1B1", "1", "E1", "N1", "S1", "KWH", str(step_s // 60)]]
        rows += [
            ["300", f"{zero + timedelta(days=n):%Y%m%d}", *(f"{wh / 1000:.4f}" for wh in day), "A", "", "", "20261016"]
            for n, day in enumerate(rows_wh)
        ]
        rows += [["200", "M1", "E1B1", "2", "B1", "N2", "S1", "KWH", str(step_s // 60)]]
        rows += [["300", f"{zero + timedelta(days=n):%Y%m%d}", *(["0.300"] * count), "A", "", "", "20261016"] for n in range(2)]
        yield Sample(f"days across: record numbers, {count} values", table([*rows, ["900"]]).encode(), TRUE_WH)
        rows = [
            ["Date", *(f"{hm(n * step_s)}" for n in range(count))],
            *(
                [f"{zero + timedelta(days=n):%Y-%m-%d}", *(f"{wh * 3.6 / step_s:.5f}" for wh in day)]
                for n, day in enumerate(rows_wh)
            ),
        ]
        yield Sample(f"days across: kilowatts, {count} columns", ("Mean demand in kW\n" + table(rows)).encode(), TRUE_WH)


def _third_days() -> Iterator[Sample]:
    zero = START.replace(hour=0, minute=0)
    hours = intervals_wh(3600)
    rows = [
        ["entity_id", "type", "unit", *((zero + timedelta(hours=n)).astimezone(UTC).isoformat() for n in range(48))],
        ["sensor.cooker_energy", "sum", "kWh", *(f"{wh / 1000:.4f}" for wh in hours)],
    ]
    yield Sample("instants across", table(rows).encode(), TRUE_WH)


def days() -> Iterator[Sample]:
    yield from _second_days()
    yield from _third_days()
