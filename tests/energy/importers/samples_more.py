"""More invented files as plugs, suppliers and home histories write them: idle beginnings, heat maps, sessions, other tongues."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import timedelta

from tests.energy.importers.cook import START, SUMS_WH, TRUE_WH, Sample, comma, every, intervals_wh, table

TEN = list(every(10))
MIN = list(every(60))
HOURS = [START.replace(hour=0, minute=0) + timedelta(hours=h) for h in range(48)]


def sample(name: str, text: str | bytes, wh: float, within: float = 0.02) -> Sample:
    return Sample(name, text if isinstance(text, bytes) else text.encode(), wh, within=within)


def plugs() -> Iterator[Sample]:
    yield sample(
        "states energy no unit",
        table(
            [
                ["entity_id", "state", "last_changed"],
                *(["sensor.plug_energy", f"{17 + wh / 1000:.3f}", at.isoformat()] for at, _, wh in MIN),
            ]
        ),
        TRUE_WH,
    )
    yield sample(
        "states energy in Wh no unit",
        table(
            [
                ["entity_id", "state", "last_changed"],
                *(["sensor.plug_energy", f"{17000 + wh:.1f}", at.isoformat()] for at, _, wh in MIN),
            ]
        ),
        TRUE_WH,
    )
    yield sample(
        "stats",
        table(
            [
                ["statistic_id", "start", "mean", "min", "max", "sum", "state"],
                *(
                    ["sensor.x_energy", at.isoformat(), "", "", "", f"{wh / 1000:.4f}", f"{300 + wh / 1000:.4f}"]
                    for at, _, wh in MIN
                ),
            ]
        ),
        TRUE_WH,
    )
    yield sample(
        "date only first row",
        table(
            [
                ["Date", "Time", "W"],
                *([at.strftime("%d/%m/%Y") if n == 0 else "", at.strftime("%H:%M:%S"), w] for n, (at, w, _) in enumerate(TEN)),
            ]
        ),
        TRUE_WH,
    )
    yield sample(
        "long idle then cook",
        table(
            [
                ["time", "Power"],
                *([(START - timedelta(seconds=s)).isoformat(), "1.2"] for s in range(50000, 0, -10)),
                *([at.isoformat(), w] for at, w, _ in TEN),
            ]
        ),
        TRUE_WH + 1.2 * 50000 / 3600,
    )
    yield sample(
        "long idle counter no unit",
        table(
            [
                ["time", "Energy"],
                *([(START - timedelta(seconds=s)).isoformat(), "812.345"] for s in range(50000, 0, -10)),
                *([at.isoformat(), f"{812.345 + wh / 1000:.3f}"] for at, w, wh in TEN),
            ]
        ),
        TRUE_WH,
    )
    yield sample(
        "long idle counter kWh",
        table(
            [
                ["time", "Energy (kWh)"],
                *([(START - timedelta(seconds=s)).isoformat(), "812.345"] for s in range(50000, 0, -10)),
                *([at.isoformat(), f"{812.345 + wh / 1000:.3f}"] for at, w, wh in TEN),
            ]
        ),
        TRUE_WH,
    )
    yield sample(
        "daily kwh reset midnight",
        table(
            [
                ["time", "Energy today (kWh)"],
                *(
                    [(START - timedelta(hours=18, minutes=30 + m)).isoformat(), f"{3 - 0.0001 * m:.4f}"]
                    for m in range(600, 0, -1)
                ),
                *([at.isoformat(), f"{wh / 1000:.4f}"] for at, w, wh in MIN),
            ]
        ),
        TRUE_WH + 60,
    )
    yield sample(
        "swedish",
        table(
            [
                ["Från", "Till", "Förbrukning", "Enhet"],
                *(
                    [at.strftime("%Y-%m-%d %H:%M"), (at + timedelta(hours=1)).strftime("%Y-%m-%d %H:%M"), comma(1.25), "kWh"]
                    for at in (START + timedelta(hours=h) for h in range(24))
                ),
            ],
            ";",
        ),
        30000,
    )
    yield sample(
        "danish",
        table(
            [
                ["Målepunkt id", "Fra_dato", "Til_dato", "Mængde", "Måleenhed", "Kvalitet", "Type"],
                *(
                    [
                        "571313174",
                        "{}".format(at.strftime("%d-%m-%Y %H:%M:%S")),
                        (at + timedelta(hours=1)).strftime("%d-%m-%Y %H:%M:%S"),
                        comma(1.25 + h % 3 / 10),
                        "KWH",
                        "Målt",
                        "Tidsserie",
                    ]
                    for h, at in ((h, START + timedelta(hours=h)) for h in range(24))
                ),
            ],
            ";",
        ).encode("utf-8"),
        32400,
    )
    yield sample(
        "index of two tariffs without units",
        table(
            [
                ["DATE", "HEURE", "PAPP", "HCHC", "HCHP", "IINST"],
                *(
                    [at.strftime("%d/%m/%Y"), at.strftime("%H:%M:%S"), int(w * 1.1), 9000000, f"{5000000 + wh:.0f}", 5]
                    for at, w, wh in TEN
                ),
            ],
            ";",
        ),
        TRUE_WH,
    )
    yield sample(
        "heat map hours x days",
        table(
            [
                ["Hour", *((START + timedelta(days=d)).strftime("%d.%m.%Y") for d in range(7))],
                *([f"{h:02d}:00", *("0.5" for d in range(7))] for h in range(24)),
            ],
            ";",
        ),
        84000,
    )
    yield sample(
        "heat map hour numbers",
        table(
            [
                ["Hour", *((START + timedelta(days=d)).strftime("%Y-%m-%d") for d in range(7))],
                *([h + 1, *("0.5" for d in range(7))] for h in range(24)),
            ],
            ";",
        ),
        84000,
    )
    yield sample(
        "kva beside kwh rows wide",
        table(
            [
                ["NMI", "Unit", "Date", *(f"{h:02d}:00" for h in range(24))],
                *(
                    [1, u, (START + timedelta(days=d)).strftime("%Y-%m-%d"), *("0.5" for _ in range(24))]
                    for d in range(3)
                    for u in ("kWh", "kVArh")
                ),
            ]
        ),
        36000,
    )
    yield sample(
        "12 hour no seconds one min",
        table(
            [
                ["Date", "Time", "Watts"],
                *([f"{at.month}/{at.day}/{at.year}", at.strftime("%I:%M %p"), f"{1000}"] for at, w, _ in MIN),
            ]
        ),
        1250,
    )
    yield sample(
        "newest first intervals",
        table(
            [
                ["Start", "kWh"],
                *reversed(
                    [
                        [at.strftime("%Y-%m-%d %H:%M"), f"{wh / 1000:.4f}"]
                        for at, wh in zip(HOURS, intervals_wh(3600), strict=False)
                    ]
                ),
            ]
        ),
        TRUE_WH,
    )
    yield sample(
        "newest day first",
        table(
            [
                ["Start", "kWh"],
                *[
                    [at.strftime("%d/%m/%Y %H:%M"), f"{wh / 1000:.4f}"]
                    for d in (1, 0)
                    for at, wh in list(zip(HOURS, intervals_wh(3600), strict=False))[d * 24 : d * 24 + 24]
                ],
            ]
        ),
        TRUE_WH,
    )


def suppliers() -> Iterator[Sample]:
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


def sent_out() -> Iterator[Sample]:
    rows = table([["Time", "Power (W)"], *([at.isoformat(), -w] for at, w, _ in TEN)])
    yield Sample("all below zero", rows.encode(), refusal="sent out")


MORE = (*plugs(), *suppliers(), *sent_out())
