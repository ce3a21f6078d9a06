"""However a log is laid out it is read to within 2 %, or refused, or what is open about it is told: never silently wrong."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from energy.meters.files.any_log import read_log
from energy.meters.files.columns.shape import UnreadableFile
from tests.energy.meters.files.cook import START, TRUE_WH, every

STAMPS = (
    "%Y-%m-%d %H:%M:%S",
    "%d.%m.%Y %H:%M:%S",
    "%Y-%m-%dT%H:%M:%S+02:00",
    "%d-%b-%Y %H:%M:%S",
    "%m/%d/%Y %I:%M:%S %p",
    "%Y%m%d%H%M%S",
    "%H:%M:%S",
    "%d.%m. %H:%M:%S",
)
NOISE = ("", "# exported", "our plug;in the hut", "Total;657", "unavailable", ";;;", "Page 2")
FIGURES = {
    "Power (W)": lambda watts, wh: f"{watts:.1f}",
    "Leistung [kW]": lambda watts, wh: f"{watts / 1000:.4f}",
    "energy_total_kWh": lambda watts, wh: f"{70 + wh / 1000:.4f}",
    "power": lambda watts, wh: f"{watts:.1f}",
    "Wh total": lambda watts, wh: f"{wh:.2f}",
}
BESIDE = {"Voltage (V)": "231", "relay": "on", "Temperature °C": "21.5", "remark": "", "Export (W)": "0"}


@st.composite
def files(draw):
    """Return the text of a log of the one cook, with how it was laid out."""
    stamp, figure = draw(st.sampled_from(STAMPS)), draw(st.sampled_from(list(FIGURES)))
    beside = draw(st.lists(st.sampled_from(list(BESIDE)), unique=True, max_size=3))
    sign, step_s = draw(st.sampled_from(",;\t|")), draw(st.sampled_from([5, 10, 20]))
    decimal = "." if sign == "," else draw(st.sampled_from(".,"))
    order = draw(st.permutations(["time", figure, *beside]))
    rows = [order]
    for at, watts, wh in every(step_s):
        value = FIGURES[figure](watts, wh).replace(".", decimal)
        cells = {**BESIDE, "time": f"{at:{stamp}}", figure: value}
        rows.append([cells[name].replace("21.5", "21") for name in order])
    lines = [sign.join(row) for row in rows]
    for place in draw(st.lists(st.integers(0, len(lines)), max_size=3)):
        lines.insert(place, draw(st.sampled_from(NOISE)))
    if draw(st.booleans()) and stamp != "%H:%M:%S":
        top = lines.index(sign.join(order))
        lines = [*lines[: top + 1], *reversed(lines[top + 1 :])]
    return "\n".join(lines) + draw(st.sampled_from(["", "\n", "\r\n"]))


@given(files())
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
def test_a_log_is_read_rightly_or_not_at_all(text):
    try:
        log = read_log(text.encode())
    except UnreadableFile:
        return
    assert log.doubts or log.total_wh == pytest.approx(TRUE_WH, rel=0.02), log.notes


@given(st.integers(60, 3000), st.integers(5, 60), st.booleans())
@settings(max_examples=40, deadline=None)
def test_whatever_is_missing_is_told(gap_s, place, held):
    rows = [(START + timedelta(seconds=7 * n + (gap_s if n > place else 0)), 900 + n % 11) for n in range(120)]
    text = "time,power (W)\n" + "".join(f"{at.isoformat()},{w}\n" for at, w in rows)
    log = read_log(text.encode())
    assert bool(log.came.holes) == (gap_s + 7 > 60)
