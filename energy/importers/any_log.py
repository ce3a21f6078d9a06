"""A log as text, whatever its shape: plain logs with stages as they are, every other one as the reader of meters' files says."""

from __future__ import annotations

from energy.domain.samples import Sample
from energy.importers import csv_log
from energy.importers.columns import UnreadableLog
from energy.importers.csv_log import ReadLog
from energy.importers.looking import HEAD_BYTES, look_at
from energy.importers.reading import ReadLog as MeterLog
from energy.importers.reading import read_log as read_file
from energy.importers.shape import UnreadableFile
from energy.importers.thinning import thinned


def read_log(text: str, *, zone: str = "UTC") -> ReadLog:
    """Return what a log says.

    Parameters
    ----------
    text : str
        The whole log.
    zone : str
        The zone of times without one, where the log is no plain one.

    Raises
    ------
    UnreadableLog
        With a sentence that says what to do.

    Examples
    --------
    >>> log = read_log("Zeit;Leistung [kW]\\n14.10.2026 18:30;1,2\\n14.10.2026 18:40;0,0\\n")
    >>> [(one.at_s, one.power_w) for one in log.samples], log.start.isoformat()
    ([(0.0, 1200.0), (600.0, 0.0)], '2026-10-14T18:30:00+00:00')
    """
    plain = csv_log.is_plain(text)
    if plain:
        try:
            return csv_log.read_log(text)
        except UnreadableLog as refused:
            if "is not a time that can be read" not in str(refused):
                raise
    data = text.encode("utf-8", "replace")
    look = look_at(data[:HEAD_BYTES], zone=zone)
    if look.refusal:
        _refuse_as_plain(text, look.refusal)
    try:
        log = read_file([data], look.shape, zone=zone)
        if plain and (log.skipped or look.questions):
            csv_log.read_log(text)
        return as_samples(log)
    except UnreadableFile as refused:
        raise UnreadableLog(f"{refused} “From a meter’s file” on the run’s page lets you choose.") from refused


def _refuse_as_plain(text: str, refusal: str) -> None:
    """Refuse a log with what is wrong with it as a plain one, or with what the reader of meters' files says."""
    csv_log.read_log(text)
    raise UnreadableLog(refusal)


def as_samples(log: MeterLog) -> ReadLog:
    """Return a meter's log as the samples of a cook, thinned where it is long.

    Raises
    ------
    UnreadableLog
        If it is longer than any cook.
    """
    if log.span_s > csv_log.LONGEST_S:
        raise UnreadableLog("The log is longer than 14 days. Cut it to one cook, then try again.")
    short = thinned(log)
    samples = (
        Sample(round(at_s, 3), energy_wh, power_w, charge if charge is not None and 0 <= charge <= 100 else None)
        for at_s, energy_wh, power_w, charge in short.samples()
    )
    told = tuple(one for one in samples if one.energy_wh is not None or one.power_w is not None or one.charge_pct is not None)
    return ReadLog(told, (), short.start, short.notes)
