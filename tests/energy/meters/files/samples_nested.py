"""Invented files in nested JSON and from databases, and such as are no text of readings."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from tests.energy.meters.files.cook import START, SUMS_WH, TRUE_WH, Sample, changes, every, table, watts_at

UTC = ZoneInfo("UTC")
TEN = list(every(10))
MINUTE = list(every(60))


def _first_nested() -> Iterator[Sample]:
    told = [
        {
            "Time": at.strftime("%Y-%m-%dT%H:%M:%S"),
            "ENERGY": {
                "TotalStartTime": "2026-01-01T00:00:00",
                "Total": round(55 + wh / 1000, 3),
                "Yesterday": 1.2,
                "Today": round(wh / 1000, 3),
                "Power": round(w),
                "ApparentPower": round(w) + 5,
                "ReactivePower": 9,
                "Factor": 0.99,
                "Voltage": 230,
                "Current": round(w / 230, 2),
            },
        }
        for at, w, wh in TEN
    ]
    yield Sample("json: a meter's report a line", "\n".join(map(json.dumps, told)).encode(), TRUE_WH)
    deep = "\n".join(json.dumps({"StatusSNS": one}) for one in told)
    yield Sample("json: reports two levels down", deep.encode(), TRUE_WH)
    lines = "\n".join(f"{at:%H:%M:%S} rcvd plug/sensor = {json.dumps(one)}" for (at, _, _), one in zip(TEN, told, strict=True))
    yield Sample("json behind words on every line", lines.encode(), TRUE_WH)
    yield Sample(
        "json: columns",
        json.dumps({"time": [int(at.timestamp()) for at, _, _ in TEN], "power_w": [w for _, w, _ in TEN]}).encode(),
        TRUE_WH,
    )
    yield Sample("json: an object by instants", json.dumps({at.isoformat(): w for at, w, _ in TEN}).encode(), TRUE_WH)
    result = {
        "status": "success",
        "data": {
            "resultType": "matrix",
            "result": [
                {
                    "metric": {"__name__": "plug_power_watts", "plug": "cooker"},
                    "values": [[at.timestamp(), str(w)] for at, w, _ in TEN],
                }
            ],
        },
    }
    yield Sample("json: values inside results", json.dumps(result).encode(), TRUE_WH)


def _second_nested() -> Iterator[Sample]:
    history = [
        [
            {
                "entity_id": "sensor.plug_power",
                "state": str(w),
                "attributes": {"unit_of_measurement": "W", "friendly_name": "Plug power"},
                "last_changed": at.astimezone(UTC).isoformat(),
            }
            for at, w, _ in changes()
        ]
    ]
    yield Sample("json: states with attributes", json.dumps(history).encode(), TRUE_WH)
    short = [[history[0][0], *({"state": one["state"], "last_changed": one["last_changed"]} for one in history[0][1:])]]
    yield Sample("json: states, later ones shortened", json.dumps(short).encode(), TRUE_WH)
    yield Sample(
        "json: pretty",
        json.dumps([{"timestamp": int(at.timestamp() * 1000), "value": w} for at, w, _ in TEN], indent=4).encode(),
        TRUE_WH,
    )
    cut = json.dumps([{"time": at.isoformat(), "power_w": w} for at, w, _ in TEN])[:-300]
    yield Sample("json that breaks off", cut.encode(), refusal="breaks off")
    xml = "<?xml version='1.0'?><feed><entry/></feed>"
    yield Sample("a marked-up file", xml.encode(), refusal="XML")
    yield Sample("a web page", b"<!DOCTYPE html><html><body><table></table></body></html>", refusal="web page")


def nested() -> Iterator[Sample]:
    yield from _first_nested()
    yield from _second_nested()


def _first_databases() -> Iterator[Sample]:
    head = (
        "#group,false,false,true,true,false,false,true,true,true\n#datatype,string,long,dateTime:RFC3339,dateTime:RFC3339,"
        "dateTime:RFC3339,double,string,string,string\n#default,_result,,,,,,,,\n"
    )
    utc = [(at.astimezone(UTC), w, wh) for at, w, wh in TEN]
    stop = utc[-1][0]
    names = ["", "result", "table", "_start", "_stop", "_time", "_value", "_field", "_measurement", "device"]
    rows = [
        names,
        *(["", "", 0, utc[0][0].isoformat(), stop.isoformat(), at.isoformat(), w, "power", "plug", "cooker"] for at, w, _ in utc),
    ]
    more = [
        names,
        *(
            ["", "", 1, utc[0][0].isoformat(), stop.isoformat(), at.isoformat(), 230, "voltage", "plug", "cooker"]
            for at, _, _ in utc
        ),
    ]
    yield Sample(
        "a database's tables below each other",
        (head + table(rows, end="\r\n") + "\r\n" + head + table(more, end="\r\n")).encode(),
        TRUE_WH,
    )
    rows = [["Series", "Time", "Value"], *(["plug.power", at.isoformat(), w] for at, w, _ in TEN)]
    yield Sample("series, time, value", table(rows, ";").encode(), TRUE_WH)
    rows = [
        ["start", "mean", "min", "max"],
        *(
            [at.isoformat(), sum(watts_at(s) for s in range(n * 300, n * 300 + 300)) / 300, 2, 1180]
            for n, at in enumerate(START + timedelta(minutes=5 * m) for m in range(15))
        ),
    ]
    yield Sample(
        "means of five minutes",
        table([*rows, [(START + timedelta(minutes=75)).isoformat(), 2, 2, 2]]).encode(),
        TRUE_WH,
        within=0.05,
    )


def _second_databases() -> Iterator[Sample]:
    rows = [
        ["id", "created_at", "sensor_id", "metric", "value"],
        *(
            [n, at.strftime("%Y-%m-%d %H:%M:%S"), 7, metric, value]
            for n, (at, w, wh) in enumerate(TEN)
            for metric, value in (("power_w", w), ("energy_wh", round(wh + 800, 2)), ("voltage", 230))
        ),
    ]
    yield Sample("one metric a row", table(rows).encode(), TRUE_WH)
    rows = [["last_changed", "state"], *([at.astimezone(UTC).isoformat(), state] for at, state in _states())]
    yield Sample("states of one sensor with silence", table(rows).encode(), TRUE_WH - 1180 * 120 / 3600)
    rows = [
        ["timestamp", "entity", "state", "unit_of_measurement"],
        *([at.isoformat(), "sensor.plug_power", w, "W"] for at, w, _ in changes()),
        *([at.isoformat(), "sensor.plug_temperature", 31, "°C"] for at, _, _ in MINUTE),
    ]
    yield Sample("states with their units", table(rows).encode(), TRUE_WH)
    rows = [
        ["No.", "Date", "Time", "Volt", "Ampere", "Watt", "kWh"],
        *(
            [n, f"{at:%Y/%m/%d}", f"{at:%H:%M:%S}", 230, f"{w / 230:.3f}", w, f"{wh / 1000:.3f}"]
            for n, (at, w, wh) in enumerate(TEN, 1)
        ),
    ]
    yield Sample("numbered rows", table(rows, "\t").encode(), TRUE_WH)
    rows = [["Record", "Elapsed", "Watts", "Wh"], *([n, n * 10, w, f"{wh:.1f}"] for n, (_, w, wh) in enumerate(TEN))]
    yield Sample("a record number beside elapsed seconds", table(rows).encode(), TRUE_WH)
    rows = [
        ["ts", "mWmin"],
        *([int(at.timestamp()), round((wh - SUMS_WH[max(n * 60 - 60, 0)]) * 60000)] for n, (at, _, wh) in enumerate(MINUTE)),
    ]
    yield Sample("milliwatt-minutes", table(rows).encode(), TRUE_WH)
    rows = [["Timestamp", "Power (W)", "Energy (Wmin)"], *([int(at.timestamp()), w, int((wh + 900) * 60)] for at, w, wh in TEN)]
    yield Sample("watt-minutes beside watts", table(rows).encode(), TRUE_WH)


def databases() -> Iterator[Sample]:
    yield from _first_databases()
    yield from _second_databases()


def _states() -> Iterator[tuple[datetime, object]]:
    for at, watts, _ in changes():
        yield at, watts
        if at == START:
            yield START + timedelta(seconds=300), "unavailable"
            yield START + timedelta(seconds=420), 1180.0
