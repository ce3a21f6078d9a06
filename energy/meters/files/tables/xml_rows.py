"""Rows out of the utilities' open interval standard in XML: usage points, reading types, interval blocks.

The elements and their codes are those of the North American Energy Standards Board's REQ.21, "Energy Services Provider
Interface" (namespace ``http://naesb.org/espi``); the numbers of its codes are from memory. The parser refuses entities and
document types, so that a file cannot make more of itself than it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from typing import Any
from xml.etree.ElementTree import ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import iterparse

from energy.meters.files.columns.shape import DEVICE, INTERVAL, POWER, TIME, TOTAL, UNIT, ColumnRole, UnreadableFile
from energy.meters.files.tables.table import Guess, Table

NAMES = ("start", "seconds", "value", "unit", "usage point", "kind")
_UNITS = {"38": "W", "72": "Wh", "": ""}
_OTHER_UNITS = {"42": "m³", "119": "ft³", "169": "therm", "61": "VA", "63": "var", "71": "VAh", "73": "varh", "29": "V", "5": "A"}
_Reading = tuple[int, int, float]
"""Start, duration and value. [s, s, as its type says]"""

_SENT_OUT = "19"
_COUNTERS = ("1", "3", "9")
"""Kinds of accumulation that count on: bulk quantity, cumulative, latching quantity."""


@dataclass
class _Type:
    """What a reading type says: its unit's code, the power of ten, the direction of flow, how its values add up."""

    uom: str = ""
    power: int = 0
    flow: str = ""
    accumulation: str = ""

    @property
    def role(self) -> str:
        """What its values are: power, a counter, or energies of intervals."""
        if self.uom == "38":
            return POWER
        return TOTAL if self.accumulation in _COUNTERS else INTERVAL


@dataclass
class _Found:
    """What was gathered of a file: types and links by address, and readings by the address of their block."""

    types: dict[str, _Type] = field(default_factory=dict)
    related: dict[str, list[str]] = field(default_factory=dict)
    blocks: list[tuple[str, list[_Reading]]] = field(default_factory=list)


class _Lines:
    """Lines as a file that a parser reads from."""

    def __init__(self, lines: Iterable[str]) -> None:
        self._lines = iter(lines)

    def read(self, size: int = -1) -> bytes:
        """Return the next bytes, nothing at the end."""
        taken, length = [], 0
        for line in self._lines:
            taken.append(line)
            length += len(line) + 1
            if 0 <= size <= length:
                break
        return "".join(f"{line}\n" for line in taken).encode()


def looks_intervals(head: str) -> bool:
    """Return whether a text is XML of the interval standard."""
    return head.lstrip("\ufeff \t\r\n").startswith("<") and ("IntervalBlock" in head or "naesb.org/espi" in head)


def intervals_guess(table: Table) -> Guess | None:
    """Return the guess at the rows that ``xml_rows`` makes: instants in seconds since 1970, values in their units; or None."""
    if table.shape.kind != "xml" or not table.below:
        return None
    role = table.below[0][1][5]
    columns = (ColumnRole(0, TIME), ColumnRole(2, role), ColumnRole(3, UNIT), ColumnRole(4, DEVICE))
    return Guess(replace(table.shape, header=NAMES, header_row=0, columns=columns, held=False), table.below)


def xml_rows(lines: Iterable[str], *, whole: bool = True) -> Iterator[tuple[int, list[str]]]:
    """Yield the readings of a file: start, duration, value, unit, and the usage point with the direction.

    Parameters
    ----------
    lines : iterable of str
        The file.
    whole : bool
        Whether all of it is there: else a file that breaks off is read as far as it goes.

    Raises
    ------
    UnreadableFile
        If it breaks off, holds entities, or holds no readings of electricity.
    """
    found = _Found()
    try:
        _gather(iterparse(_without_declaration(lines), forbid_dtd=True), found)
    except DefusedXmlException:
        raise UnreadableFile("This XML defines entities or a document type, as no meter's export does. It is not read.") from None
    except ParseError as error:
        if whole:
            raise UnreadableFile(f"This XML breaks off or is wrong ({error}). Download it once more.") from None
    yield 0, list(NAMES)
    told = [(kind, address, readings) for address, readings in found.blocks if (kind := _type_of(address, found))]
    electric = [one for one in told if one[0].uom in _UNITS]
    role = next((role for role in (INTERVAL, TOTAL, POWER) if any(kind.role == role for kind, _, _ in electric)), "")
    number = 0
    for kind, address, readings in electric:
        who = f"{_usage_point(address)} {'export, sent out' if kind.flow == _SENT_OUT else ''}".strip()
        for start, seconds, value in readings if kind.role == role else ():
            number += 1
            yield number, [str(start), str(seconds), repr(value * 10.0**kind.power), _UNITS[kind.uom], who, role]
    if not number:
        others = sorted({_OTHER_UNITS.get(kind.uom, f"unit {kind.uom}") for kind, _, _ in told if kind.uom not in _UNITS})
        held = f" It holds {', '.join(others)}." if others else ""
        raise UnreadableFile(f"This XML holds no readings of electricity.{held} Download the intervals of the electricity meter.")


def _without_declaration(lines: Iterable[str]) -> Any:
    """Return a file of the lines in UTF-8, without the first line's word about its encoding."""

    def plain() -> Iterator[str]:
        for place, line in enumerate(lines):
            if place == 0 and line.lstrip("\ufeff").startswith("<?xml"):
                yield line.lstrip("\ufeff").partition("?>")[2]
            else:
                yield line

    return _Lines(plain())


def _gather(events: Iterable[tuple[str, Any]], found: _Found) -> None:
    """Take over every block and entry as it ends, and let it go."""
    open_blocks: list[list[_Reading]] = []
    try:
        for _, element in events:
            name = element.tag.rpartition("}")[2]
            if name == "IntervalBlock":
                open_blocks.append(_readings(element))
                element.clear()
            elif name == "entry":
                address = _take_entry(element, found)
                found.blocks += [(address, readings) for readings in open_blocks]
                open_blocks.clear()
                element.clear()
    finally:
        found.blocks += [("", readings) for readings in open_blocks]


def _take_entry(entry: Any, found: _Found) -> str:
    """Take over an entry's links and reading types, and return its address."""
    links = [(link.get("rel", ""), link.get("href", "")) for link in entry if link.tag.rpartition("}")[2] == "link"]
    address = next((target for rel, target in links if rel == "self"), "")
    found.related[address] = [target for rel, target in links if rel != "self"]
    for element in entry.iter():
        if element.tag.rpartition("}")[2] == "ReadingType":
            found.types[address] = _type(element)
    return address


def _type(element: Any) -> _Type:
    told = {child.tag.rpartition("}")[2]: (child.text or "").strip() for child in element}
    power = told.get("powerOfTenMultiplier", "0")
    known = power.lstrip("+-").isdecimal() and len(power) < 4
    return _Type(
        told.get("uom", ""), int(power) if known else 0, told.get("flowDirection", ""), told.get("accumulationBehaviour", "")
    )


def _readings(block: Any) -> list[_Reading]:
    readings: list[_Reading] = []
    for reading in block.iter():
        if reading.tag.rpartition("}")[2] != "IntervalReading":
            continue
        told = {child.tag.rpartition("}")[2]: (child.text or "").strip() for child in reading.iter()}
        try:
            readings.append((int(told["start"]), int(told.get("duration", "0") or 0), float(told["value"])))
        except (KeyError, ValueError):
            continue
    return readings


def _type_of(address: str, found: _Found) -> _Type:
    """Return the reading type of a block: by the links of its meter reading, else the only one."""
    if len(found.types) == 1:
        return next(iter(found.types.values()))
    above = [link for link in found.related.get(address, ()) if link]
    reading = address.partition("/IntervalBlock")[0] or (above[0] if above else "")
    for link in (*above, *found.related.get(reading, ())):
        if link in found.types:
            return found.types[link]
        for further in found.related.get(link, ()):
            if further in found.types:
                return found.types[further]
    return _Type()


def _usage_point(address: str) -> str:
    """Return which usage point and meter reading a block belongs to, as far as its address tells."""
    before, _, after = address.partition("/UsagePoint/")
    point = after.partition("/")[0] if after else ""
    reading = after.partition("/MeterReading/")[2].partition("/")[0]
    return " ".join(filter(None, ("usage point", point, f"no {reading}" if reading else ""))) if before or after else "the meter"
