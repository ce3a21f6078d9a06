"""More invented files of suppliers and of sessions, newest first and in other tongues."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import timedelta

from tests.energy.meters.files.cook import START, SUMS_WH, TRUE_WH, Sample, comma, every, intervals_wh, table
from tests.energy.meters.files.samples_more import sample

TEN = list(every(10))
MIN = list(every(60))
HOURS = [START.replace(hour=0, minute=0) + timedelta(hours=h) for h in range(48)]


def _first_suppliers() -> Iterator[Sample]:
    yield sample(
        "grid neg rows",
        table(
            [
                ["Start", "Net kWh"],
                *([(START + timedelta(hours=h)).strftime("%Y-%m-%d %H:%M"), "-0.3" if h % 2 else "0.5"] for h in range(24)),
            ]
        ),
        6000,
    )
    yield sample(
        "energy of each minute beside the total",
        table(
            [
                ["Time", "Wh", "Total Wh"],
                *([at.isoformat(), f"{wh - SUMS_WH[max(0, n * 60 - 60)]:.2f}", f"{wh:.2f}"] for n, (at, _, wh) in enumerate(MIN)),
            ]
        ),
        TRUE_WH,
    )
    yield sample(
        "semicolons with decimal points",
        table(
            [["Time", "Power[W]", "E[kWh]"], *([at.strftime("%d.%m.%Y %H:%M:%S"), w, f"{wh / 1000:.4f}"] for at, w, wh in TEN)],
            ";",
        ),
        TRUE_WH,
    )
    yield sample(
        "counter in comma decimals 3 places",
        table([["Zeit", "Zähler"], *([at.strftime("%d.%m.%Y %H:%M:%S"), comma(8 + wh / 1000)] for at, w, wh in TEN)], ";"),
        TRUE_WH,
    )
    yield sample(
        "power 3 decimals dot in ;",
        table([["Time", "kW"], *([at.strftime("%Y-%m-%d %H:%M:%S"), f"{w / 1000:.3f}"] for at, w, wh in TEN)], ";"),
        TRUE_WH,
    )


def _second_suppliers() -> Iterator[Sample]:
    yield sample(
        "power kW 3 decimals comma",
        table([["Zeit", "Leistung kW"], *([at.strftime("%d.%m.%Y %H:%M:%S"), comma(w / 1000)] for at, w, wh in TEN)], ";"),
        TRUE_WH,
    )
    yield sample(
        "tabs + comma quotes",
        table([["Time", "kW"], *([at.strftime("%Y-%m-%d %H:%M:%S"), f'"{comma(w / 1000)}"'] for at, w, wh in TEN)], ","),
        TRUE_WH,
    )
    yield sample(
        "milliwatts by their name",
        table([["Time", "Power_mW"], *([at.isoformat(), int(w * 1000)] for at, w, wh in TEN)], ","),
        TRUE_WH,
    )
    yield sample(
        "power dup names", table([["Time", "Power", "Power"], *([at.isoformat(), w, w] for at, w, wh in TEN)], ","), TRUE_WH
    )
    yield sample(
        "average, least and most beside energy",
        table(
            [
                ["Timestamp", "Active Power Avg (W)", "Active Power Min (W)", "Active Power Max (W)", "Active Energy (Wh)"],
                *([at.isoformat(), w, w, w, f"{wh:.1f}"] for at, w, wh in TEN),
            ],
            ",",
        ),
        TRUE_WH,
    )
    yield sample(
        "epoch with fractions, p", table([["ts", "p"], *([f"{at.timestamp():.3f}", w] for at, w, wh in TEN)], ";"), TRUE_WH
    )
    yield sample(
        "elapsed time hh:mm:ss.s",
        table(
            [
                ["Time", "Power(W)"],
                *([f"{n * 10 // 3600:02d}:{n * 10 // 60 % 60:02d}:{n * 10 % 60:02d}.0", w] for n, (at, w, wh) in enumerate(TEN)),
            ]
        ),
        TRUE_WH,
    )


def _third_suppliers() -> Iterator[Sample]:
    yield sample(
        "start only + duration",
        table(
            [
                ["Start", "Duration (min)", "kWh"],
                *(
                    [at.strftime("%Y-%m-%d %H:%M"), 60, f"{wh / 1000:.4f}"]
                    for at, wh in zip(HOURS, intervals_wh(3600), strict=False)
                ),
            ]
        ),
        TRUE_WH,
    )
    yield sample(
        "sessions",
        table(
            [
                ["Start", "End", "Energy (kWh)"],
                ["2026-10-01 10:00", "2026-10-01 11:10", "0.612"],
                ["2026-10-03 18:02", "2026-10-03 18:40", "0.31"],
                ["2026-10-09 12:00", "2026-10-09 14:00", "1.2"],
            ]
        ),
        2122,
    )
    yield sample(
        "json: means by sensor",
        json.dumps(
            {
                "sensor.plug_power": [
                    {"start": int(at.timestamp() * 1000), "end": int(at.timestamp() * 1000) + 60000, "mean": w}
                    for at, w, _ in TEN
                ]
            }
        ),
        TRUE_WH,
        0.03,
    )


def _fourth_suppliers() -> Iterator[Sample]:
    yield sample(
        "json two series",
        json.dumps(
            [
                {"target": "power", "datapoints": [[w, int(at.timestamp() * 1000)] for at, w, _ in TEN]},
                {"target": "voltage", "datapoints": [[230, int(at.timestamp() * 1000)] for at, w, _ in TEN]},
            ]
        ),
        TRUE_WH,
    )
    yield sample(
        "json: messages with a payload",
        "\n".join(
            json.dumps(
                {
                    "ts": at.timestamp(),
                    "topic": "plug/status",
                    "payload": {
                        "apower": w,
                        "voltage": 230.1,
                        "current": w / 230,
                        "aenergy": {"total": round(5000 + wh, 3), "by_minute": [1, 2, 3], "minute_ts": int(at.timestamp())},
                    },
                }
            )
            for at, w, wh in TEN
        ),
        TRUE_WH,
    )


def suppliers() -> Iterator[Sample]:
    yield from _first_suppliers()
    yield from _second_suppliers()
    yield from _third_suppliers()
    yield from _fourth_suppliers()


SUPPLIED = (*suppliers(),)
