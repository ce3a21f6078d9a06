"""Everything that is looked at, in the order in which it is told; what cannot be looked at is told, too."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from django.db import DatabaseError

from deploy.doctor import figures, last_backup, machine, photo_files, reached, tables
from deploy.doctor.findings import Finding, ill

Check = Callable[[], Iterator[Finding]]

QUICK: tuple[tuple[str, Check], ...] = (
    ("Backup", last_backup.backup),
    ("Tables", tables.migrations),
    ("Disk", machine.disk),
    ("Clock", machine.clock),
    ("Libraries", machine.libraries),
    ("Type", machine.fonts),
    ("Styles", machine.collected),
    ("Address", reached.settings_of_address),
    ("Desks", figures.unsent),
)
THOROUGH: tuple[tuple[str, Check], ...] = (
    ("Database", tables.database),
    ("Photos", photo_files.photos),
    ("Runs", figures.summaries),
    ("Editions", figures.editions),
    ("Outside", reached.as_the_world_sees_it),
)
"""What reads every row and file, or asks the network."""

MENDS: dict[str, Callable[[], str]] = {"summaries": figures.mend_summaries, "photos": photo_files.put_aside}


def examine(checks: Iterable[tuple[str, Check]]) -> Iterator[Finding]:
    """Yield what each of these checks finds, one after the other."""
    for about, check in checks:
        try:
            yield from list(check())
        except (DatabaseError, OSError, ValueError, TypeError, LookupError, ArithmeticError) as error:
            said = (str(error).strip().splitlines() or [type(error).__name__])[0]
            yield ill(about, f"This could not be looked at ({said}).", "look at the other lines first")
