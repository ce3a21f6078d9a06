"""How a meter's file is read from the command line: the options, the look before, progress on the error stream."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError
from django.utils import timezone
from django.utils.dateparse import parse_datetime

from energy.importers import ReadLog, UnreadableLog, csv_log
from energy.importers.any_log import as_samples
from energy.importers.looking import HEAD_BYTES, Look, look_at
from energy.importers.reading import NeedsAnswer, part_between, read_log
from energy.importers.shape import POWER, TOTAL, LogShape, UnreadableFile
from energy.importers.told import DELIMITERS, only_column, with_column

HELP = """Record a measured cook from a meter's file.

A plain log (its first row: time, seconds or minutes, beside watts, wh, kwh or charge_pct; stage if you like) is read as it is.
Any other table, list of states, supplier's export or JSON is looked at first: how it is read is printed, and the options below
correct it. What the file does not tell is asked, never guessed: then name the option that the message names.

  import_run plug.csv --look
  import_run plug.csv --recipe lentil-pot --appliance "Hob" --source "Socket" --meter "Plug" --device "kitchen plug"
"""

_DECISIONS = (
    *("shape", "device", "day_first", "zone", "delimiter", "decimal", "encoding", "header_row", "column", "power_column"),
    *("counter_column", "held", "stamps", "elapsed", "until", "since", "before"),
)
_STEP_BYTES = 5_000_000


def add_to(parser: ArgumentParser) -> None:
    """Describe the options that say how a file is read."""
    how = parser.add_argument_group("how the file is read (all of it is guessed where left out)")
    how.add_argument("--shape", type=Path, metavar="FILE.json", help="a way of reading that --save-shape kept")
    how.add_argument("--save-shape", type=Path, metavar="FILE.json", help="keep the way in which this file is read")
    how.add_argument("--device", metavar="NAME", help="the device or sensor that is the cooker's, where the file has several")
    order = how.add_mutually_exclusive_group()
    order.add_argument("--day-first", dest="day_first", action="store_const", const=True, help="3/4 is the third of April")
    order.add_argument("--month-first", dest="day_first", action="store_const", const=False, help="3/4 is the fourth of March")
    how.add_argument("--zone", metavar="ZONE", help="of times without a zone, like Europe/Vienna; the site's when left out")
    how.add_argument("--delimiter", choices=sorted(DELIMITERS), help="what parts the columns")
    how.add_argument("--decimal", choices=["point", "comma"], help="the decimal sign")
    how.add_argument("--encoding", metavar="NAME", help="of the text, like utf-8 or cp1252")
    how.add_argument("--header-row", type=int, metavar="N", help="the row that names the columns, from 1; 0: none does")
    how.add_argument(
        "--column", action="append", default=[], metavar="NAME=ROLE[:UNIT]", help="what one column is, like P=power:kW"
    )
    how.add_argument("--power-column", metavar="NAME", help="which of several columns with power is the cooker's")
    how.add_argument("--counter-column", metavar="NAME", help="which of several counters is the cooker's")
    held = how.add_mutually_exclusive_group()
    held.add_argument(
        "--held", dest="held", action="store_const", const=True, help="watts are changes: each holds until the next"
    )
    held.add_argument("--sampled", dest="held", action="store_const", const=False, help="watts are samples at even times")
    stamps = how.add_mutually_exclusive_group()
    stamps.add_argument("--stamp-begins", dest="stamps", action="store_const", const=False, help="an interval begins at its time")
    stamps.add_argument("--stamp-ends", dest="stamps", action="store_const", const=True, help="an interval ends at its time")
    how.add_argument("--elapsed", choices=["s", "min", "h", "ms", "mm:ss"], help="time is counted from the start, in this unit")
    how.add_argument("--until", metavar="ISO", help="the last watts of a log of changes hold until then")
    how.add_argument("--from", dest="since", metavar="ISO", help="leave out what was read before")
    how.add_argument("--to", dest="before", metavar="ISO", help="leave out what was read after")


def read(options: dict[str, Any], out: Any, err: Any) -> ReadLog:
    """Return what a file says, read as the options tell; what was decided goes to ``out``, progress to ``err``."""
    path: Path = options["file"]
    try:
        if (plain := _plain(path, options)) is not None:
            return csv_log.read_log(plain)
        look = _look(path, options)
        for words in look.words:
            out.write(words)
        _refuse_open(look, options)
        return _as_told(path, look.shape, options, out, err)
    except NeedsAnswer as error:
        raise CommandError(f"{error} {_answers(error)}") from error
    except (UnreadableFile, UnreadableLog) as error:
        raise CommandError(str(error)) from error
    except OSError as error:
        raise CommandError(f"{path} cannot be read: {error.strerror}.") from error


def show(options: dict[str, Any], out: Any) -> None:
    """Write how a file is read and its first rows."""
    try:
        look = _look(options["file"], options)
    except OSError as error:
        raise CommandError(f"{options['file']} cannot be read: {error.strerror}.") from error
    except UnreadableFile as error:
        raise CommandError(str(error)) from error
    for words in look.words:
        out.write(words)
    for name, role in zip(look.header, look.roles, strict=False):
        out.write(f"  {name or '(no name)'}: {role}")
    for row in look.preview:
        out.write("  " + " | ".join(row))
    for question in look.questions:
        out.write(f"{question.words} {', '.join(words for _, words in question.choices)}")
    if look.refusal:
        raise CommandError(look.refusal)


def moment(text: str) -> datetime:
    """Return an instant that somebody typed, in the site's zone where it names none."""
    try:
        found = parse_datetime(text)
    except ValueError:
        found = None
    if found is None:
        raise CommandError(f"“{text}” is not a moment. Write it like 2026-10-14T19:05.")
    return found if timezone.is_aware(found) else timezone.make_aware(found)


def _plain(path: Path, options: dict[str, Any]) -> str | None:
    """Return the text of a plain log, None where the file is another or something was said of how it is to be read."""
    if any(options[name] not in (None, []) for name in _DECISIONS) or path.stat().st_size > csv_log.MOST_CHARACTERS:
        return None
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        return None
    return text if csv_log.is_plain(text) else None


def _look(path: Path, options: dict[str, Any]) -> Look:
    with path.open("rb") as file:
        head = file.read(HEAD_BYTES)
    LogShape(zone=options["zone"] or "").refuse_nonsense()
    zone = options["zone"] or timezone.get_current_timezone_name()
    look = look_at(head, zone=zone, shape=_kept(options["shape"]), name=path.name)
    shape = _corrected(look.shape, options)
    return look if shape == look.shape else look_at(head, zone=zone, shape=shape, name=path.name)


def _kept(path: Path | None) -> LogShape | None:
    if path is None:
        return None
    try:
        return LogShape.from_dict(json.loads(path.read_text("utf-8")))
    except (json.JSONDecodeError, UnicodeDecodeError, AttributeError) as error:
        raise UnreadableFile(f"{path} holds no way of reading that --save-shape kept.") from error


def _corrected(shape: LogShape, options: dict[str, Any]) -> LogShape:
    """Return a guess with what the options say instead."""
    said = {
        "device": options["device"] and options["device"].lower(),
        "day_first": options["day_first"],
        "zone": options["zone"],
        "delimiter": DELIMITERS.get(options["delimiter"] or ""),
        "decimal": {"point": ".", "comma": ","}.get(options["decimal"] or ""),
        "encoding": options["encoding"],
        "header_row": None if options["header_row"] is None else options["header_row"] - 1,
        "held": options["held"],
        "at_end": options["stamps"],
        "elapsed": options["elapsed"],
    }
    shape = replace(shape, **{name: value for name, value in said.items() if value is not None})
    for text in options["column"]:
        shape = with_column(shape, text)
    for role, name in ((POWER, options["power_column"]), (TOTAL, options["counter_column"])):
        shape = only_column(shape, role, name) if name else shape
    return shape


def _refuse_open(look: Look, options: dict[str, Any]) -> None:
    if look.refusal:
        raise UnreadableFile(look.refusal)
    if options["day_first"] is None and options["shape"] is None and any(one.key == "day_first" for one in look.questions):
        raise CommandError("Days such as 3/4 can be read in two ways. Say --day-first or --month-first.")


def _answers(error: NeedsAnswer) -> str:
    option = (
        "--device"
        if error.question.key == "device"
        else "--power-column"
        if "power" in error.question.key
        else "--counter-column"
    )
    return f"Say {option} with one of: {'; '.join(value for value, _ in error.question.choices)}."


def _as_told(path: Path, shape: LogShape, options: dict[str, Any], out: Any, err: Any) -> ReadLog:
    zone = options["zone"] or timezone.get_current_timezone_name()
    until = moment(options["until"]) if options["until"] else None
    with path.open("rb") as file:
        log = read_log(file, shape, zone=zone, until=until, progress=_teller(path.stat().st_size, err))
    since, before = (moment(options[name]) if options[name] else None for name in ("since", "before"))
    log = part_between(log, since, before)
    if options["save_shape"]:
        options["save_shape"].write_text(json.dumps(shape.to_dict(), indent=1, ensure_ascii=False), "utf-8")
    read_in = as_samples(log)
    for note in read_in.notes:
        out.write(note)
    return read_in


def _teller(size: int, err: Any) -> Callable[[int], None]:
    """Return what writes how far a long file has been read, every 5 MB."""
    told = 0

    def tell(read_bytes: int) -> None:
        nonlocal told
        if read_bytes - told >= _STEP_BYTES or (told and read_bytes >= size):
            told = read_bytes
            err.write(f"Read {read_bytes / 1e6:.0f} of {size / 1e6:.0f} MB")

    return tell
