"""Proving a backup: a second program restores it into an empty scratch place, compares every row and photo, and reports.

The scratch place has a data folder of its own and, on PostgreSQL, a database of its own; both are taken away afterwards. A
program of its own, because what brings tables up to date works on the database that its settings name, and on no other.
"""

from __future__ import annotations

import secrets
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

from django.conf import settings
from django.db import DatabaseError, connection

from deploy.place import find_place

_SCRATCH = ".proving-"
_DAY_S = 24 * 3600.0


class CannotProve(Exception):
    """The backup could not be proved; the message says which right or what room is lacking, or what came out otherwise."""


def prove(path: Path, *, passphrase_file: Path | None = None, unpacked_bytes: int = 0) -> list[str]:
    """Restore a backup into an empty scratch place and compare everything; return what the second program compared.

    Raises
    ------
    CannotProve
        If there is no room or no right to make the scratch place, or if anything came out otherwise than it went in.
    """
    _need_room(unpacked_bytes)
    _remove_left_over()
    with (
        _stopping_waits(),
        tempfile.TemporaryDirectory(dir=settings.DATA_DIR, prefix=_SCRATCH) as folder,
        _scratch_database() as address,
    ):
        place = find_place(
            Path(settings.BASE_DIR), WATTFARE_DATA=folder, DATABASE_URL=address, DJANGO_SETTINGS_MODULE="deploy.settings"
        )
        command = [sys.executable, "manage.py", "restore", str(path.resolve())]
        command += ["--passphrase-file", str(passphrase_file.resolve())] if passphrase_file else []
        status, said, failed = _run(command, place.variables)
    if status:
        raise CannotProve((failed.strip().splitlines() or ["the second program did not say why"])[-1])
    return [line for line in said.splitlines() if line.startswith(("Every", "This backup"))]


def _run(command: list[str], variables: Mapping[str, str]) -> tuple[int, str, str]:
    """Run the second program to its end; return its exit status and what it said. It never outlives this one."""
    pipe = subprocess.PIPE
    with subprocess.Popen(command, cwd=settings.BASE_DIR, env=dict(variables), stdout=pipe, stderr=pipe, text=True) as program:
        try:
            with _stopping_heard():
                said, failed = program.communicate()
        except BaseException:
            program.kill()
            raise
    return program.returncode, said, failed


@contextmanager
def _stopping_waits() -> Iterator[None]:
    """Let a word to stop wait while the scratch place is made and taken away: stopped in between, it would stay."""
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGTERM})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


@contextmanager
def _stopping_heard() -> Iterator[None]:
    """Hear a word to stop, also one that waited, while all there is to take away is known."""
    try:
        signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGTERM})
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGTERM})


def end_tidily() -> None:
    """Let a service manager's word to stop end the program as Ctrl-C does: what is half done is taken away first."""
    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
        signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGTERM})  # also where the program that began this one lets it wait


def _remove_left_over() -> None:
    """Take away the scratch folders of proofs that were killed more than a day ago."""
    for folder in Path(settings.DATA_DIR).glob(f"{_SCRATCH}*"):
        if time.time() - folder.stat().st_mtime > _DAY_S:
            shutil.rmtree(folder, ignore_errors=True)


def _need_room(unpacked_bytes: int) -> None:
    """Refuse where the rows and photos would not fit; indexes and the log of what is written take as much again as the rows."""
    free = shutil.disk_usage(settings.DATA_DIR).free
    if free < 2 * unpacked_bytes + (64 << 20):
        raise CannotProve(
            f"There is no room to prove it: {free >> 20:,} MB are free in {settings.DATA_DIR}, "
            f"and the scratch place needs about {(2 * unpacked_bytes >> 20) + 64:,} MB."
        )


@contextmanager
def _scratch_database() -> Iterator[str]:
    """Give the address of an empty database that goes again: empty text for a SQLite file in the scratch folder."""
    if connection.vendor != "postgresql":
        yield ""
        return
    name = f"wattfare_proof_{secrets.token_hex(6)}"
    try:
        with connection.cursor() as cursor:
            cursor.execute(f"CREATE DATABASE {name} TEMPLATE template0")
    except DatabaseError as error:
        said = (str(error).strip().splitlines() or [""])[0]
        user = connection.settings_dict["USER"] or "your role"
        raise CannotProve(
            f"No scratch database can be made ({said}). Give the role that right: "
            f'sudo -u postgres psql -c "ALTER ROLE {user} CREATEDB"'
        ) from None
    try:
        yield _address_of(name)
    finally:
        with connection.cursor() as cursor:
            cursor.execute(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)")


def _address_of(name: str) -> str:
    """Return the address of another database on the same server, for the same role."""
    said = connection.settings_dict
    user = quote(said["USER"], safe="") + (":" + quote(said["PASSWORD"], safe="") if said["PASSWORD"] else "")
    host = quote(said["HOST"] or "", safe=":[]")
    port = f":{said['PORT']}" if said["PORT"] else ""
    return f"postgresql://{user + '@' if user else ''}{host}{port}/{name}"
