"""More invented files as plugs, suppliers and home histories write them: idle beginnings, heat maps, sessions, other tongues."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from tests.energy.meters.files.cook import START, TRUE_WH, Sample, comma, every, intervals_wh, table

TEN = list(every(10))
MIN = list(every(60))
HOURS = [START.replace(hour=0, minute=0) + timedelta(hours=h) for h in range(48)]


def sample(name: str, text: str | bytes, wh: float, within: float = 0.02) -> Sample:
    return Sample(name, text if isinstance(text, bytes) else text.encode(), wh, within=within)


def _first_plugs() -> Iterator[Sample]:
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


def _second_plugs() -> Iterator[Sample]:
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


def _third_plugs() -> Iterator[Sample]:
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


def _fourth_plugs() -> Iterator[Sample]:
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


def _fifth_plugs() -> Iterator[Sample]:
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


def _sixth_plugs() -> Iterator[Sample]:
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


def plugs() -> Iterator[Sample]:
    yield from _first_plugs()
    yield from _second_plugs()
    yield from _third_plugs()
    yield from _fourth_plugs()
    yield from _fifth_plugs()
    yield from _sixth_plugs()


def sent_out() -> Iterator[Sample]:
    rows = table([["Time", "Power (W)"], *([at.isoformat(), -w] for at, w, _ in TEN)])
    yield Sample("all below zero", rows.encode(), refusal="sent out")


MORE = (*plugs(), *sent_out())
