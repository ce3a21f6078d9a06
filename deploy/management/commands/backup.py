"""manage.py backup: everything into one file, while the site runs."""

from __future__ import annotations

import errno
from argparse import ArgumentParser
from dataclasses import replace
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError
from django.utils import timezone

from deploy.backup.document import passphrase_in
from deploy.backup.places import keep_note, on_disk_of_its_own, own_folder, remove_older
from deploy.backup.proving import CannotProve, end_tidily, prove
from deploy.backup.writing import CannotBackUp, Made, make_backup
from deploy.management.commands.prepare import why_unusable
from kitchen.archivists import ArchiveRefused


class Command(BaseCommand):
    """Accounts, settings, every table and every photo, as they were at one moment; whoever is signed in stays out of it."""

    requires_system_checks = ()
    help = "Makes a backup of everything while the site runs. --prove restores it into an empty scratch place and compares."

    def run_from_argv(self, argv: list[str]) -> None:
        """Run as a program of its own, which ends tidily when it is told to stop."""
        end_tidily()
        super().run_from_argv(argv)

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the folder, what to keep there, and how to seal and prove."""
        parser.add_argument("--to", type=Path, metavar="FOLDER", help="an existing folder (else backups/ in the data folder)")
        parser.add_argument("--mounted", action="store_true", help="refuse a folder on the same disk as the data")
        parser.add_argument("--prove", action="store_true", help="restore it into an empty scratch place and compare everything")
        parser.add_argument("--passphrase-file", type=Path, metavar="FILE", help="seal it with the first line of this file")
        parser.add_argument(
            "--keep",
            type=_count,
            nargs=3,
            metavar=("DAYS", "WEEKS", "MONTHS"),
            help="then remove older ones there: keep the newest of so many days, weeks and months (7 5 12)",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        """Make it, prove it, then make room; older ones go only when the new one is good."""
        folder = self._folder(options["to"], mounted=options["mounted"])
        made = self._make(folder, options["passphrase_file"])
        manifest = made.manifest
        sealed = ", sealed" if made.sealed else ""
        self.stdout.write(
            f"{made.path}: {manifest.rows:,} rows in {len(manifest.tables)} tables and {manifest.photos:,} photo files, "
            f"{made.size / 2**20:.1f} MB{sealed}."
        )
        if manifest.missing:
            self.stdout.write(
                f"{len(manifest.missing):,} photo files are mentioned and are not there, {manifest.missing[0]} among them. "
                "See what else: manage.py doctor"
            )
        if options["prove"]:
            self._prove(made, options["passphrase_file"])
        if options["keep"]:
            days, weeks, months = options["keep"]
            for path in remove_older(folder, days=days, weeks=weeks, months=months):
                self.stdout.write(f"Removed {path.name}.")

    def _folder(self, named: Path | None, *, mounted: bool) -> Path:
        folder = named or own_folder()
        try:
            if named is None:
                folder.mkdir(mode=0o700, exist_ok=True)
            if not folder.is_dir():
                raise CommandError(f"There is no folder {folder}. Make it, or mount its disk, and try again.")
            if mounted and not on_disk_of_its_own(folder):
                raise CommandError(
                    f"{folder} is on the same disk as the data: nothing is mounted there. Mount its disk and try again."
                )
        except OSError as error:
            raise CommandError(_why_not_written(folder, error)) from None
        return folder

    def _make(self, folder: Path, passphrase_file: Path | None) -> Made:
        try:
            return make_backup(folder=folder, at=timezone.now(), passphrase=passphrase_in(passphrase_file))
        except (CannotBackUp, ArchiveRefused) as refusal:
            raise CommandError(str(refusal)) from None
        except DatabaseError as error:
            raise CommandError(why_unusable(error)) from None
        except OSError as error:
            raise CommandError(_why_not_written(folder, error)) from None

    def _prove(self, made: Made, passphrase_file: Path | None) -> None:
        unpacked = sum(note.size for note in made.manifest.files)
        try:
            said = prove(made.path, passphrase_file=passphrase_file, unpacked_bytes=unpacked)
        except CannotProve as refusal:
            raise CommandError(f"The backup is kept and not proved. {refusal}") from None
        for words in said:
            self.stdout.write(words)
        at = timezone.now()
        keep_note(replace(made.note(), proved_at=at.isoformat()))
        self.stdout.write("Proved: it was restored into an empty place and compared.")


def _count(spelled: str) -> int:
    if not (spelled.isascii() and spelled.isdigit() and int(spelled) <= 10_000):
        raise ValueError(spelled)
    return int(spelled)


def _why_not_written(folder: Path, error: OSError) -> str:
    if error.errno in {errno.ENOSPC, errno.EDQUOT}:
        return (
            f"The disk is full: the backup does not fit into {folder}, and nothing of it is left there. "
            "Free some space, or name another folder: --to FOLDER."
        )
    return f"The backup cannot be written into {folder} ({error.strerror or error}). Name another folder: --to FOLDER."
