"""The log that is kept: a line of JSON for each request and each mistake, a file a day, for so many days.

What it holds of a request is its number, the pattern of its address, how it was answered and how long that took: nobody's name,
address or words. A mistake is kept by its kind and by where it happened, without its message, which may quote what was typed.
Failed sign-ins, which name an account and an address, stand in files of their own, for as long.
"""

from __future__ import annotations

import json
import logging
import os
import traceback
from contextlib import suppress
from contextvars import ContextVar
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

OWN = ("deploy", "kitchen", "energy", "costing", "wattfare")
_MOST_FRAMES = 12

request_number: ContextVar[str] = ContextVar("request_number", default="")
"""The number of the request that is being answered; empty outside of one."""


class DayFiles(logging.Handler):
    """Appends each line to the file of its day, and removes the files that are older than ``days``.

    Several processes write into one file: each line is one write at its end. Where nothing can be written, nothing is kept, and
    no request waits or fails for it. ``newest`` is a second name of today's file, for a program that follows one name for ever.
    """

    def __init__(self, folder: str, stem: str, days: int, newest: str = "") -> None:
        super().__init__()
        self.folder, self.stem, self.days, self.newest = Path(folder), stem, days, newest
        self._day: date | None = None
        self._file = -1

    def emit(self, record: logging.LogRecord) -> None:
        """Keep one line."""
        try:
            line = f"{self.format(record)}\n".encode("utf-8", "backslashreplace")
            os.write(self._file_of(datetime.fromtimestamp(record.created, UTC).date()), line)
        except OSError:
            self.close_file()

    def close_file(self) -> None:
        """Let the next line open its file anew."""
        if self._file >= 0:
            os.close(self._file)
        self._day, self._file = None, -1

    def close(self) -> None:
        """Let go of the file."""
        self.close_file()
        super().close()

    def _file_of(self, day: date) -> int:
        if day != self._day:
            self.close_file()
            self.folder.mkdir(mode=0o700, exist_ok=True)
            name = self.folder / f"{self.stem}-{day.isoformat()}.log"
            self._file = os.open(name, os.O_WRONLY | os.O_APPEND | os.O_CREAT | os.O_CLOEXEC, 0o600)
            self._day = day
            if self.newest:
                self._name_again(name)
            self._forget(day - timedelta(days=self.days))
        return self._file

    def _name_again(self, name: Path) -> None:
        coming = self.folder / f".{self.newest}-{os.getpid()}"
        with suppress(OSError):  # a disk that knows no second names
            coming.unlink(missing_ok=True)
            coming.hardlink_to(name)
            coming.replace(self.folder / self.newest)
            coming.unlink(missing_ok=True)  # where both were names of one file already, replacing does nothing

    def _forget(self, before: date) -> None:
        for path in self.folder.glob(f"{self.stem}-*.log"):
            if path.stem.removeprefix(f"{self.stem}-") <= before.isoformat():
                path.unlink(missing_ok=True)


class TellsMore(logging.Filter):
    """Leaves out what Django says of an answer 503: why it was one is logged where it is known, and a full queue is no news."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Whether the record tells more than that."""
        return getattr(record, "status_code", None) != 503


class JsonLines(logging.Formatter):
    """A record as a line of JSON, without what a person typed."""

    def format(self, record: logging.LogRecord) -> str:
        """Return the line."""
        at = datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
        said: dict[str, Any] = {"at": at, "level": record.levelname, "logger": record.name, "request": request_number.get()}
        told = getattr(record, "told", None)
        if isinstance(told, dict):
            said |= told
        elif record.args or record.name.startswith(OWN):
            said["event"] = str(record.msg)  # the sentence with its gaps, never what was filled in
        if record.exc_info and record.exc_info[0] is not None:
            said |= {"error": record.exc_info[0].__name__, "where": _frames(record.exc_info[2])}
        return json.dumps({name: value for name, value in said.items() if value != ""})


def _frames(trace: Any) -> list[str]:
    frames = traceback.extract_tb(trace)[-_MOST_FRAMES:]
    return [f"{'/'.join(Path(frame.filename).parts[-3:])}:{frame.lineno} {frame.name}" for frame in frames]
