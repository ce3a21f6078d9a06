"""How a meter's file is read from the command line: the options, the look before, progress on the error stream."""

from __future__ import annotations

import hashlib
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

from energy.meters.files.any_log import for_a_run, open_file, taken_from
from energy.meters.files.beginning import beginning_of
from energy.meters.files.columns.shape import POWER, TOTAL, LogShape, UnreadableFile
from energy.meters.files.looking import Look, look_at
from energy.meters.files.reading import MeterLog, NeedsAnswer, part_between
from energy.meters.files.told import DELIMITERS, ROLE_HELP, only_column, with_columns
from energy.meters.queries.log_files import taken_words
from energy.runs.domain.log_columns import LONGEST_S
from energy.runs.operations.typed import FileFacts

HELP = f"""Record a measured cook from a meter's file.

The file is looked at first: how it is read is printed, and the options below correct it. What the file does not tell is asked,
never guessed: then name the option that the message names. A cook has at most {LONGEST_S / 86400:.0f} days of readings.

  import_run plug.csv --look
  import_run plug.csv --recipe lentil-pot --appliance "Hob" --source "Socket" --meter "Plug" --device "kitchen plug"

What a column may be, for --column NAME=ROLE[:UNIT] or --column NUMBER=ROLE[:UNIT], columns counted from 1:

{ROLE_HELP}
"""

_STEP_BYTES = 5_000_000


def add_to(parser: ArgumentParser) -> None:
    """Describe the options that say how a file is read."""
    how = parser.add_argument_group("how the file is read (all of it is guessed where left out)")
    how.add_argument("--shape", type=Path, metavar="FILE.json", help="a way of reading that --save-shape kept")
    how.add_argument("--save-shape", type=Path, metavar="FILE.json", help="keep the way in which this file is read")
    how.add_argument(
        "--device",
        metavar="NAME",
        help="which device or sensor is the cooker's, + for all together",
    )
    order = how.add_mutually_exclusive_group()
    order.add_argument("--day-first", dest="day_first", action="store_const", const=True, help="3/4 is the third of April")
    order.add_argument("--month-first", dest="day_first", action="store_const", const=False, help="3/4 is the fourth of March")
    how.add_argument("--year", type=int, metavar="YEAR", help="of days that name no year")
    how.add_argument("--zone", metavar="ZONE", help="of times without a zone, like Europe/Vienna; the site's when left out")
    how.add_argument("--delimiter", choices=sorted(DELIMITERS), help="what parts the columns")
    how.add_argument("--decimal", choices=["point", "comma"], help="the decimal sign")
    how.add_argument("--encoding", metavar="NAME", help="of the text, like utf-8 or cp1252")
    how.add_argument("--header-row", type=int, metavar="N", help="the line that names the columns, from 1; 0: none does")
    how.add_argument(
        "--column",
        action="append",
        default=[],
        metavar="NAME=ROLE[:UNIT]",
        help="what one column is, like P=power:kW, or by its number, like 2=power:kW; several of one role add up",
    )
    how.add_argument("--power-column", metavar="NAME", help="which column with power is the cooker's, + for all together")
    how.add_argument("--counter-column", metavar="NAME", help="which counter is the cooker's, + for all together")
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


def read(options: dict[str, Any], out: Any, err: Any) -> tuple[MeterLog, FileFacts]:
    """Return what a file says, read as the options tell, and what is kept of it; how it is read goes to ``out``."""
    look, log = _opened(options, err)
    try:
        read_in = for_a_run(
            part_between(log, *(moment(options[name]) if options[name] else None for name in ("since", "before")))
        )
    except UnreadableFile as error:
        raise CommandError(str(error)) from error
    if options["save_shape"]:
        options["save_shape"].write_text(json.dumps(look.shape.to_dict(), indent=1, ensure_ascii=False), "utf-8")
    words = taken_from(look, read_in)
    for said in words:
        out.write(said)
    path: Path = options["file"]
    with path.open("rb") as file:
        digest = hashlib.file_digest(file, "sha256").hexdigest()
    return read_in, FileFacts(path.name[-120:], digest, look.shape.to_dict(), words, read_in.came, read_in.doubts)


def show(options: dict[str, Any], out: Any) -> None:
    """Write how a file is read, its first rows, and the first and the last value that would be taken with the energy."""
    look = _look_safely(options)
    for words in look.words:
        out.write(words)
    names = f"line {look.header_line}" if look.header_line else "no line"
    out.write(f"The columns are named by {names} (--header-row):")
    for place, (name, role) in enumerate(zip(look.header, look.roles, strict=False), 1):
        out.write(f"  {place}  {name or '(no name)'}: {role}")
    for row in look.preview:
        out.write("  " + " | ".join(row))
    _, log = _opened(options, None, look)
    for words in taken_words(log):
        out.write(words)


def _opened(options: dict[str, Any], err: Any, looked: Look | None = None) -> tuple[Look, MeterLog]:
    """Return how a file is read, and what it says.

    Raises
    ------
    CommandError
        If it cannot be read, with the option that would make it readable.
    """
    path: Path = options["file"]
    look = looked or _look_safely(options)
    until = moment(options["until"]) if options["until"] else None
    try:
        with path.open("rb") as file:
            head = beginning_of(file)
            file.seek(0)
            told = None if err is None else _teller(path.stat().st_size, err)
            return open_file(head, file, shape=look.shape, zone=_zone(options), until=until, progress=told, look=look)
    except NeedsAnswer as error:
        raise CommandError(f"{error} {_answers(error)}") from error
    except UnreadableFile as error:
        raise CommandError(str(error)) from error


def _look_safely(options: dict[str, Any]) -> Look:
    try:
        return _look(options["file"], options)
    except OSError as error:
        raise CommandError(f"{options['file']} cannot be read: {error.strerror}.") from error
    except UnreadableFile as error:
        raise CommandError(str(error)) from error


def moment(text: str) -> datetime:
    """Return an instant that somebody typed, in the site's zone where it names none."""
    try:
        found = parse_datetime(text)
    except ValueError:
        found = None
    if found is None:
        raise CommandError(f"“{text}” is not a moment. Write it like 2026-10-14T19:05.")
    return found if timezone.is_aware(found) else timezone.make_aware(found)


def _zone(options: dict[str, Any]) -> str:
    return options["zone"] or timezone.get_current_timezone_name()


def _look(path: Path, options: dict[str, Any]) -> Look:
    with path.open("rb") as file:
        head = beginning_of(file)
    LogShape(zone=options["zone"] or "").refuse_nonsense()
    look = look_at(head, zone=_zone(options), shape=_shape_from_file(options["shape"]), header_line=options["header_row"])
    shape = _corrected(look.shape, options)
    return look if shape == look.shape else look_at(head, zone=_zone(options), shape=shape)


def _shape_from_file(path: Path | None) -> LogShape | None:
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
        "held": options["held"],
        "at_end": options["stamps"],
        "elapsed": options["elapsed"],
        "year": options["year"],
    }
    shape = replace(shape, **{name: value for name, value in said.items() if value is not None})
    shape = with_columns(shape, options["column"]) if options["column"] else shape
    for role, name in ((POWER, options["power_column"]), (TOTAL, options["counter_column"])):
        shape = only_column(shape, role, name) if name else shape
    return shape


_ASKED = {"day_first": "Say --day-first or --month-first.", "year": "Say --year with the year."}


def _answers(error: NeedsAnswer) -> str:
    """Return the option that answers a question."""
    key = error.question.key
    if key in _ASKED:
        return _ASKED[key]
    option = "--device" if key == "device" else "--power-column" if "power" in key else "--counter-column"
    return f"Say {option} with one of: {'; '.join(value for value, _ in error.question.choices)}."


def _teller(size: int, err: Any) -> Callable[[int], None]:
    """Return what writes how far a long file has been read, every 5 MB."""
    told = 0

    def tell(read_bytes: int) -> None:
        nonlocal told
        if read_bytes - told >= _STEP_BYTES or (told and read_bytes >= size):
            told = read_bytes
            err.write(f"Read {read_bytes / 1e6:.0f} of {size / 1e6:.0f} MB")

    return tell
