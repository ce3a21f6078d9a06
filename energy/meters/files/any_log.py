"""The one reader of meters' files, whichever door they come through: looked at, asked about, read whole, fit for a run."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from io import BytesIO

from energy.meters.files.beginning import beginning_of
from energy.meters.files.columns.shape import LogShape, UnreadableFile
from energy.meters.files.looking import Look, look_at
from energy.meters.files.reading import BytesRead, MeterLog, read_meter_log
from energy.meters.files.thinning import thinned
from energy.runs.domain.log_columns import LONGEST_S


def open_file(
    head: bytes,
    stream: Iterable[bytes],
    *,
    zone: str,
    shape: LogShape | None = None,
    until: datetime | None = None,
    progress: BytesRead | None = None,
    look: Look | None = None,
) -> tuple[Look, MeterLog]:
    """Return how a file is read, and what it says.

    Parameters
    ----------
    head : bytes
        What ``beginning_of`` returns, or the whole of a short file.
    stream : file of bytes, or iterable of bytes
        All of it.
    zone : str
        The zone of times without one.
    shape : LogShape, optional
        How it is to be read, where that was said.
    until, progress
        As ``read_meter_log`` takes them.
    look : Look, optional
        At its beginning, where somebody looked already.

    Raises
    ------
    UnreadableFile
        If it cannot be read; ``NeedsAnswer`` if it does not tell something that the energy depends on.
    """
    look = look or look_at(head, zone=zone, shape=shape)
    if look.refusal:
        raise UnreadableFile(look.refusal)
    return look, read_meter_log(stream, look.shape, zone=zone, until=until, progress=progress)


def read_log(data: bytes, *, zone: str = "UTC") -> MeterLog:
    """Return what a log says, fit for a run.

    Raises
    ------
    UnreadableFile
        With a sentence that says what to do.

    Examples
    --------
    >>> log = read_log("Zeit;Leistung [kW]\\n14.10.2026 18:30;1,2\\n14.10.2026 18:40;0,0\\n".encode())
    >>> [(one.at_s, one.power_w) for one in log.samples()], log.start.isoformat()
    ([(0.0, 1200.0), (600.0, 0.0)], '2026-10-14T18:30:00+00:00')
    """
    return for_a_run(open_file(beginning_of(BytesIO(data)), [data], zone=zone)[1])


def for_a_run(log: MeterLog) -> MeterLog:
    """Return a log thinned where it is long.

    Raises
    ------
    UnreadableFile
        If it is longer than a run may be.
    """
    if log.span_s > LONGEST_S:
        raise UnreadableFile(f"The log is longer than {LONGEST_S / 86400:.0f} days. Cut it to one cook, then try again.")
    return thinned(log)


def taken_from(look: Look, log: MeterLog) -> tuple[str, ...]:
    """Return what is told of a file that was read: how, the first and last value taken, the energy, what was mended."""
    return (*look.words, *log.taken, *log.notes)


def with_header_line(head: bytes, line: int | None, shape: LogShape, zone: str) -> LogShape:
    """Return the guess at a file whose names stand in a line that somebody told, 0 for none; what else was said stays."""
    look = look_at(head, zone=zone, header_line=line)
    if look.refusal and not look.shape.columns:
        return replace(look.shape, zone=shape.zone)
    return replace(look.shape, zone=shape.zone, device=shape.device, held=shape.held)
