"""Invented files with the oddities that exports really have: odd stamps, mixed units, sums in parts, periods, nested JSON."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from tests.energy.importers.cook import LASTS_S, START, SUMS_WH, TRUE_WH, VIENNA, Sample, changes, comma, every, table, watts_at

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
        "mail date": lambda at: at.astimezone(UTC).strftime("%a, %d %b %Y %H:%M:%S GMT"),
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
        "spreadsheet's day number": lambda at: f"{(at.replace(tzinfo=None) - datetime(1899, 12, 30)).total_seconds() / 86400:.8f}",
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
    rows = [["Time", "kWh"], *([at.strftime("%d.%m.%Y %H:%M"), f"{700 + wh / 1000:.4f}"] for at, _, wh in MINUTE), ["14.10.2026 24:00", f"{700 + TRUE_WH / 1000:.4f}"]]
    yield Sample("twenty-four o'clock", table(rows, ";").encode(), TRUE_WH)


def cells() -> Iterator[Sample]:
    def scaled(w: float) -> str:
        return f"{w / 1000:.4g} kW" if w >= 1000 else f"{w:.3g} W"

    rows = [["Time", "plug power"], *([at.strftime("%Y-%m-%d %H:%M:%S"), scaled(w)] for at, w, _ in TEN)]
    yield Sample("units that change from cell to cell", table(rows).encode(), TRUE_WH)
    rows = [["Time", "plug"], *([at.isoformat(), f"{wh / 1000:.4f} kWh" if wh > 400 else f"{wh:.1f} Wh"] for at, _, wh in MINUTE)]
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
    yield Sample("a database's answer", ("          time          | power_w \n-------+------\n" + text + "\n(451 rows)\n").encode(), TRUE_WH)
    rows = [["Time", "Power W"], *([at.isoformat(), w] for at, w, _ in TEN)]
    rows[200:200] = [["Time", "Power W"]]
    yield Sample("names repeated in the middle", table(rows).encode(), TRUE_WH)
    rows = [["Plug", "", "Mains", ""], ["Time", "Power", "Voltage", "Current"], ["", "[W]", "[V]", "[mA]"], *([at.isoformat(), w, 230, int(w / 0.23)] for at, w, _ in TEN)]
    yield Sample("three rows of names", table(rows, "\t").encode(), TRUE_WH)
    body = table([["Zeit", "Wert"], *([at.strftime("%d.%m.%Y %H:%M:%S"), comma(w / 1000, 4)] for at, w, _ in TEN)], ";")
    yield Sample("unit in the lines above", ("Messreihe;Wirkleistung\nEinheit;kW\n\n" + body).encode("cp1252"), TRUE_WH)
    rows = [["Time", "Power W"], *([at.isoformat(), f"{w * 1000:,.0f}".replace(",", "'")] for at, w, _ in TEN)]
    yield Sample("thousands with apostrophes", table(rows, ";").encode(), 1000 * TRUE_WH)
    rows = [["Time", "Power W"], *([at.isoformat(), f"{w * 1000:,.0f}".replace(",", "\u202f")] for at, w, _ in TEN)]
    yield Sample("thousands with thin spaces", table(rows, ";").encode(), 1000 * TRUE_WH)
    rows = [["Time", "Power W"], *([at.isoformat(), f"{w:.2E}"] for at, w, _ in TEN)]
    yield Sample("numbers with exponents", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Power (W)", "Status"], *([at.isoformat(), w if n % 9 else "ERR", "on"] for n, (at, w, _) in enumerate(every(1)))]
    yield Sample("errors in cells", table(rows).encode(), TRUE_WH)


def parts() -> Iterator[Sample]:
    rows = [["Time", "L1 (W)", "L2 (W)", "L3 (W)"], *([at.isoformat(), w * 0.5, w * 0.3, w * 0.2] for at, w, _ in TEN)]
    yield Sample("three phases without a sum", table(rows).encode(), TRUE_WH)
    rows = [["Zeit", "Phase A Leistung", "Phase B Leistung", "Phase C Leistung"], *([at.strftime("%d.%m.%Y %H:%M:%S"), comma(w, 1), 0, 0] for at, w, _ in TEN)]
    yield Sample("three phases, one used", table(rows, ";").encode(), TRUE_WH)
    half = LASTS_S // 4
    low = [min(wh, SUMS_WH[half]) for _, _, wh in MINUTE]
    rows = [
        ["time", "Import T1 kWh", "Import T2 kWh", "Export T1 kWh", "Export T2 kWh", "L1 max W", "L2 max W"],
        *([at.strftime("%Y-%m-%d %H:%M"), f"{1234 + one / 1000:.3f}", f"{987 + (wh - one) / 1000:.3f}", "11.000", "12.000", 2300, 0] for (at, _, wh), one in zip(MINUTE, low, strict=True)),
    ]
    yield Sample("two tariffs of a counter", table(rows).encode(), TRUE_WH)
    rows = [
        ["Date", "Index heures creuses (Wh)", "Index heures pleines (Wh)"],
        *([at.strftime("%d/%m/%Y %H:%M:%S"), f"{5e6 + one:.0f}", f"{9e6 + wh - one:.0f}"] for (at, _, wh), one in zip(MINUTE, low, strict=True)),
    ]
    yield Sample("two tariffs in French", table(rows, ";").encode(), TRUE_WH)
    rows = [
        ["time", "ac_input_w", "ac_output_w", "dc_output_w", "total_output_w", "soc_pct"],
        *([at.isoformat(), 0, w, 3, w + 3, 90 - int(wh / 10.24)] for at, w, wh in TEN),
    ]
    yield Sample("a power station's inputs and outputs", table(rows).encode(), TRUE_WH + 3 * LASTS_S / 3600)
    rows = [["time", "input_power_w", "output_power_w", "battery_pct"], *([at.isoformat(), 60, w, 90 - int(wh / 10.24)] for at, w, wh in TEN)]
    yield Sample("input beside output", table(rows).encode(), TRUE_WH)
    rows = [["Time", "Today kWh", "Yesterday kWh", "Total kWh", "Power W"], *([at.isoformat(), f"{wh / 1000:.3f}", "2.310", f"{812 + wh / 1000:.3f}", w] for at, w, wh in TEN)]
    yield Sample("today, yesterday and total", table(rows).encode(), TRUE_WH)
    rows = [["time", "active_power", "reactive_power", "apparent_power", "power_factor"], *([at.isoformat(), w, w / 5, w * 1.02, 0.98] for at, w, _ in TEN)]
    yield Sample("active, reactive, apparent without units", table(rows).encode(), TRUE_WH)
    rows = [["time", "P", "Q", "S", "U", "I"], *([at.isoformat(), w, w / 5, w * 1.02, 230, f"{w / 230:.3f}"] for at, w, _ in TEN)]
    yield Sample("the letters of the trade", table(rows).encode(), TRUE_WH)
    rows = [["time", "power", "power_setpoint", "setting"], *([at.isoformat(), w, 1200, 9] for at, w, _ in TEN)]
    yield Sample("a setpoint beside the power", table(rows).encode(), TRUE_WH)
    rows = [["time", "plug_1_power", "plug_2_power"], *([at.isoformat(), w, 500] for at, w, _ in TEN)]
    yield Sample("two plugs side by side", table(rows).encode(), refusal="Several columns")


def periods() -> Iterator[Sample]:
    zero = START.replace(hour=0, minute=0)
    hours = _intervals(3600)
    begins = [zero + timedelta(hours=n) for n in range(48)]
    pairs = list(zip(begins, hours, strict=True))
    rows = [
        ["Energy consumption time period", "Usage(Real energy in kilowatt-hours)", "Reading quality"],
        *([f"{at:%Y-%m-%d %H:%M:%S} to {at + timedelta(hours=1):%Y-%m-%d %H:%M:%S}", f"{wh / 1000:.4f}", ""] for at, wh in pairs),
    ]
    yield Sample("periods in one cell", ('"Energy usage data:"\n"For location: a field"\n\n' + table(rows)).encode(), TRUE_WH)
    rows = [["Period", "kWh"], *([f"{at:%d/%m/%Y %H:%M} - {at + timedelta(hours=1):%H:%M}", f"{wh / 1000:.4f}"] for at, wh in pairs)]
    yield Sample("periods with the day once", table(rows).encode(), TRUE_WH)
    rows = [["ID", "Fecha", "Hora", "Consumo_kWh", "Metodo_obtencion"], *(["ES00", at.strftime("%d/%m/%Y"), at.hour + 1, comma(wh / 1000), "R"] for at, wh in pairs)]
    yield Sample("hours numbered from one", table(rows, ";").encode(), TRUE_WH)
    rows = [["Date", "Hour", "kWh"], *([at.strftime("%Y-%m-%d"), at.hour, f"{wh / 1000:.4f}"] for at, wh in pairs)]
    yield Sample("hours numbered from nought", table(rows).encode(), TRUE_WH)
    rows = [
        ["ID", "USAGE_DATE", "REVISION_DATE", "USAGE_START_TIME", "USAGE_END_TIME", "USAGE_KWH", "ESTIMATED_ACTUAL", "CONSUMPTION_SURPLUSGENERATION"],
        *(
            [f"'{100890}", at.strftime("%m/%d/%Y"), at.strftime("%m/%d/%Y 06:00:00"), at.strftime(" %H:%M"), (at + timedelta(hours=1)).strftime(" %H:%M"), wh_kwh, "A", flow]
            for at, wh in pairs
            for wh_kwh, flow in ((f"{wh / 1000:.4f}", "Consumption"), ("0.9", "Surplus Generation"))
        ),
    ]
    yield Sample("surplus rows among consumption", table(rows).encode(), TRUE_WH)
    rows = [
        ["Ab-Datum", "Ab-Zeit", "Bis-Datum", "Bis-Zeit", "Profilwert", "Einheit", "Status"],
        *([f"{at:%d.%m.%Y}", f"{at:%H:%M:%S}", f"{at + timedelta(hours=1):%d.%m.%Y}", f"{at + timedelta(hours=1):%H:%M:%S}", comma(wh / 1000, 5), "kWh", "W"] for at, wh in pairs),
    ]
    yield Sample("from and to with days and clocks", table(rows, ";").encode("cp1252"), TRUE_WH)
    rows = [["Datum", "Zeit von", "Zeit bis", "Verbrauch (kWh)"], *([f"{at:%d.%m.%Y}", f"{at:%H:%M}", f"{at + timedelta(hours=1):%H:%M}", comma(wh / 1000, 4)] for at, wh in pairs)]
    yield Sample("clock from and clock to", table(rows, ";").encode(), TRUE_WH)
    rows = [
        ["Name", "Cook"], ["Address", "A field, 12"], ["Account Number", "123456789"], ["Service", "Service 1"], [],
        ["TYPE", "DATE", "START TIME", "END TIME", "USAGE (kWh)", "COST", "NOTES"],
        *(["Electric usage", f"{at:%Y-%m-%d}", f"{at:%H:%M}", f"{at + timedelta(minutes=59):%H:%M}", f"{wh / 1000:.4f}", "$0.10", ""] for at, wh in pairs),
    ]
    yield Sample("account above, usage below", table(rows).encode(), TRUE_WH)
    rows = [["Consumption (kWh)", " Estimated Cost Inc. Tax (p)", " Start", " End"], *([f"{wh / 1000:.4f}", " 4.51", f" {at.isoformat()}", f" {(at + timedelta(hours=1)).isoformat()}"] for at, wh in pairs)]
    yield Sample("figures first, times last", table(rows).encode(), TRUE_WH)
    rows = [
        ["Interval", "Demand (kW)"],
        *([f"{at:%m/%d/%Y %I:%M %p}", f"{wh / 250:.4f}"] for at, wh in zip((zero + timedelta(minutes=15 * n) for n in range(192)), _intervals(900), strict=True)),
    ]
    yield Sample("mean kilowatts of each quarter-hour", table(rows).encode(), TRUE_WH)
    head = "Identifiant;Type de donnees;Date de debut;Date de fin;Grandeur physique;Unite;Pas en minutes\n0123;Courbe de charge;14/10/2026;16/10/2026;Energie active;W;30\n"
    halves = zip((zero + timedelta(minutes=30 * n) for n in range(96)), _intervals(1800), strict=True)
    rows = [["Horodate", "Valeur"], *([(at + timedelta(minutes=30)).isoformat(), f"{wh * 2:.0f}"] for at, wh in halves)]
    yield Sample("mean watts of each half-hour below their unit", (head + table(rows, ";")).encode(), TRUE_WH)
    day_rows: list[list[object]] = [["Time", "Usage kWh"]]
    for n, (at, wh) in enumerate(pairs):
        if n % 24 == 0:
            day_rows.append([f"{at:%A, %B %d, %Y}", ""])
        day_rows.append([f"{at:%I:%M %p}", f"{wh / 1000:.4f}"])
        if n % 24 == 23:
            day_rows.append(["Daily total", f"{sum(hours[n - 23 : n + 1]) / 1000:.4f}"])
    yield Sample("day headings and daily totals", table([[f'"{row[0]}"', row[1]] for row in day_rows]).encode(), TRUE_WH)
    rows = [["Date", "kWh"], *([f"{zero + timedelta(days=n):%d/%m/%Y}", f"{TRUE_WH / 1000 if n == 4 else 1:.4f}"] for n in range(14))]
    yield Sample("a row a day", table(rows).encode(), TRUE_WH + 13000)
    rows = [["Date", "kWh"], *([f"{at:%Y-%m-%d %H:%M}", f"{wh / 1000:.4f}"] for at, wh in pairs if not 3 <= at.hour < 6)]
    yield Sample("intervals with holes", table(rows).encode(), TRUE_WH)
    rows = [["Read time", "Consumption (kWh)", "Generation (kWh)", "Net (kWh)"], *([f"{at:%Y-%m-%d %H:%M}", f"{wh / 1000:.4f}", "0.2", f"{wh / 1000 - 0.2:.4f}"] for at, wh in pairs)]
    yield Sample("consumption, generation and net", table(rows).encode(), TRUE_WH)
    rows = [["Date", "Usage", "Direction"], *([f"{at:%Y-%m-%d %H:%M}", value, way] for at, wh in pairs for value, way in ((f"{wh / 1000:.4f}", "Import"), ("0.2", "Export")))]
    yield Sample("directions in a column", table(rows).encode(), TRUE_WH)


def days() -> Iterator[Sample]:
    zero = START.replace(hour=0, minute=0)
    for step_s, count in ((900, 96), (1800, 48), (3600, 24)):
        whole = _intervals(step_s)
        rows_wh = [whole[:count], whole[count:]]
        names: dict[str, list[str]] = {
            "ranges": [f"{_hm(n * step_s)}-{_hm((n + 1) * step_s)}" for n in range(count)],
            "ends that finish at midnight": [_hm((n + 1) * step_s % 86400) for n in range(count)],
            "letters and numbers": [f"HH{n + 1:02d}" for n in range(count)],
            "words and numbers": [f"Interval {n + 1}" for n in range(count)],
            "units": [f"{_hm(n * step_s)} (kWh)" for n in range(count)],
            "four digits": [_hm((n + 1) * step_s).replace(":", "") for n in range(count)],
            "half days": [f"{datetime(2026, 1, 1) + timedelta(seconds=n * step_s):%I:%M %p}" for n in range(count)],
            "seconds": [f"{_hm(n * step_s)}:00" for n in range(count)],
        }
        for name, titles in names.items():
            rows = [["Meter", "Date", *titles, "Total"], *([123456, f"{zero + timedelta(days=n):%d/%m/%Y}", *(f"{wh / 1000:.4f}" for wh in day), f"{sum(day) / 1000:.3f}"] for n, day in enumerate(rows_wh))]
            yield Sample(f"days across: {count} columns named by {name}", table(rows).encode(), TRUE_WH)
        rows = [["100", "NEM12", "202610150000"], ["200", "M1", "E1B1", "1", "E1", "N1", "S1", "KWH", str(step_s // 60)]]
        rows += [["300", f"{zero + timedelta(days=n):%Y%m%d}", *(f"{wh / 1000:.4f}" for wh in day), "A", "", "", "20261016"] for n, day in enumerate(rows_wh)]
        rows += [["200", "M1", "E1B1", "2", "B1", "N2", "S1", "KWH", str(step_s // 60)]]
        rows += [["300", f"{zero + timedelta(days=n):%Y%m%d}", *(["0.300"] * count), "A", "", "", "20261016"] for n in range(2)]
        yield Sample(f"days across: record numbers, {count} values", table([*rows, ["900"]]).encode(), TRUE_WH)
        rows = [["Date", *(f"{_hm(n * step_s)}" for n in range(count))], *([f"{zero + timedelta(days=n):%Y-%m-%d}", *(f"{wh * 3.6 / step_s:.5f}" for wh in day)] for n, day in enumerate(rows_wh))]
        yield Sample(f"days across: kilowatts, {count} columns", ("Mean demand in kW\n" + table(rows)).encode(), TRUE_WH)
    hours = _intervals(3600)
    rows = [["entity_id", "type", "unit", *((zero + timedelta(hours=n)).astimezone(UTC).isoformat() for n in range(48))], ["sensor.cooker_energy", "sum", "kWh", *(f"{wh / 1000:.4f}" for wh in hours)]]
    yield Sample("instants across", table(rows).encode(), TRUE_WH)


def clock_changes() -> Iterator[Sample]:
    for name, day in (("spring", datetime(2026, 3, 29, tzinfo=VIENNA)), ("autumn", datetime(2026, 10, 25, tzinfo=VIENNA))):
        first = day.astimezone(UTC)
        count = int((datetime(2026, day.month, day.day + 1, tzinfo=VIENNA).astimezone(UTC) - first).total_seconds() // 900)
        instants = [(first + timedelta(seconds=900 * n)).astimezone(VIENNA) for n in range(count)]
        rows = [["Datum", "Leistung (W)"], *([f"{at:%d.%m.%Y %H:%M}", 1000] for at in instants)]
        yield Sample(f"{name}: watts in local time", table(rows, ";").encode(), (count - 1) * 250.0, within=0.005)
        rows = [["Von", "Verbrauch kWh"], *([f"{at:%d.%m.%Y %H:%M}", comma(0.1 + n / 1000)] for n, at in enumerate(instants))]
        yield Sample(f"{name}: quarter-hours in local time", table(rows, ";").encode(), sum(100 + n for n in range(count)), within=0.002)
        titles = [_hm(900 * n) for n in range(96)]
        rows = [["Date", *titles], [f"{day:%Y-%m-%d}", *(["0.1"] * 96 if count >= 96 else ["0.1"] * 8 + [""] * 4 + ["0.1"] * 84)]]
        yield Sample(f"{name}: days across", table(rows).encode(), 9600.0 if count >= 96 else 9200.0)


def nested() -> Iterator[Sample]:
    told = [
        {"Time": at.strftime("%Y-%m-%dT%H:%M:%S"), "ENERGY": {"TotalStartTime": "2026-01-01T00:00:00", "Total": round(55 + wh / 1000, 3), "Yesterday": 1.2, "Today": round(wh / 1000, 3), "Power": round(w), "ApparentPower": round(w) + 5, "ReactivePower": 9, "Factor": 0.99, "Voltage": 230, "Current": round(w / 230, 2)}}
        for at, w, wh in TEN
    ]
    yield Sample("json: a meter's report a line", "\n".join(map(json.dumps, told)).encode(), TRUE_WH)
    deep = "\n".join(json.dumps({"StatusSNS": one}) for one in told)
    yield Sample("json: reports two levels down", deep.encode(), TRUE_WH)
    lines = "\n".join(f"{at:%H:%M:%S} rcvd plug/sensor = {json.dumps(one)}" for (at, _, _), one in zip(TEN, told, strict=True))
    yield Sample("json behind words on every line", lines.encode(), TRUE_WH)
    yield Sample("json: columns", json.dumps({"time": [int(at.timestamp()) for at, _, _ in TEN], "power_w": [w for _, w, _ in TEN]}).encode(), TRUE_WH)
    yield Sample("json: an object by instants", json.dumps({at.isoformat(): w for at, w, _ in TEN}).encode(), TRUE_WH)
    result = {"status": "success", "data": {"resultType": "matrix", "result": [{"metric": {"__name__": "plug_power_watts", "plug": "cooker"}, "values": [[at.timestamp(), str(w)] for at, w, _ in TEN]}]}}
    yield Sample("json: values inside results", json.dumps(result).encode(), TRUE_WH)
    history = [[{"entity_id": "sensor.plug_power", "state": str(w), "attributes": {"unit_of_measurement": "W", "friendly_name": "Plug power"}, "last_changed": at.astimezone(UTC).isoformat()} for at, w, _ in changes()]]
    yield Sample("json: states with attributes", json.dumps(history).encode(), TRUE_WH)
    short = [[history[0][0], *({"state": one["state"], "last_changed": one["last_changed"]} for one in history[0][1:])]]
    yield Sample("json: states, later ones shortened", json.dumps(short).encode(), TRUE_WH)
    yield Sample("json: pretty", json.dumps([{"timestamp": int(at.timestamp() * 1000), "value": w} for at, w, _ in TEN], indent=4).encode(), TRUE_WH)
    cut = json.dumps([{"time": at.isoformat(), "power_w": w} for at, w, _ in TEN])[:-300]
    yield Sample("json that breaks off", cut.encode(), refusal="breaks off")
    xml = "<?xml version='1.0'?><feed><entry/></feed>"
    yield Sample("a marked-up file", xml.encode(), refusal="XML")
    yield Sample("a web page", b"<!DOCTYPE html><html><body><table></table></body></html>", refusal="web page")


def databases() -> Iterator[Sample]:
    head = "#group,false,false,true,true,false,false,true,true,true\n#datatype,string,long,dateTime:RFC3339,dateTime:RFC3339,dateTime:RFC3339,double,string,string,string\n#default,_result,,,,,,,,\n"
    utc = [(at.astimezone(UTC), w, wh) for at, w, wh in TEN]
    stop = utc[-1][0]
    names = ["", "result", "table", "_start", "_stop", "_time", "_value", "_field", "_measurement", "device"]
    rows = [names, *(["", "", 0, utc[0][0].isoformat(), stop.isoformat(), at.isoformat(), w, "power", "plug", "cooker"] for at, w, _ in utc)]
    more = [names, *(["", "", 1, utc[0][0].isoformat(), stop.isoformat(), at.isoformat(), 230, "voltage", "plug", "cooker"] for at, _, _ in utc)]
    yield Sample("a database's tables below each other", (head + table(rows, end="\r\n") + "\r\n" + head + table(more, end="\r\n")).encode(), TRUE_WH)
    rows = [["Series", "Time", "Value"], *(["plug.power", at.isoformat(), w] for at, w, _ in TEN)]
    yield Sample("series, time, value", table(rows, ";").encode(), TRUE_WH)
    rows = [["start", "mean", "min", "max"], *([at.isoformat(), sum(watts_at(s) for s in range(n * 300, n * 300 + 300)) / 300, 2, 1180] for n, at in enumerate(START + timedelta(minutes=5 * m) for m in range(15)))]
    yield Sample("means of five minutes", table([*rows, [(START + timedelta(minutes=75)).isoformat(), 2, 2, 2]]).encode(), TRUE_WH, within=0.05)
    rows = [["id", "created_at", "sensor_id", "metric", "value"], *([n, at.strftime("%Y-%m-%d %H:%M:%S"), 7, metric, value] for n, (at, w, wh) in enumerate(TEN) for metric, value in (("power_w", w), ("energy_wh", round(wh + 800, 2)), ("voltage", 230)))]
    yield Sample("one metric a row", table(rows).encode(), TRUE_WH)
    rows = [["last_changed", "state"], *([at.astimezone(UTC).isoformat(), state] for at, state in _states())]
    yield Sample("states of one sensor with silence", table(rows).encode(), TRUE_WH - 1180 * 120 / 3600)
    rows = [["timestamp", "entity", "state", "unit_of_measurement"], *([at.isoformat(), "sensor.plug_power", w, "W"] for at, w, _ in changes()), *([at.isoformat(), "sensor.plug_temperature", 31, "°C"] for at, _, _ in MINUTE)]
    yield Sample("states with their units", table(rows).encode(), TRUE_WH)
    rows = [["No.", "Date", "Time", "Volt", "Ampere", "Watt", "kWh"], *([n, f"{at:%Y/%m/%d}", f"{at:%H:%M:%S}", 230, f"{w / 230:.3f}", w, f"{wh / 1000:.3f}"] for n, (at, w, wh) in enumerate(TEN, 1))]
    yield Sample("numbered rows", table(rows, "\t").encode(), TRUE_WH)
    rows = [["Record", "Elapsed", "Watts", "Wh"], *([n, n * 10, w, f"{wh:.1f}"] for n, (_, w, wh) in enumerate(TEN))]
    yield Sample("a record number beside elapsed seconds", table(rows).encode(), TRUE_WH)
    rows = [["ts", "mWmin"], *([int(at.timestamp()), round((wh - SUMS_WH[max(n * 60 - 60, 0)]) * 60000)] for n, (at, _, wh) in enumerate(MINUTE))]
    yield Sample("milliwatt-minutes", table(rows).encode(), TRUE_WH)
    rows = [["Timestamp", "Power (W)", "Energy (Wmin)"], *([int(at.timestamp()), w, int((wh + 900) * 60)] for at, w, wh in TEN)]
    yield Sample("watt-minutes beside watts", table(rows).encode(), TRUE_WH)


def _states() -> Iterator[tuple[datetime, object]]:
    for at, watts, _ in changes():
        yield at, watts
        if at == START:
            yield START + timedelta(seconds=300), "unavailable"
            yield START + timedelta(seconds=420), 1180.0


def _intervals(step_s: int) -> list[float]:
    """The energy of each interval of two whole days, the cook on the first."""
    offset = int((START - START.replace(hour=0, minute=0)).total_seconds())
    edges = [min(max(n * step_s - offset, 0), LASTS_S) for n in range(2 * 86400 // step_s + 1)]
    return [SUMS_WH[high] - SUMS_WH[low] for low, high in zip(edges, edges[1:], strict=False)]


def _hm(seconds: int) -> str:
    return f"{seconds // 3600:02d}:{seconds % 3600 // 60:02d}"


WILD = (*odd_stamps(), *cells(), *parts(), *periods(), *days(), *clock_changes(), *nested(), *databases())
