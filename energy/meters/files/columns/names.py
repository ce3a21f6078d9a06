"""What the names of columns and sensors say: which quantity, in which unit. Words of the trade in several languages."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from energy.meters.files.columns.shape import CHARGE, DATE, DEVICE, END, INTERVAL, POWER, TIME, TOTAL, UNIT, UNITS, VALUE

_ASIDE = re.compile(
    r"cost|price|kosten|preis|coût|precio|prezzo|prijs|€|\$|£|per k?wh|set ?point|target|soll(?:wert|leistung)|"
    r"limit|rated|threshold|nominal|forecast|budget|yesterday|gestern|(?:last|previous|this) (?:month|week|year|day)|"
    r"co2|carbon|factor$|uptime|signal|rssi"
)
"""Names of what is no measured power or energy: money, settings, other days' sums."""

_UNIT_WORDS = (
    (r"milliwatt.?minutes?|(?<![a-z])mw.?min(?![a-z])|mwmin", "mW min"),
    (r"(?<![a-z])k\s?w\s?h|kilowatt.?(?:hour|stunde)s?", "kWh"),
    (r"(?<![a-z])m\s?w\s?h(?![a-z])|megawatt.?hours?", "MWh"),
    (r"watt.?minute[ns]?|w[·.\s_-]?min(?![a-z])|wmin|watt.?minuten", "W min"),
    (r"(?<![a-z])wh(?![a-z])|watt.?(?:hour|stunde)[sn]?", "Wh"),
    (r"(?<![a-z])kw(?![a-z])|kilowatts?(?!.?h)", "kW"),
    (r"(?<![a-z])kj(?![a-z])|kilojoules?", "kJ"),
    (r"(?<![a-z])mj(?![a-z])|megajoules?", "MJ"),
    (r"(?<![a-z])j(?![a-z])|joules?", "J"),
    (r"(?<![a-z])mw(?![a-z])|milliwatts?", "mW"),
    (
        r"(?<![a-z])k?va[rh]?(?![a-z])|volt.?amp|apparent|scheinleistung|apparente?|aparente|schijnbaar|blind|react|réact|reatt",
        "VA",
    ),
    (r"(?<![a-z])w(?![a-z])|watts?(?!.?(?:h|min|stund))", "W"),
    (
        r"(?<![a-z])m?a(?![a-z])|(?<![a-z])amps?(?:eres?)?(?![a-z])|current|strom(?!verbr|zähl|zaehl)|courant|corriente|corrente|stroom(?!verb)",
        "A",
    ),
    (r"(?<![a-z])m?v(?![a-z])|volts?|voltage|spannung|tension|tensión|tensione|spanning", "V"),
    (r"power.?factor|cos\s?(?:phi|φ)|leistungsfaktor|(?<![a-z])pf(?![a-z])|facteur", "PF"),
    (r"(?<![a-z])hz(?![a-z])|frequen", "Hz"),
    (r"°|temp(?!s)|celsius|humid|feucht|signal|rssi|uptime|co2|cost|price|kosten|preis|coût|precio|prezzo|prijs|€|\$|£", "other"),
    (r"%|percent|prozent|pct", "%"),
)
_POWER = re.compile(
    r"power|watts?|leistung|puissance|potencia|potenza|vermogen|effekt|teho|výkon|(?<![a-z])moc(?![a-z])|(?<![a-z])load|last(?![a-z])|demand|wirkleistung"
)
_ENERGY = re.compile(
    r"energ|consum|usage|use(?![a-z])|verbrauch|verbruik|consommation|consumo|förbrukning|forbruk|forbrug|mængde|kulutus|zużycie|spotřeba|zählerstand|zaehlerstand|meter.?reading|"
    r"index|lectura|lettura|relevé|import|bezug|reading|kwh|(?<![a-z])wh"
)
_TOTAL = re.compile(
    r"total|cumul|counter|zähler|zaehler|stand(?![a-z])|index|register|meter.?reading|lifetime|overall|lectura|lettura|relevé|"
    r"meterstand|gesamt|odometer|so.?far|since"
)
_INTERVAL = re.compile(
    r"interval|per.?(?:hour|quarter|15)|delta|incremental|usage|verbrauch(?!.*(?:gesamt|stand))|consumption|consommation|consumo|"
    r"verbruik|hourly|this.?period|last.?period|viertelstunde|increment"
)
_EXPORT = re.compile(r"export|feed.?in|einspeis|return|injection|vertido|teruglever|generat|produc|solar|received.?back")
_TIME = re.compile(
    r"^(?:.*\b)?(?:time|timestamp|date.?time|zeit|zeitstempel|zeitpunkt|uhrzeit|heure|horodat\w*|hora|fecha.?hora|ora|tijd\w*|tid(?:spunkt)?|aika|czas|čas|"
    r"datetime|last.?(?:changed|updated|seen)|moment|instant|when|ts|epoch\w*|unix\w*|created|recorded|messzeit\w*|from|start\w*|"
    r"begin\w*|fra(?: dato)?|från|von|début|debut|desde|dal?|von.*)(?:\b.*)?$"
)
_DATE = re.compile(r"^(?:\w+\s)?(?:date|datum|day|tag|jour|fecha|data|dia|giorno|dag|read.?date|usage.?date)(?:\s?\(.*\))?$")
_END = re.compile(r"\b(?:end\w*|to|until|bis|fin|hasta|fine|tot|einde)\b")
_ELAPSED = re.compile(
    r"elapsed|seconds?|minutes?|sekunden|minuten|secondes|runtime|duration|laufzeit|hours?|millis|(?<![a-z])(?:s|min|ms|sec|h)(?![a-z])|^t$|offset"
)
_CHARGE = re.compile(r"charge|soc|state.?of.?charge|battery|akku|ladung|ladestand|batterie|carga|carica")
_DEVICE = re.compile(
    r"device|entity|sensor|name|channel|kanal|plug|outlet|socket|gerät|geraet|appareil|dispositivo|apparaat|circuit|topic|measurement|metric|attribute|series|field|register|quantity|tag|meter.?id|meter.?(?:no|number|serial)|obis|parameter|what"
)
_VALUE = re.compile(r"^(?:value|state|wert|valeur|valor|valore|waarde|reading|mean|avg|average|val|_value|messwert|measure)s?$")
_UNIT_NAME = re.compile(
    r"^(?:.*\b)?(?:unit|units|uom|einheit|unité|unidad|unità|eenheid|enhet|måleenhed|yksikkö|jednostka|unit.?of.?measurement)(?:\b.*)?$"
)


_LETTERS = {
    **dict.fromkeys(("p", "ptot", "p tot", "pges", "p ges", "p sum", "p total", "pac"), (POWER, "")),
    **dict.fromkeys(("papp", "sinsts", "q", "qtot", "q tot", "stot", "s tot"), ("", "VA")),
    **dict.fromkeys(("u", "urms", "u rms"), ("", "V")),
    **dict.fromkeys(("i", "iinst", "irms", "i rms"), ("", "A")),
}
"""The letters that the trade writes for power, voltage and current."""


@dataclass(frozen=True)
class Named:
    """What a name says: a role, a unit, and whether it is energy that flows the other way. Empty where it says nothing."""

    role: str = ""
    unit: str = ""
    export: bool = False


def plain(name: str) -> str:
    """Return a name in small letters, its parts parted by spaces."""
    spaced = re.sub(r"(?<=[a-zà-ÿ]{2})(?=[A-Z][a-z])", " ", name.strip().strip('"﻿'))
    return (
        re.sub(r"[\s_./|]+", " ", spaced.replace("[", " ").replace("]", " ").replace("(", " ").replace(")", " ")).strip().lower()
    )


def unit_in(name: str) -> str:
    """Return the unit that a name holds: a key of ``UNITS``, ``VA``, ``A``, ``V``, ``PF``, ``Hz``, ``other``; or nothing.

    Examples
    --------
    >>> [unit_in(name) for name in ("Power (W)", "energy_kwh", "Verbrauch [kWh]", "Apparent power", "Strom A", "time")]
    ['W', 'kWh', 'kWh', 'VA', 'A', '']
    """
    raw = name.strip()
    last = raw.rsplit(".", 1)[-1]
    if last != raw and (unit := unit_in(last)):
        return unit
    if _ASIDE.search(plain(raw)) or re.search(r"/\s?kWh", raw):
        return "PF" if "factor" in raw.lower() else "other"
    if re.search(r"(?<![A-Za-z])MW(?![A-Za-z])", raw):
        return "MW"
    if re.search(r"(?<![A-Za-z])mWh(?![A-Za-z])", raw):
        return "mWh"
    text = re.sub(r"(?<![a-z])(?:phase|ph|fase|line|leg) (?:[abc]|v)(?![a-z])", " ", plain(name))
    return next((unit for pattern, unit in _UNIT_WORDS if re.search(pattern, text)), "")


def named(name: str) -> Named:
    """Return what the name of a column or of a sensor says.

    Examples
    --------
    >>> named("Total energy (kWh)"), named("Leistung [W]"), named("interval_start").role, named("Entity ID").role
    (Named(role='energy_total', unit='kWh', export=False), Named(role='power', unit='W', export=False), 'time', 'device')
    """
    text, unit = plain(name), unit_in(name)
    last = name.rsplit(".", 1)[-1]
    if last != name and (said := named(last)) != Named() and said.role != VALUE:
        return said
    if text in _LETTERS:
        return Named(*_LETTERS[text])
    if not text:
        return Named()
    if _UNIT_NAME.match(text):
        return Named(UNIT)
    if _VALUE.match(text):
        return Named(VALUE)
    return (_by_unit(text, unit) if unit and unit != "%" else None) or _by_words(text)


def _by_unit(text: str, unit: str) -> Named:
    """Return what a name with a unit says."""
    if unit in UNITS[INTERVAL]:
        return Named(_energy_role(text), unit, bool(_EXPORT.search(text)))
    if unit in UNITS[POWER]:
        return Named(POWER, unit, bool(_EXPORT.search(text)))
    return Named("", unit)


def _by_words(text: str) -> Named:
    """Return what the words of a name say."""
    if _CHARGE.search(text) and not _POWER.search(text) and not _ENERGY.search(text):
        return Named(CHARGE, "%")
    if role := _time_role(text):
        return Named(role)
    if _POWER.search(text):
        return Named(POWER, "", bool(_EXPORT.search(text)))
    if _ENERGY.search(text):
        return Named(_energy_role(text), "", bool(_EXPORT.search(text)))
    if _DEVICE.search(text):
        return Named(DEVICE)
    return Named(TIME) if _ELAPSED.search(text) else Named()


def _time_role(text: str) -> str:
    if _DATE.match(text):
        return DATE
    if _TIME.match(text) and not _DEVICE.match(text):
        return END if _END.search(text) and not re.search(r"start|from|begin|von", text) else TIME
    return END if re.fullmatch(r"(?:end\w*|to|until|bis|fin|hasta|fine|tot|einde)(?: time| date)?", text) else ""


def _energy_role(text: str) -> str:
    if _TOTAL.search(text):
        return TOTAL
    return INTERVAL if _INTERVAL.search(text) else ""


def elapsed_unit(name: str) -> str:
    """Return the unit of plain numbers counted from the start, by the name of their column; seconds where it says none.

    Examples
    --------
    >>> [elapsed_unit(name) for name in ("elapsed (min)", "t", "hours", "time_ms")]
    ['min', 's', 'h', 'ms']
    """
    text = plain(name)
    for pattern, unit in ((r"milli|(?<![a-z])ms(?![a-z])", "ms"), (r"min", "min"), (r"hour|stunde|(?<![a-z])h(?![a-z])", "h")):
        if re.search(pattern, text):
            return unit
    return "s"


def says_end(name: str) -> bool | None:
    """Return whether a name says that its stamp is an interval's end, its start, or neither."""
    text = plain(name)
    if re.search(r"\b(?:end\w*|ending|bis|until|fin|hasta|tot)\b", text):
        return True
    return False if re.search(r"\b(?:start\w*|begin\w*|from|von|début|debut|desde|van)\b", text) else None


def looks_named(cells: Sequence[str]) -> bool:
    """Return whether a row reads like names of columns: at least two cells, most of them words, one with a meaning."""
    told = [cell for cell in cells if cell.strip()]
    words = [cell for cell in told if re.search(r"[^\W\d_]", cell) and not re.match(r"^[\d.,:/-]+", cell.strip())]
    return len(told) >= 2 and len(words) >= 0.6 * len(told) and any(named(cell) != Named() for cell in words)
