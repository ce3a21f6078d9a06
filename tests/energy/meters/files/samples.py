"""Invented meters' files of many shapes, all of one invented cook, so that the energy they hold is known."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from tests.energy.meters.files.cook import LASTS_S, START, SUMS_WH, TRUE_WH, Sample, comma, every, table, us, watts_at
from tests.energy.meters.files.samples_listed import jsons, refused, states


def _tables() -> Iterator[Sample]:
    yield from _watts_tables()
    yield from _counter_tables()
    yield from _interval_tables()
    yield from states()
    yield from jsons()
    yield from refused()


def _first_watts_tables() -> Iterator[Sample]:
    ten = list(every(10))
    stamps: dict[str, Callable[[datetime], str]] = {
        "iso with offset": lambda at: at.isoformat(),
        "iso in utc": lambda at: at.astimezone(ZoneInfo("UTC")).strftime("%Y-%m-%dT%H:%M:%SZ"),
        "iso with milliseconds": lambda at: at.isoformat(timespec="milliseconds"),
        "space and no zone": lambda at: at.strftime("%Y-%m-%d %H:%M:%S"),
        "slashes, year first": lambda at: at.strftime("%Y/%m/%d %H:%M:%S"),
        "points, day first": lambda at: at.strftime("%d.%m.%Y %H:%M:%S"),
        "points, short year": lambda at: at.strftime("%d.%m.%y %H:%M:%S"),
        "slashes, day first": lambda at: at.strftime("%d/%m/%Y %H:%M:%S"),
        "slashes, month first": us,
        "dashes, day first": lambda at: at.strftime("%d-%m-%Y %H:%M:%S"),
        "month as a word": lambda at: at.strftime("%d-%b-%Y %H:%M:%S"),
        "month as a word, first": lambda at: at.strftime("%b %d, %Y %I:%M:%S %p"),
        "weekday before": lambda at: at.strftime("%a %d %b %Y %H:%M:%S"),
        "zone as letters": lambda at: at.strftime("%Y-%m-%d %H:%M:%S CEST"),
        "epoch seconds": lambda at: f"{at.timestamp():.0f}",
        "epoch milliseconds": lambda at: f"{at.timestamp() * 1000:.0f}",
        "epoch with fractions": lambda at: f"{at.timestamp():.3f}",
        "compact": lambda at: at.strftime("%Y%m%d%H%M%S"),
        "compact with T": lambda at: at.strftime("%Y%m%dT%H%M%S"),
        "clock alone": lambda at: at.strftime("%H:%M:%S"),
        "clock with am and pm": lambda at: at.strftime("%I:%M:%S %p"),
    }
    for name, stamp in stamps.items():
        text = table(
            [["Time", "Power (W)"], *([stamp(at), f"{watts:.1f}"] for at, watts, _ in ten)],
            "," if name != "month as a word, first" else ";",
        )
        yield Sample(f"watts, {name}", text.encode(), TRUE_WH, within=0.02)
    for name, unit, scale in (("W", "W", 1), ("kW", "kW", 0.001), ("mW", "mW", 1000)):
        rows = [["timestamp", f"power_{unit}"], *([at.isoformat(), f"{watts * scale:.6g}"] for at, watts, _ in ten)]
        yield Sample(f"watts in {name}", table(rows).encode(), TRUE_WH)
    rows = [
        ["Zeitpunkt", "Leistung [W]", "Spannung [V]", "Strom [A]"],
        *([at.strftime("%d.%m.%Y %H:%M:%S"), comma(w, 1), comma(231.4, 1), comma(w / 231.4)] for at, w, _ in ten),
    ]
    yield Sample("decimal comma beside volts and amps", table(rows, ";").encode("cp1252"), TRUE_WH)


def _second_watts_tables() -> Iterator[Sample]:
    ten = list(every(10))
    rows = [
        ["Time", "V", "A", "W", "VA", "PF"],
        *([at.isoformat(), 230, f"{w / 230:.3f}", f"{w:.0f}", f"{w * 1.05 + 9:.0f}", 0.95] for at, w, _ in ten),
    ]
    yield Sample("W beside VA", table(rows).encode(), TRUE_WH)
    rows = [
        ["Time", "Current (mA)", "Apparent Power (VA)", "Active Power (W)"],
        *([at.isoformat(), f"{w / 0.23:.0f}", f"{w + 20:.0f}", f"{w:.0f}"] for at, w, _ in ten),
    ]
    yield Sample("mA, VA and W", table(rows, "\t").encode(), TRUE_WH)
    plain = table([["Time", "Watts"], *([at.isoformat(), w] for at, w, _ in ten)])
    yield Sample("byte order mark", b"\xef\xbb\xbf" + plain.encode(), TRUE_WH)
    yield Sample("utf-16", plain.encode("utf-16"), TRUE_WH)
    yield Sample("windows line ends", plain.replace("\n", "\r\n").encode(), TRUE_WH)
    yield Sample("old line ends", plain.replace("\n", "\r").encode(), TRUE_WH)
    yield Sample(
        "sep line",
        b"sep=;\r\n" + table([["Time", "W"], *([at.isoformat(), comma(w, 1)] for at, w, _ in ten)], ";").encode(),
        TRUE_WH,
    )
    head = "Logger export;v2\nSerial;00123\nInterval;10 s\n\n"
    yield Sample(
        "preamble",
        (
            head + table([["Date/Time", "P (W)"], *([at.strftime("%d.%m.%Y %H:%M:%S"), comma(w, 1)] for at, w, _ in ten)], ";")
        ).encode(),
        TRUE_WH,
    )
    yield Sample("remarks", ("# a remark\n# another\n" + plain).encode(), TRUE_WH)
    rows = [["Time", "Power"], ["", "W"], *([at.isoformat(), w] for at, w, _ in ten)]
    yield Sample("row of units", table(rows).encode(), TRUE_WH)
    yield Sample("footer", (plain + "Total,,\nAverage,412\nEnd of report\n").encode(), TRUE_WH)
    rows = [["Time", "Reading"], *([at.isoformat(), f"{w:.1f} W"] for at, w, _ in ten)]
    yield Sample("units in cells", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Power W"], *([at.isoformat(), f'"{w * 10:,.1f}"'] for at, w, _ in ten)]
    yield Sample("thousands in quotes", table(rows).encode(), 10 * TRUE_WH)
    rows = [
        ["Time", "Power W"],
        *([at.isoformat(), f"{w * 10:,.1f}".replace(",", "x").replace(".", ",").replace("x", ".")] for at, w, _ in ten),
    ]
    yield Sample("thousands with points", table(rows, ";").encode(), 10 * TRUE_WH)


def _third_watts_tables() -> Iterator[Sample]:
    ten = list(every(10))
    rows = [["date", "time", "watt"], *([at.strftime("%Y-%m-%d"), at.strftime("%H:%M:%S"), w] for at, w, _ in ten)]
    yield Sample("day and clock apart", table(rows).encode(), TRUE_WH)
    rows = [
        ["Datum", "Uhrzeit", "Leistung"],
        *([at.strftime("%d.%m.%Y"), at.strftime("%H:%M"), comma(w, 0)] for at, w, _ in every(60)),
    ]
    yield Sample("minutes only, ticking unseen", table(rows, ";").encode(), None, within=9)
    yield Sample("newest first", table([["Time", "W"], *reversed([[at.isoformat(), w] for at, w, _ in ten])]).encode(), TRUE_WH)
    shuffled = [[at.isoformat(), w] for at, w, _ in ten]
    shuffled[50], shuffled[51] = shuffled[51], shuffled[50]
    yield Sample("one step backward", table([["Time", "W"], *shuffled]).encode(), TRUE_WH)
    doubled = [[at.isoformat(), w] for at, w, _ in ten]
    doubled[30:30] = [doubled[29]] * 2
    yield Sample("stamps twice", table([["Time", "W"], *doubled]).encode(), TRUE_WH)
    yield Sample("no names", table([[at.isoformat(), w] for at, w, _ in ten]).encode(), TRUE_WH)
    for unit, scale in (("s", 1), ("min", 60), ("h", 3600), ("ms", 0.001)):
        rows = [
            [f"elapsed ({unit})", "power (W)"],
            *(
                [f"{second / scale:.6g}" if unit != "ms" else second * 1000, watts_at(second)]
                for second in range(0, LASTS_S + 1, 10)
            ),
        ]
        yield Sample(f"elapsed in {unit}", table(rows).encode(), TRUE_WH)
    rows = [["Elapsed", "W"], *([str(timedelta(seconds=second)), watts_at(second)] for second in range(0, LASTS_S + 1, 10))]
    yield Sample("elapsed as h:mm:ss", table(rows).encode(), TRUE_WH)
    late = START.replace(hour=23, minute=20)
    rows = [
        ["Time", "W"],
        *([(late + timedelta(seconds=s)).strftime("%H:%M:%S"), watts_at(s)] for s in range(0, LASTS_S + 1, 10)),
    ]
    yield Sample("over midnight without a day", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Phase 1 (W)", "Phase 2 (W)", "Total (W)"], *([at.isoformat(), w / 2, w / 2, w] for at, w, _ in ten)]
    yield Sample("phases and a total", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Min W", "Avg W", "Max W"], *([at.isoformat(), w * 0.9, w, w * 1.1] for at, w, _ in ten)]
    yield Sample("min, average and max", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Grid import W", "Grid export W"], *([at.isoformat(), w, 0 if w > 5 else 40] for at, w, _ in ten)]
    yield Sample("import and export", table(rows).encode(), TRUE_WH)
    rows = [["Heure", "Puissance (W)"], *([at.strftime("%d/%m/%Y %H:%M:%S"), comma(w, 1)] for at, w, _ in ten)]
    yield Sample("french", table(rows, ";").encode("cp1252"), TRUE_WH)


def _fourth_watts_tables() -> Iterator[Sample]:
    ten = list(every(10))
    one = list(every(1))
    rows = [
        ["Fecha y hora", "Potencia activa (kW)"],
        *([at.strftime("%d/%m/%Y %H:%M:%S"), comma(w / 1000, 4)] for at, w, _ in ten),
    ]
    yield Sample("spanish", table(rows, ";").encode(), TRUE_WH)
    rows = [["Tijdstip", "Vermogen W"], *([at.strftime("%d-%m-%Y %H:%M:%S"), comma(w, 1)] for at, w, _ in ten)]
    yield Sample("dutch", table(rows, ";").encode(), TRUE_WH)
    rows = [["Data e ora", "Potenza (W)"], *([at.strftime("%d/%m/%Y %H:%M:%S"), comma(w, 1)] for at, w, _ in ten)]
    yield Sample("italian", table(rows, ";").encode(), TRUE_WH)
    rows = [["Time", "W"], *([at.isoformat(), w if n % 7 else ""] for n, (at, w, _) in enumerate(one))]
    yield Sample("empty cells", table(rows).encode(), TRUE_WH)
    below = [["14.10.2026", ""], *([at.strftime("%H:%M:%S"), comma(w, 1)] for at, w, _ in ten)]
    yield Sample("days on rows of their own", table([["Zeit", "Leistung W"], *below], ";").encode(), TRUE_WH)
    yield Sample("upright strokes", table([["time", "watts"], *([at.isoformat(), w] for at, w, _ in ten)], "|").encode(), TRUE_WH)
    yield Sample("tabs", table([["time", "watts"], *([at.isoformat(), w] for at, w, _ in ten)], "\t").encode(), TRUE_WH)


def _watts_tables() -> Iterator[Sample]:
    yield from _first_watts_tables()
    yield from _second_watts_tables()
    yield from _third_watts_tables()
    yield from _fourth_watts_tables()


def _counter_tables() -> Iterator[Sample]:
    minute = list(every(60))
    for unit, scale, places in (
        ("Wh", 1, 1),
        ("kWh", 0.001, 4),
        ("MWh", 1e-6, 8),
        ("J", 3600, 0),
        ("kJ", 3.6, 2),
        ("Wmin", 60, 1),
        ("watt-minutes", 60, 1),
    ):
        rows = [
            ["Time", f"Energy total ({unit})"],
            *([at.isoformat(), f"{(wh + 5000) * scale:.{places}f}"] for at, _, wh in minute),
        ]
        yield Sample(f"counter in {unit}", table(rows).encode(), TRUE_WH)
    rows = [
        [["Datum", "Uhrzeit", "Zählerstand kWh"][0], "Uhrzeit", "Zählerstand kWh"],
        *([at.strftime("%d.%m.%Y"), at.strftime("%H:%M:%S"), comma(12345.678 + wh / 1000, 3)] for at, _, wh in minute),
    ]
    yield Sample("meter reading with a large start", table(rows, ";").encode("cp1252"), TRUE_WH)
    reset = [[at.isoformat(), f"{(wh if n < 30 else wh - minute[30][2]):.2f}"] for n, (at, _, wh) in enumerate(minute)]
    yield Sample("counter that begins again", table([["time", "wh_total"], *reset]).encode(), TRUE_WH, within=0.03)
    dipped = [[at.isoformat(), "0" if n in (20, 40) else f"{(wh + 90000) / 1000:.4f}"] for n, (at, _, wh) in enumerate(minute)]
    yield Sample("counter that dips to zero", table([["time", "kwh_total"], *dipped]).encode(), TRUE_WH)
    jitter = [[at.isoformat(), f"{(wh + 90000) / 1000 - (0.001 if n == 33 else 0):.3f}"] for n, (at, _, wh) in enumerate(minute)]
    yield Sample("counter that steps back by its own step", table([["time", "Total kWh"], *jitter]).encode(), TRUE_WH)
    rows = [["Time", "Power (W)", "Energy (kWh)"], *([at.isoformat(), w, f"{wh / 1000:.3f}"] for at, w, wh in every(5))]
    yield Sample("watts beside a counter", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Power (W)", "Energy (kWh)"], *([at.isoformat(), w, f"{int(wh / 100) / 10:.1f}"] for at, w, wh in every(5))]
    yield Sample("watts beside a coarse counter", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Battery %", "Output W"], *([at.isoformat(), 90 - int(wh / 10.24), w] for at, w, wh in every(5))]
    yield Sample("charge beside watts", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Meter reading"], *([at.isoformat(), f"{8000 + wh / 1000:.3f}"] for at, _, wh in minute)]
    yield Sample("counter without a unit", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Index (Wh)"], *([at.isoformat(), f"{45_000_000 + wh:.0f}"] for at, _, wh in minute)]
    yield Sample("index in Wh", table(rows, ";").encode(), TRUE_WH)


def _slots_wh(step_s: int, days: int = 2) -> list[list[float]]:
    """Return the energy of each interval of whole local days; the cook lies on the first of them."""
    zero = START.replace(hour=0, minute=0)
    offset = int((START - zero).total_seconds())
    found = []
    for day in range(days):
        row = []
        for slot in range(86400 // step_s):
            begin = day * 86400 + slot * step_s - offset
            low, high = (min(max(second, 0), LASTS_S) for second in (begin, begin + step_s))
            row.append(SUMS_WH[high] - SUMS_WH[low])
        found.append(row)
    return found


def _first_interval_tables() -> Iterator[Sample]:
    zero = START.replace(hour=0, minute=0)
    for step_s in (900, 1800, 3600):
        whole = [wh for day in _slots_wh(step_s) for wh in day]
        begins = [zero + timedelta(seconds=step_s * n) for n in range(len(whole))]
        rows = [
            ["Interval start", "Usage (kWh)"],
            *([at.strftime("%Y-%m-%d %H:%M"), f"{wh / 1000:.4f}"] for at, wh in zip(begins, whole, strict=True)),
        ]
        yield Sample(f"intervals of {step_s} s by their start", table(rows).encode(), TRUE_WH)
        rows = [
            ["Bis", "Verbrauch [kWh]"],
            *(
                [(at + timedelta(seconds=step_s)).strftime("%d.%m.%Y %H:%M"), comma(wh / 1000, 4)]
                for at, wh in zip(begins, whole, strict=True)
            ),
        ]
        yield Sample(f"intervals of {step_s} s by their end", table(rows, ";").encode(), TRUE_WH)
        rows = [
            ["Date", "Start Time", "End Time", "Usage", "Units"],
            *(
                [
                    at.strftime("%m/%d/%Y"),
                    at.strftime("%H:%M"),
                    (at + timedelta(seconds=step_s)).strftime("%H:%M"),
                    f"{wh / 1000:.4f}",
                    "kWh",
                ]
                for at, wh in zip(begins, whole, strict=True)
            ),
        ]
        yield Sample(f"intervals of {step_s} s with day, start and end", table(rows).encode(), TRUE_WH)


def _second_interval_tables() -> Iterator[Sample]:
    zero = START.replace(hour=0, minute=0)
    for step_s, count in ((900, 96), (1800, 48), (3600, 24)):
        days = _slots_wh(step_s)
        times = [f"{n * step_s // 3600:02d}:{n * step_s % 3600 // 60:02d}" for n in range(count)]
        rows = [
            ["Date", *times],
            *(
                [(zero + timedelta(days=n)).strftime("%Y-%m-%d"), *(f"{wh / 1000:.4f}" for wh in day)]
                for n, day in enumerate(days)
            ),
        ]
        yield Sample(f"{count} columns a day", table(rows).encode(), TRUE_WH)
        ends = [f"{(n + 1) * step_s // 3600:02d}:{(n + 1) * step_s % 3600 // 60:02d}" for n in range(count)]
        rows = [
            ["Meter", "Datum", "Einheit", *ends],
            *(
                ["A1", (zero + timedelta(days=n)).strftime("%d.%m.%Y"), "kWh", *(comma(wh / 1000, 4) for wh in day)]
                for n, day in enumerate(days)
            ),
        ]
        yield Sample(f"{count} columns a day by their end, with a unit", table(rows, ";").encode(), TRUE_WH)
        rows = [
            ["Day", *range(1, count + 1)],
            *(
                [(zero + timedelta(days=n)).strftime("%d/%m/%Y"), *(f"{wh / 1000:.4f}" for wh in day)]
                for n, day in enumerate(days)
            ),
        ]
        yield Sample(f"{count} numbered columns a day", table(rows).encode(), TRUE_WH)
    rows = [
        ["Time", "Energy delta (Wh)"],
        *([at.isoformat(), f"{wh - (SUMS_WH[max(int((at - START).total_seconds()) - 60, 0)]):.3f}"] for at, _, wh in every(60)),
    ]
    yield Sample("deltas each minute", table(rows).encode(), TRUE_WH)


def _interval_tables() -> Iterator[Sample]:
    yield from _first_interval_tables()
    yield from _second_interval_tables()


SAMPLES = tuple(_tables())
