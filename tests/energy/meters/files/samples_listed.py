"""Invented files with a row a sensor's state, in JSON, and such as hold no energy at all."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import timedelta
from zoneinfo import ZoneInfo

from tests.energy.meters.files.cook import LASTS_S, START, TRUE_WH, Sample, changes, every, table


def states() -> Iterator[Sample]:
    power = [["sensor.camp_plug_power", f"{w:.1f}", at.astimezone(ZoneInfo("UTC")).isoformat()] for at, w, _ in changes()]
    yield Sample("states", table([["entity_id", "state", "last_changed"], *power]).encode(), TRUE_WH)
    broken = [*power]
    broken.insert(1, ["sensor.camp_plug_power", "unknown", START.astimezone(ZoneInfo("UTC")).isoformat()])
    broken.append(
        [
            "sensor.camp_plug_power",
            "unavailable",
            (START + timedelta(seconds=LASTS_S + 60)).astimezone(ZoneInfo("UTC")).isoformat(),
        ]
    )
    yield Sample("states with unavailable ones", table([["entity_id", "state", "last_changed"], *broken]).encode(), TRUE_WH)
    energy = [
        ["sensor.camp_plug_energy", f"{17 + wh / 1000:.3f}", at.astimezone(ZoneInfo("UTC")).isoformat()]
        for at, _, wh in every(60)
    ]
    yield Sample("states of power and energy", table([["entity_id", "state", "last_changed"], *power, *energy]).encode(), TRUE_WH)
    volts = [["sensor.camp_plug_voltage", "230.1", at.astimezone(ZoneInfo("UTC")).isoformat()] for at, _, _ in every(300)]
    yield Sample("states of power and voltage", table([["entity_id", "state", "last_changed"], *volts, *power]).encode(), TRUE_WH)
    tiny = [
        ["sensor.clock_power", "1.0", (START + timedelta(seconds=s)).astimezone(ZoneInfo("UTC")).isoformat()]
        for s in (0, LASTS_S)
    ]
    yield Sample(
        "states of the cooker and a clock", table([["entity_id", "state", "last_changed"], *power, *tiny]).encode(), TRUE_WH
    )
    other = [
        ["sensor.heater_power", "900", (START + timedelta(seconds=s)).astimezone(ZoneInfo("UTC")).isoformat()]
        for s in (0, LASTS_S)
    ]
    yield Sample(
        "states of two large devices",
        table([["entity_id", "state", "last_changed"], *power, *other]).encode(),
        refusal="several devices",
    )
    rows = [
        ["time", "device", "unit", "value"],
        *([at.isoformat(), "plug 3", "W", w] for at, w, _ in every(10)),
        *([at.isoformat(), "plug 3", "V", 230] for at, _, _ in every(10)),
    ]
    yield Sample("values with units beside them", table(rows).encode(), TRUE_WH)
    rows = [
        ["time", "name", "value"],
        *([at.isoformat(), "Power (W)", w] for at, w, _ in every(10)),
        *([at.isoformat(), "Voltage (V)", 230] for at, _, _ in every(10)),
    ]
    yield Sample("values by name", table(rows).encode(), TRUE_WH)


def jsons() -> Iterator[Sample]:
    rows = [{"time": at.isoformat(), "power_w": w} for at, w, _ in every(10)]
    yield Sample("json list", json.dumps(rows).encode(), TRUE_WH)
    yield Sample("json lines", "\n".join(json.dumps(row) for row in rows).encode(), TRUE_WH)
    yield Sample("json inside an object", json.dumps({"device": {"name": "plug"}, "data": rows}, indent=2).encode(), TRUE_WH)
    pairs = [[int(at.timestamp() * 1000), w] for at, w, _ in every(10)]
    yield Sample("json pairs", json.dumps({"values": pairs}).encode(), TRUE_WH)
    states = [[{"entity_id": "sensor.plug_power", "state": f"{w}", "last_changed": at.isoformat()} for at, w, _ in changes()]]
    yield Sample("json states in a list of lists", json.dumps(states).encode(), TRUE_WH)


def refused() -> Iterator[Sample]:
    ten = list(every(10))
    yield Sample(
        "apparent power alone", table([["Time", "VA"], *([at.isoformat(), w] for at, w, _ in ten)]).encode(), refusal="VA"
    )
    yield Sample(
        "volts and amps alone",
        table([["Time", "Voltage (V)", "Current (A)"], *([at.isoformat(), 230, w / 230] for at, w, _ in ten)]).encode(),
        refusal="volts or amps",
    )
    yield Sample(
        "temperatures",
        table([["Time", "Temperature (°C)"], *([at.isoformat(), 20] for at, _, _ in ten)]).encode(),
        refusal="No column holds",
    )
    yield Sample("no times", table([["Power (W)", "Voltage (V)"], *([w, 230] for _, w, _ in ten)]).encode(), refusal="time")
    yield Sample("a spreadsheet", b"PK\x03\x04" + bytes(200), refusal="spreadsheet")
    yield Sample("a picture", b"\x89PNG" + bytes(range(256)), refusal="picture")
    yield Sample("nothing", b"", refusal="empty")
    yield Sample("prose", b"Dear cook,\nthis is a letter.\nYours\n", refusal="time")
    yield Sample("a binary file", bytes(range(256)) * 4, refusal="not a text file")
