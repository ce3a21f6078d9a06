"""Reading a meter's file by its shape: a stream of bytes in, times and figures out. Only numbers are held."""

from __future__ import annotations

import math
from array import array
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from itertools import islice, pairwise
from operator import itemgetter

from energy.meters.files.columns.names import named
from energy.meters.files.columns.sensors import Series
from energy.meters.files.columns.shape import CHARGE, DEVICE, INTERVAL, POWER, TOTAL, VALUE, LogShape, UnreadableFile
from energy.meters.files.series.choice import DAY_ORDER, YEAR, Chosen, Question, choose, goes_out
from energy.meters.files.series.named_stages import stages_of
from energy.meters.files.series.series import Account, read_series
from energy.meters.files.series.settling import (
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
from energy.meters.files.series.unnamed_units import Guessed, with_units
from energy.meters.files.tables.decoding import lines, pieces
from energy.meters.files.tables.json_rows import json_rows
from energy.meters.files.tables.pair_rows import pair_rows
from energy.meters.files.tables.sections import refuse_anew, sectioned
from energy.meters.files.tables.text_rows import table_rows
from energy.meters.files.tables.xml_rows import xml_rows
from energy.runs.domain.log_columns import LogColumns, part_of
from energy.runs.domain.rhythm import SILENT_S, Came, Hole, silences
from energy.runs.domain.samples import StageSpan
from energy.runs.domain.watts import looks_sampled
from kitchen.domain.remark import Remark, remark

BytesRead = Callable[[int], None]


class NeedsAnswer(UnreadableFile):
    """The file does not tell something that the energy depends on; ``question`` is what to ask."""

    def __init__(self, question: Question) -> None:
        super().__init__(question.words)
        self.question = question


@dataclass(frozen=True, kw_only=True)
class MeterLog(LogColumns):
    """A file's columns, and what reading them told.

    Attributes
    ----------
    total_wh : float
        What the file adds up to: the counter's climb, else the watts over time. [Wh]
    method : str
        ``counter``, ``watts`` or ``charge``.
    notes : tuple of str
        What was mended or passed over, a sentence each.
    doubts : tuple of Remark
        What was guessed or left out and asks for somebody's yes.
    stages : tuple of StageSpan
        The stages that the file names.
    rows, skipped : int
        Rows below the names, and how many of them held no time that can be read.
    """

    total_wh: float
    method: str
    notes: tuple[str, ...]
    rows: int
    doubts: tuple[Remark, ...] = ()
    stages: tuple[StageSpan, ...] = ()
    device: str = ""
    skipped: int = 0

    @property
    def taken(self) -> tuple[str, ...]:
        """The first and the last value that is taken, and the energy, in a sentence."""
        if not self.times_s:
            return ()
        ends = [f"{self._figures_at(place)} {self._when(place)}" for place in (0, self.count - 1)]
        made = {"counter": "from the counter", "watts": "from the watts", "charge": "only its charge was read"}[self.method]
        wh = f"{self.total_wh:,.1f} Wh, {made}" if self.method != "charge" else made
        return (f"Taken: {self.count:,} readings, the first {ends[0]}, the last {ends[1]}; {wh}.",)

    def _figures_at(self, place: int) -> str:
        shown = ((self.energy_wh, "Wh"), (self.power_w, "W"), (self.charge_pct, "%"))
        return ", ".join(f"{values[place]:,.10g} {unit}" for values, unit in shown if not math.isnan(values[place])) or "nothing"

    def _when(self, place: int) -> str:
        instant = self.instant(self.times_s[place])
        return f"after {self.times_s[place]:,.0f} s" if instant is None else f"at {instant:%Y-%m-%d %H:%M:%S} UTC"


def read_meter_log(
    stream: object, shape: LogShape, *, zone: str = "UTC", until: datetime | None = None, progress: BytesRead | None = None
) -> MeterLog:
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
    if shape.day_first is None:
        raise NeedsAnswer(DAY_ORDER)
    if shape.year is None:
        raise NeedsAnswer(YEAR)
    text = lines(_with_progress(pieces(stream), progress), shape.encoding)
    account = Account()
    found = read_series(body(text, shape), shape, zone, account)
    chosen = choose(found, shape)
    if chosen.question is not None:
        raise NeedsAnswer(chosen.question)
    return settle(chosen, shape, account, until=until)


def _with_progress(chunks: Iterable[bytes], progress: BytesRead | None) -> Iterator[bytes]:
    read = 0
    for chunk in chunks:
        yield chunk
        read += len(chunk)
        if progress is not None:
            progress(read)


def body(text: Iterable[str], shape: LogShape) -> Iterator[tuple[int, Sequence[str]]]:
    """Yield the rows below the names (and below the row of units)."""
    if shape.kind != "table":
        yield from _ROWS[shape.kind](text, shape.header)
        return
    if shape.sections:
        yield from sectioned(table_rows(text, shape), shape.header_row, len(shape.header) - 1)
        return
    passed = shape.header_row + 1 + shape.units_row
    rows = islice(table_rows(text, shape), passed, None)
    yield from refuse_anew(rows, shape) if shape.header_row >= 0 else rows


def _xml_body(text: Iterable[str], header: Sequence[str]) -> Iterator[tuple[int, Sequence[str]]]:
    return islice(xml_rows(text), 1, None)


_ROWS: dict[str, Callable[[Iterable[str], Sequence[str]], Iterator[tuple[int, Sequence[str]]]]] = {
    "json": json_rows,
    "pairs": pair_rows,
    "xml": _xml_body,
}


def settle(chosen: Chosen, shape: LogShape, account: Account, *, until: datetime | None = None) -> MeterLog:
    """Return the chosen series as one log.

    Raises
    ------
    UnreadableFile
        If none of them holds a figure.
    """
    notes: list[str] = []
    guesses: dict[str, Guessed] = {}
    unheard: list[Hole] = []
    missing: list[Hole] = []
    chosen = as_intervals(with_units(chosen, notes, guesses), notes, shape)
    device = bool(shape.places(DEVICE)) and shape.layout == "long"
    told = shape.held if shape.held is not None else True if device else None
    power = (
        None if chosen.power is None else watts(chosen.power, notes, unheard, held=_ends_by_silence(chosen.power, told, shape))
    )
    climbs = _counter_of(chosen, shape, notes, missing)
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
    holes = missing if method == "counter" else _silent(power, unheard, held)
    times, (energy, drawn, charged) = merged([climbs, power, charge])
    zero_s = 0.0 if shape.strict and shape.elapsed else times[0]
    return MeterLog(
        times_s=array("d", (at_s - zero_s for at_s in times)),
        energy_wh=energy,
        power_w=drawn,
        charge_pct=charged,
        start=datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=zero_s) if account.dated else None,
        came=Came(
            held if power is not None else None,
            0.0 if power is None else usual_step_s(power.times_s),
            tuple((low - zero_s, high - zero_s) for low, high in sorted(holes)[:_MOST_HOLES]),
            method,
        ),
        total_wh=total_wh,
        method=method,
        notes=(*_passed_over_words(account), *chosen.left_out, *dict.fromkeys(notes), *_hole_words(holes)),
        stages=stages_of([(at_s - zero_s, row, cell) for at_s, row, cell in account.stages], times[-1] - zero_s),
        doubts=tuple(_all_doubts(chosen, guesses, climbs if method == "counter" else power, shape, (method, total_wh))),
        rows=account.rows,
        device=chosen.device,
        skipped=account.skipped,
    )


_MOST_HOLES = 500
"""So many holes are kept of a file."""


def _silent(power: Track | None, unheard: Sequence[Hole], held: bool) -> list[Hole]:
    """Return the holes in a log of watts: its silences, and the times at which the device was not heard."""
    if power is None:
        return []
    found = [*unheard, *silences(power.times_s, power.values, held=held)]
    return [(low, high) for low, high in found if high - low > SILENT_S]


def _hole_words(holes: Sequence[Hole]) -> list[str]:
    """Return what is told of the holes of a file."""
    if not holes:
        return []
    hours = sum(high - low for low, high in holes) / 3600
    longest = max(high - low for low, high in holes) / 3600
    return [
        f"{len(holes):,} hole{'s' if len(holes) > 1 else ''} in the log, {hours:.1f} h together, the longest {longest:.1f} h: "
        "what was drawn there is not known."
    ]


def _all_doubts(
    chosen: Chosen, guesses: dict[str, Guessed], track: Track | None, shape: LogShape, made: tuple[str, float]
) -> Iterator[Remark]:
    """Yield all that asks for somebody's yes about a log whose energy was made so. [Wh]"""
    method, total_wh = made
    yield from _doubts(guesses, track, method, total_wh)
    yield from _sent_out(chosen)
    yield from _role_doubts(chosen, shape, method, total_wh)


_MOST_LOOKED_AT = 100_000
_SURE_COUNTER = 12
"""A counter that shows at least so many figures is one."""


def _role_doubts(chosen: Chosen, shape: LogShape, method: str, total_wh: float) -> Iterator[Remark]:
    """Yield a doubt where a few rising figures are a counter's or those of intervals, and no name tells which."""
    one = chosen.total or chosen.interval
    if method != "counter" or one is None or shape.strict or named(one.name).role in (TOTAL, INTERVAL):
        return
    if len(set(islice(one.values, _MOST_LOOKED_AT))) >= _SURE_COUNTER:
        return
    values = array("d", (value for value in one.values if not math.isnan(value)))
    rises = all(later >= earlier for earlier, later in pairwise(values)) and values[-1] > values[0]
    if not rises or len(set(values)) >= _SURE_COUNTER:
        return
    other_wh = (sum(values) if one is chosen.total else values[-1] - values[0]) * one.factor
    code = "counter_guessed" if one is chosen.total else "intervals_guessed"
    yield remark(code, column=one.name or "—", read_wh=total_wh, other_wh=other_wh)


def _sent_out(chosen: Chosen) -> Iterator[Remark]:
    """Yield a doubt for each series that is used although its name says that its energy flows out."""
    for one in (chosen.power, chosen.total, chosen.interval):
        if one is not None and goes_out(one.name):
            yield remark("sent_out_used", column=one.name)


def _doubts(guesses: dict[str, Guessed], used_track: Track | None, method: str, total_wh: float) -> Iterator[Remark]:
    """Yield what asks for somebody's yes: units that no name tells, and energy in rows that were left out."""
    used = (TOTAL, INTERVAL) if method == "counter" else (POWER,)
    yield from (guessed.doubt(total_wh) for role, guessed in guesses.items() if role in used)
    if used_track is not None and used_track.dropped_wh > _LEAST_DROPPED * total_wh:
        yield remark("rows_dropped", rows=used_track.dropped, dropped_wh=used_track.dropped_wh, read_wh=total_wh)


_LEAST_DROPPED = 0.005


def as_intervals(chosen: Chosen, notes: list[str], shape: LogShape) -> Chosen:
    """Return mean watts as the energies of their intervals, where they are means and nothing else is there."""
    power = chosen.power
    if not shape.means or power is None or chosen.total is not None or chosen.interval is not None:
        return chosen
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


def _ends_by_silence(power: Series, told: bool | None, shape: LogShape) -> bool:
    """Return whether moments without watts end what was held: only in a log of changes without other figures."""
    if told is not None:
        return told
    rows = sorted(zip(power.times_s[:5000], power.values[:5000], strict=True), key=itemgetter(0))
    alone = len(shape.places(POWER, INTERVAL, TOTAL, CHARGE, VALUE)) == 1
    return alone and not looks_sampled([at_s for at_s, _ in rows], [0.0 if math.isnan(watts) else watts for _, watts in rows])


def _counter_of(chosen: Chosen, shape: LogShape, notes: list[str], holes: list[Hole]) -> Track | None:
    if chosen.total is not None:
        return counter(chosen.total, notes)
    return None if chosen.interval is None else added_up(chosen.interval, notes, holes, at_end=shape.at_end)


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


def _passed_over_words(account: Account) -> list[str]:
    """Return what was passed over."""
    said = []
    if account.skipped:
        rows = "1 row" if account.skipped == 1 else f"{account.skipped:,} rows"
        said.append(f"{rows} without a time that can be read, the first one row {account.first_skipped}: passed over.")
    if account.unavailable:
        cells = "1 cell" if account.unavailable == 1 else f"{account.unavailable:,} cells"
        said.append(f"{cells} without a number (such as “unavailable”): nothing was read there.")
    return said


def part_between(log: MeterLog, since: datetime | None, before: datetime | None) -> MeterLog:
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
    part = part_of(log, low_s, high_s)
    if not part.count:
        raise UnreadableFile("Nothing was read between these instants.")
    zero_s = part.times_s[0]
    holes = tuple((low - zero_s, high - zero_s) for low, high in part.came.holes)
    came = replace(part.came, holes=holes)
    return replace(part, times_s=array("d", (at_s - zero_s for at_s in part.times_s)), start=part.instant(zero_s), came=came)
