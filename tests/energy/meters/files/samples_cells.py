"""Invented files whose cells are written in odd ways, and whose figures stand in parts."""

from __future__ import annotations

from collections.abc import Iterator

from tests.energy.meters.files.cook import LASTS_S, SUMS_WH, TRUE_WH, Sample, comma, every, table

TEN = list(every(10))
MINUTE = list(every(60))


def _first_cells() -> Iterator[Sample]:
    def scaled(w: float) -> str:
        return f"{w / 1000:.4g} kW" if w >= 1000 else f"{w:.3g} W"

    rows = [["Time", "plug power"], *([at.strftime("%Y-%m-%d %H:%M:%S"), scaled(w)] for at, w, _ in TEN)]
    yield Sample("units that change from cell to cell", table(rows).encode(), TRUE_WH)
    rows = [
        ["Time", "plug energy"],
        *([at.isoformat(), f"{wh / 1000:.4f} kWh" if wh > 400 else f"{wh:.1f} Wh"] for at, _, wh in MINUTE),
    ]
    yield Sample("counter's units that change", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Power"], *([at.strftime("%d.%m.%Y %H:%M:%S"), f"{comma(w, 1)} W"] for at, w, _ in TEN)]
    yield Sample("decimal comma and unit in cells", table(rows, ";").encode(), TRUE_WH)
    rows = [["Time", "Power W"], *([at.isoformat(), f'="{w:.1f}"'] for at, w, _ in TEN)]
    yield Sample("spreadsheet's text mark on numbers", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Power W"], *([f'"{at.isoformat()}"', f'"{w:.1f}"'] for at, w, _ in TEN)]
    yield Sample("everything in quotes", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Power W"], *([at.isoformat(), f"  {w:.1f} "] for at, w, _ in TEN)]
    yield Sample("padded cells", table(rows, " ; ").encode(), TRUE_WH)
    rows = [["Time", "Power W", ""], *([at.isoformat(), w, ""] for at, w, _ in TEN)]
    yield Sample("a separator at every end", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Power W"], *([at.isoformat(), w, "ok", ""] for at, w, _ in TEN)]
    yield Sample("rows longer than the names", table(rows).encode(), TRUE_WH)
    text = "\n".join(f"{at:%Y-%m-%d %H:%M:%S}   {w:8.1f}   230.1" for at, w, _ in TEN)
    yield Sample("columns set by spaces", ("Date       Time       Power_W   Volt\n" + text + "\n").encode(), TRUE_WH)
    text = "\n".join(f"| {at:%Y-%m-%d %H:%M:%S} | {w:.1f} |" for at, w, _ in TEN)
    yield Sample("a table drawn with strokes", ("| time | power_w |\n|---|---|\n" + text + "\n").encode(), TRUE_WH)
    text = "\n".join(f" {at:%Y-%m-%d %H:%M:%S+02} | {w:.1f}" for at, w, _ in TEN)
    yield Sample(
        "a database's answer",
        ("          time          | power_w \n-------+------\n" + text + "\n(451 rows)\n").encode(),
        TRUE_WH,
    )
    rows = [["Time", "Power W"], *([at.isoformat(), w] for at, w, _ in TEN)]
    rows[200:200] = [["Time", "Power W"]]
    yield Sample("names repeated in the middle", table(rows).encode(), TRUE_WH)
    rows = [
        ["Plug", "", "Mains", ""],
        ["Time", "Power", "Voltage", "Current"],
        ["", "[W]", "[V]", "[mA]"],
        *([at.isoformat(), w, 230, int(w / 0.23)] for at, w, _ in TEN),
    ]
    yield Sample("three rows of names", table(rows, "\t").encode(), TRUE_WH)


def _second_cells() -> Iterator[Sample]:
    body = table([["Zeit", "Wert"], *([at.strftime("%d.%m.%Y %H:%M:%S"), comma(w / 1000, 4)] for at, w, _ in TEN)], ";")
    yield Sample("unit in the lines above", ("Messreihe;Wirkleistung\nEinheit;kW\n\n" + body).encode("cp1252"), TRUE_WH)
    rows = [["Time", "Power W"], *([at.isoformat(), f"{w * 1000:,.0f}".replace(",", "'")] for at, w, _ in TEN)]
    yield Sample("thousands with apostrophes", table(rows, ";").encode(), 1000 * TRUE_WH)
    rows = [["Time", "Power W"], *([at.isoformat(), f"{w * 1000:,.0f}".replace(",", "\u202f")] for at, w, _ in TEN)]
    yield Sample("thousands with thin spaces", table(rows, ";").encode(), 1000 * TRUE_WH)
    rows = [["Time", "Power W"], *([at.isoformat(), f"{w:.2E}"] for at, w, _ in TEN)]
    yield Sample("numbers with exponents", table(rows).encode(), TRUE_WH)
    rows = [
        ["Time", "Power (W)", "Status"],
        *([at.isoformat(), w if n % 9 else "ERR", "on"] for n, (at, w, _) in enumerate(every(1))),
    ]
    yield Sample("errors in cells", table(rows).encode(), TRUE_WH)


def cells() -> Iterator[Sample]:
    yield from _first_cells()
    yield from _second_cells()


def _first_parts() -> Iterator[Sample]:
    rows = [["Time", "L1 (W)", "L2 (W)", "L3 (W)"], *([at.isoformat(), w * 0.5, w * 0.3, w * 0.2] for at, w, _ in TEN)]
    yield Sample("three phases without a sum", table(rows).encode(), TRUE_WH)
    rows = [
        ["Zeit", "Phase A Leistung", "Phase B Leistung", "Phase C Leistung"],
        *([at.strftime("%d.%m.%Y %H:%M:%S"), comma(w, 1), 0, 0] for at, w, _ in TEN),
    ]
    yield Sample("three phases, one used", table(rows, ";").encode(), TRUE_WH)
    half = LASTS_S // 4
    low = [min(wh, SUMS_WH[half]) for _, _, wh in MINUTE]
    rows = [
        ["time", "Import T1 kWh", "Import T2 kWh", "Export T1 kWh", "Export T2 kWh", "L1 max W", "L2 max W"],
        *(
            [
                at.strftime("%Y-%m-%d %H:%M"),
                f"{1234 + one / 1000:.3f}",
                f"{987 + (wh - one) / 1000:.3f}",
                "11.000",
                "12.000",
                2300,
                0,
            ]
            for (at, _, wh), one in zip(MINUTE, low, strict=True)
        ),
    ]
    yield Sample("two tariffs of a counter", table(rows).encode(), TRUE_WH)
    rows = [
        ["Date", "Index heures creuses (Wh)", "Index heures pleines (Wh)"],
        *(
            [at.strftime("%d/%m/%Y %H:%M:%S"), f"{5e6 + one:.0f}", f"{9e6 + wh - one:.0f}"]
            for (at, _, wh), one in zip(MINUTE, low, strict=True)
        ),
    ]
    yield Sample("two tariffs in French", table(rows, ";").encode(), TRUE_WH)
    rows = [
        ["time", "ac_input_w", "ac_output_w", "dc_output_w", "total_output_w", "soc_pct"],
        *([at.isoformat(), 0, w, 3, w + 3, 90 - int(wh / 10.24)] for at, w, wh in TEN),
    ]
    yield Sample("a power station's inputs and outputs", table(rows).encode(), TRUE_WH + 3 * LASTS_S / 3600)


def _second_parts() -> Iterator[Sample]:
    rows = [
        ["time", "input_power_w", "output_power_w", "battery_pct"],
        *([at.isoformat(), 60, w, 90 - int(wh / 10.24)] for at, w, wh in TEN),
    ]
    yield Sample("input beside output", table(rows).encode(), TRUE_WH)
    rows = [
        ["Time", "Today kWh", "Yesterday kWh", "Total kWh", "Power W"],
        *([at.isoformat(), f"{wh / 1000:.3f}", "2.310", f"{812 + wh / 1000:.3f}", w] for at, w, wh in TEN),
    ]
    yield Sample("today, yesterday and total", table(rows).encode(), TRUE_WH)
    rows = [
        ["time", "active_power", "reactive_power", "apparent_power", "power_factor"],
        *([at.isoformat(), w, w / 5, w * 1.02, 0.98] for at, w, _ in TEN),
    ]
    yield Sample("active, reactive, apparent without units", table(rows).encode(), TRUE_WH)
    rows = [["time", "P", "Q", "S", "U", "I"], *([at.isoformat(), w, w / 5, w * 1.02, 230, f"{w / 230:.3f}"] for at, w, _ in TEN)]
    yield Sample("the letters of the trade", table(rows).encode(), TRUE_WH)
    rows = [["time", "power", "power_setpoint", "setting"], *([at.isoformat(), w, 1200, 9] for at, w, _ in TEN)]
    yield Sample("a setpoint beside the power", table(rows).encode(), TRUE_WH)
    rows = [["time", "plug_1_power", "plug_2_power"], *([at.isoformat(), w, 500] for at, w, _ in TEN)]
    yield Sample("two plugs side by side", table(rows).encode(), refusal="Several columns")


def parts() -> Iterator[Sample]:
    yield from _first_parts()
    yield from _second_parts()
