"""Invented files whose times are written in odd ways, and such as lie over the clock changes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from tests.energy.meters.files.cook import LASTS_S, START, TRUE_WH, VIENNA, Sample, comma, every, hm, table, watts_at

UTC = ZoneInfo("UTC")
TEN = list(every(10))
MINUTE = list(every(60))


def _us(at: datetime) -> str:
    return f"{at.month}/{at.day}/{at:%y} {at:%I:%M:%S} {at:%p}"


def odd_stamps() -> Iterator[Sample]:
    stamps: dict[str, Callable[[datetime], str]] = {
        "offset after a space": lambda at: at.strftime("%Y-%m-%d %H:%M:%S %z"),
        "offset and letters": lambda at: at.strftime("%Y-%m-%d %H:%M:%S %z CEST"),
        "short offset": lambda at: at.astimezone(UTC).strftime("%Y-%m-%d %H:%M:%S+00"),
        "microseconds and offset": lambda at: at.astimezone(UTC).isoformat(timespec="microseconds"),
        "nanoseconds and Z": lambda at: at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.123456789Z"),
        "unix date": lambda at: at.strftime("%a %b %d %H:%M:%S CEST %Y"),
        "mail date": lambda at: at.astimezone(UTC).strftime('"%a, %d %b %Y %H:%M:%S GMT"'),
        "points in the clock": lambda at: at.strftime("%d.%m.%Y %H.%M.%S"),
        "dashes in the clock": lambda at: at.strftime("%Y-%m-%d_%H-%M-%S"),
        "german words": lambda at: at.strftime("%d. Oktober %Y %H:%M:%S Uhr"),
        "month first, short year": _us,
        "am and pm with points": lambda at: at.strftime("%d/%m/%Y %I:%M:%S p. m."),
        "characters for day and month": lambda at: at.strftime("%Y年%m月%d日 %H:%M:%S"),
        "millis behind a colon": lambda at: at.strftime("%Y-%m-%d %H:%M:%S:250"),
        "epoch nanoseconds": lambda at: f"{int(at.timestamp())}000000000",
        "epoch microseconds": lambda at: f"{int(at.timestamp())}000000",
        "year first with points": lambda at: at.strftime("%Y.%m.%d %H:%M:%S"),
        "slash before the clock": lambda at: at.strftime("%Y/%m/%d/%H:%M:%S"),
        "comma between day and clock": lambda at: at.strftime('"%d/%m/%Y, %H:%M:%S"'),
        "clock before the day": lambda at: at.strftime("%H:%M:%S %d.%m.%Y"),
        "spreadsheet's text mark": lambda at: at.strftime('="%Y-%m-%d %H:%M:%S"'),
        "spreadsheet's day number": lambda at: (
            f"{(at.replace(tzinfo=None) - datetime(1899, 12, 30)).total_seconds() / 86400:.8f}"
        ),
        "days of a data frame": lambda at: f"0 days {at - START!s:0>8}",
    }
    for name, stamp in stamps.items():
        rows = [["Time", "Power (W)"], *([stamp(at), f"{w:.1f}"] for at, w, _ in TEN)]
        yield Sample(f"stamp: {name}", table(rows).encode(), TRUE_WH)
    rows = [["Time", "W"], *([at.strftime("%H:%M"), w] for at, w, _ in TEN)]
    yield Sample("six rows with the same minute", table(rows).encode(), TRUE_WH, within=0.03)
    rows = [["Date", "Time", "W"], *([at.strftime("%d.%m.%y"), at.strftime("%H:%M"), comma(w, 1)] for at, w, _ in TEN)]
    yield Sample("six rows with the same day and minute", table(rows, ";").encode(), TRUE_WH, within=0.03)
    rows = [["elapsed", "W"], *([f"{s // 60:02d}:{s % 60:02d}", watts_at(s)] for s in range(0, LASTS_S + 1, 10))]
    yield Sample("elapsed as mm:ss", table(rows).encode(), TRUE_WH)
    long = [*range(0, LASTS_S, 10), *range(LASTS_S, 30 * 3600, 600)]
    rows = [["Elapsed time", "W"], *([f"{s // 3600}:{s % 3600 // 60:02d}:{s % 60:02d}", watts_at(s)] for s in long)]
    yield Sample("elapsed beyond a day", table(rows).encode(), TRUE_WH + (30 * 3600 - 600 - LASTS_S) * 2 / 3600)
    rows = [["Time", "W"], *(["1.76046E+09", w] for _, w, _ in TEN)]
    yield Sample("stamps that lost their digits", table(rows).encode(), refusal="same time")
    rows = [
        ["Time", "kWh"],
        *([at.strftime("%d.%m.%Y %H:%M"), f"{700 + wh / 1000:.4f}"] for at, _, wh in MINUTE),
        ["14.10.2026 24:00", f"{700 + TRUE_WH / 1000:.4f}"],
    ]
    yield Sample("twenty-four o'clock", table(rows, ";").encode(), TRUE_WH)


def clock_changes() -> Iterator[Sample]:
    for name, day in (("spring", datetime(2026, 3, 29, tzinfo=VIENNA)), ("autumn", datetime(2026, 10, 25, tzinfo=VIENNA))):
        first = day.astimezone(UTC)
        count = int((datetime(2026, day.month, day.day + 1, tzinfo=VIENNA).astimezone(UTC) - first).total_seconds() // 900)
        instants = [(first + timedelta(seconds=900 * n)).astimezone(VIENNA) for n in range(count)]
        rows = [["Datum", "Leistung (W)"], *([f"{at:%d.%m.%Y %H:%M}", 1000] for at in instants)]
        yield Sample(f"{name}: watts in local time", table(rows, ";").encode(), count * 250.0, within=0.005)
        rows = [
            ["Von", "Verbrauch kWh"],
            *([f"{at:%d.%m.%Y %H:%M}", comma(0.1 + n * 37 % 91 / 1000)] for n, at in enumerate(instants)),
        ]
        yield Sample(
            f"{name}: quarter-hours in local time",
            table(rows, ";").encode(),
            sum(100 + n * 37 % 91 for n in range(count)),
            within=0.002,
        )
        titles = [hm(900 * n) for n in range(96)]
        rows = [["Date", *titles], [f"{day:%Y-%m-%d}", *(["0.1"] * 96 if count >= 96 else ["0.1"] * 8 + [""] * 4 + ["0.1"] * 84)]]
        yield Sample(f"{name}: days across", table(rows).encode(), 9600.0 if count >= 96 else 9200.0)
