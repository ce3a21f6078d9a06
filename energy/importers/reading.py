"""Reading a meter's file by its shape: a stream of bytes in, times and figures out. Only numbers are held."""

from __future__ import annotations

import math
from array import array
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from energy.importers.choosing import Chosen, Question, choose
from energy.importers.decoding import lines, pieces
from energy.importers.json_rows import json_rows
from energy.importers.sensors import Series
from energy.importers.series import Account, read_series
from energy.importers.settling import (
    Track,
    added_up,
    counter,
    energy_of,
    energy_of_watts,
    is_coarse,
    is_held,
    merged,
    settled,
    usual_step_s,
    watts,
)
from energy.importers.shape import DEVICE, INTERVAL, LogShape, UnreadableFile
from energy.importers.tables import table_rows
from energy.importers.unnamed_units import with_units

Progress = Callable[[int], None]


class NeedsAnswer(UnreadableFile):
    """The file does not tell something that the energy depends on; ``question`` is what to ask."""

    def __init__(self, question: Question) -> None:
        super().__init__(question.words)
        self.question = question


@dataclass(frozen=True)
class ReadLog:
    """A file's readings in the order of time; not-a-number where nothing was read.

    Attributes
    ----------
    times_s : array of float
        Counted from ``start``, or from the first row where the file names no day. [s]
    energy_wh, power_w, charge_pct : array of float
        The counter, the watts and the charge, as long as ``times_s``. [Wh, W, %]
    start : datetime or None
        The first row's instant, in UTC; None where the file names no day.
    held : bool
        Whether the watts are changes that hold until the next.
    total_wh : float
        What the file adds up to: the counter's climb, else the watts over time. [Wh]
    method : str
        ``counter``, ``watts`` or ``charge``.
    notes : tuple of str
        What was mended or passed over, a sentence each.
    rows, skipped : int
        Rows below the names, and how many of them held no time that can be read.
    """

    times_s: array[float]
    energy_wh: array[float]
    power_w: array[float]
    charge_pct: array[float]
    start: datetime | None
    held: bool
    total_wh: float
    method: str
    notes: tuple[str, ...]
    rows: int
    device: str = ""
    skipped: int = 0

    def samples(self) -> Iterator[tuple[float, float | None, float | None, float | None]]:
        """Yield moment, counter, watts and charge of each reading, None where nothing was read. [s, Wh, W, %]"""
        for at_s, *figures in zip(self.times_s, self.energy_wh, self.power_w, self.charge_pct, strict=True):
            energy_wh, power_w, charge_pct = (None if math.isnan(value) else value for value in figures)
            yield at_s, energy_wh, power_w, charge_pct

    @property
    def span_s(self) -> float:
        """From the first reading to the last. [s]"""
        return self.times_s[-1] - self.times_s[0] if self.times_s else 0.0


def read_log(
    stream: object, shape: LogShape, *, zone: str = "UTC", until: datetime | None = None, progress: Progress | None = None
) -> ReadLog:
    """Return what a file says, read by its shape.

    Parameters
    ----------
    stream : file of bytes, or iterable of bytes
        The file.
    shape : LogShape
        How it is laid out (``looking.look_at`` guesses it).
    zone : str
        The zone of times without one.
    until : datetime, optional
        The instant up to which the last watts of a log of changes hold; with it a log that ends on a change is not cut short.
    progress : callable, optional
        Told how many bytes have been read, every 64 kB.

    Raises
    ------
    UnreadableFile
        If it cannot be read; ``NeedsAnswer`` if it does not tell which device or column is meant.
    """
    shape.refuse_nonsense()
    text = lines(_told(pieces(stream), progress), shape.encoding)
    account = Account()
    found = read_series(body(text, shape), shape, zone, account)
    chosen = choose(found, shape)
    if chosen.question is not None:
        raise NeedsAnswer(chosen.question)
    return settle(chosen, shape, account, until=until)


def _told(chunks: Iterable[bytes], progress: Progress | None) -> Iterator[bytes]:
    read = 0
    for chunk in chunks:
        yield chunk
        read += len(chunk)
        if progress is not None:
            progress(read)


def body(text: Iterable[str], shape: LogShape) -> Iterator[tuple[int, Sequence[str]]]:
    """Yield the rows below the names (and below the row of units)."""
    if shape.kind == "json":
        yield from json_rows(text, shape.header)
        return
    passed = shape.header_row + 1 + shape.units_row
    for place, row in enumerate(table_rows(text, shape)):
        if place >= passed:
            yield row


def settle(chosen: Chosen, shape: LogShape, account: Account, *, until: datetime | None = None) -> ReadLog:
    """Return the chosen series as one log.

    Raises
    ------
    UnreadableFile
        If none of them holds a figure.
    """
    notes: list[str] = []
    chosen = with_units(chosen, notes)
    if shape.means and chosen.power is not None and chosen.total is None and chosen.interval is None:
        chosen = as_intervals(chosen, notes)
    device = bool(shape.places(DEVICE)) and shape.layout == "long"
    told = shape.held if shape.held is not None else True if device else None
    power = None if chosen.power is None else watts(chosen.power, notes, held=_holds(chosen.power, told))
    climbs = _counter_of(chosen, shape, notes)
    charge = None if chosen.charge is None else settled(chosen.charge, notes)
    power, climbs, charge = (track if track is not None and track.times_s else None for track in (power, climbs, charge))
    if power is None and climbs is None and charge is None:
        raise UnreadableFile("The columns of this file hold no numbers. Point at the column with the power or the energy.")
    _refuse_one_moment(power, climbs, account)
    held = power is not None and is_held(power, told)
    if power is not None and climbs is not None and is_coarse(climbs, power):
        notes.append("The counter has too few steps beside watts that are this dense: the watts are used.")
        climbs = None
    if power is not None and held and account.dated and until is not None:
        power = _held_until(power, until.timestamp())
    total_wh, method = _total(power, climbs, held)
    times, (energy, drawn, charged) = merged([climbs, power, charge])
    return ReadLog(
        times_s=array("d", (at_s - times[0] for at_s in times)),
        energy_wh=energy,
        power_w=drawn,
        charge_pct=charged,
        start=datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=times[0]) if account.dated else None,
        held=held,
        total_wh=total_wh,
        method=method,
        notes=(*_passed(account), *dict.fromkeys(notes)),
        rows=account.rows,
        device=chosen.device,
        skipped=account.skipped,
    )


def as_intervals(chosen: Chosen, notes: list[str]) -> Chosen:
    """Return mean watts as the energies of their intervals."""
    power = chosen.power
    assert power is not None
    step_s = usual_step_s(array("d", sorted(power.times_s)))
    if not math.isfinite(step_s) or step_s <= 0:
        return chosen
    energies = array("d", (value * power.factor * step_s / 3600 for value in power.values))
    notes.append(f"Each value is the mean of its interval of {step_s / 60:g} minutes.")
    return replace(chosen, power=None, interval=Series(INTERVAL, "Wh", power.name, power.device, power.times_s, energies))


def _refuse_one_moment(power: Track | None, climbs: Track | None, account: Account) -> None:
    """Refuse a log whose rows all hold one time: it lost the digits that told them apart."""
    longest = max((len(track.times_s) for track in (power, climbs) if track is not None), default=2)
    if longest == 1 and account.rows == 1 and climbs is None:
        raise UnreadableFile("This file holds a single reading: energy needs at least two. Export the whole time of the cook.")
    if longest == 1 and account.rows >= 10:
        raise UnreadableFile(
            "All rows hold the same time: its last digits were lost when the file was saved. Export the log again, "
            "or point at another column with the time."
        )


def _holds(power: Series, told: bool | None) -> bool:
    """Return whether moments without watts end what was held: only in a log of changes."""
    if told is not None:
        return told
    return is_held(Track(array("d", sorted(power.times_s[:5000]))), None)


def _counter_of(chosen: Chosen, shape: LogShape, notes: list[str]) -> Track | None:
    if chosen.total is not None:
        return counter(chosen.total, notes)
    return None if chosen.interval is None else added_up(chosen.interval, notes, at_end=shape.at_end)


def _held_until(power: Track, until_s: float) -> Track:
    """Return the watts of a log of changes with the last of them holding until an instant."""
    if until_s <= power.times_s[-1]:
        return power
    return Track(array("d", [*power.times_s, until_s]), array("d", [*power.values, power.values[-1]]))


def _total(power: Track | None, climbs: Track | None, held: bool) -> tuple[float, str]:
    if climbs is not None and len(climbs.times_s) >= 2:
        return energy_of(climbs), "counter"
    if power is not None:
        return energy_of_watts(power, held=held), "watts"
    return 0.0, "charge"


def _passed(account: Account) -> list[str]:
    """Return what was passed over."""
    said = []
    if account.skipped:
        rows = "1 row" if account.skipped == 1 else f"{account.skipped:,} rows"
        said.append(f"{rows} without a time that can be read, the first one row {account.first_skipped}: passed over.")
    if account.unavailable:
        cells = "1 cell" if account.unavailable == 1 else f"{account.unavailable:,} cells"
        said.append(f"{cells} without a number (such as “unavailable”): nothing was read there.")
    return said


def part_between(log: ReadLog, since: datetime | None, before: datetime | None) -> ReadLog:
    """Return the readings from one instant to another, both included; the whole log where neither is given.

    Raises
    ------
    UnreadableFile
        If the file names no day, or nothing was read between them.
    """
    if since is None and before is None:
        return log
    if log.start is None:
        raise UnreadableFile("This file names no day, so that it cannot be cut at an instant.")
    low_s = -math.inf if since is None else (since - log.start).total_seconds()
    high_s = math.inf if before is None else (before - log.start).total_seconds()
    places = [place for place, at_s in enumerate(log.times_s) if low_s <= at_s <= high_s]
    if not places:
        raise UnreadableFile("Nothing was read between these instants.")
    first, after = places[0], places[-1] + 1
    zero_s = log.times_s[first]
    return replace(
        log,
        times_s=array("d", (at_s - zero_s for at_s in log.times_s[first:after])),
        energy_wh=log.energy_wh[first:after],
        power_w=log.power_w[first:after],
        charge_pct=log.charge_pct[first:after],
        start=log.start + timedelta(seconds=zero_s),
    )
