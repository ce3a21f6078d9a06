"""Quantities as the scripts read them: what a phone or a grid understands is what the server would have understood."""

from __future__ import annotations

import pytest

from kitchen.domain.typed_quantity import Expected, NotUnderstood, read_quantity

READ = """async (asked) => {
    const { readNumber } = await import("/static/js/typed.js");
    return asked.map(([text, unit]) => readNumber(text, unit).value ?? null);
}"""
ENDS = {"Wh": (0, 1e6), "W": (0, 1e5), "%": (0, 100), "°C": (-40, 55), "m": (-430, 5500)}
ASKED = {
    "Wh": ["1.02 kWh", "1020", "12 V x 64 Ah", "12V×64Ah", "64 Ah * 12.8 V", "12 V 64 Ah", "3.7 V x 5000 mAh", "2 x 500 Wh"],
    "W": ["1.2 kW", "2 x 100 W", "0,8 kW", "230 V x 3 A", "100 W × 2"],
    "%": ["66 %", "12.5"],
    "°C": ["20", "-5 °C", "68 °F", "68f", "-4 °F", "293.15 kelvin"],
    "m": ["1981", "900 ft", "900 feet", "1.5 km", "2 mi", "100 yd", "−3 m"],
}
REFUSED = {
    "Wh": ["12 V x 64", "many", "3 kg", "12 V x 64 V", "2 x 3", "64 Ah", "1,234"],
    "W": ["12 V x 64 Ah", "x 100 W"],
    "°C": ["68 W", "2 x 20 °C", "warm"],
    "m": ["12 °F", "2 x 3 kg"],
}


def server_reads(text: str, unit: str) -> float | None:
    try:
        return float(read_quantity(text, Expected(unit, *ENDS[unit])).kept)
    except NotUnderstood:
        return None


@pytest.mark.parametrize("table", [ASKED, REFUSED], ids=["understood", "refused"])
def test_the_script_reads_a_quantity_as_the_server_does(page, table):
    page.goto("/healthz")
    asked = [[text, unit] for unit, texts in table.items() for text in texts]
    wanted = [server_reads(text, unit) for text, unit in asked]
    assert (None in wanted) == (table is REFUSED)
    found = page.evaluate(READ, asked)
    assert found == [None if one is None else pytest.approx(one, rel=1e-5) for one in wanted]
