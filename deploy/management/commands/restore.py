"""manage.py restore FILE: put a backup back, all of it or nothing."""

from __future__ import annotations

import dataclasses
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError
from django.utils import timezone

from deploy.backup.document import Backup, open_backup, passphrase_in
from deploy.backup.places import keep_note, last_backup
from deploy.backup.proving import CannotProve, end_tidily, prove
from deploy.backup.restoring import restore, restore_photos, what_is_here
from deploy.backup.writing import CannotBackUp, keep_rows, surroundings
from deploy.doctor.photo_files import missing_files, named_files
from deploy.management.commands.prepare import why_unusable, why_unwritten
from kitchen.archivists import ArchiveRefused


class Command(BaseCommand):
    """Into the database that the settings name, whichever kind it is; a place in use is left alone without --replace."""

    requires_system_checks = ()
    help = "Restores a backup: every byte is looked at first, and everything is compared before it counts."

    def run_from_argv(self, argv: list[str]) -> None:
        """Run as a program of its own, which ends tidily when it is told to stop."""
        end_tidily()
        super().run_from_argv(argv)

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the file, and the word without which nothing here is replaced."""
        parser.add_argument("file", type=Path, metavar="FILE", help="a backup that “manage.py backup” made")
        parser.add_argument("--passphrase-file", type=Path, metavar="FILE", help="opens a sealed backup: its first line")
        parser.add_argument("--replace", action="store_true", help="replace what is here; a backup of that is made first")
        parser.add_argument("--without-backup", action="store_true", help="make no backup of what is replaced")
        parser.add_argument("--photos", action="store_true", help="only put back photo files that are missing here")
        parser.add_argument("--prove", action="store_true", help="only prove it in an empty scratch place; change nothing here")

    def handle(self, *args: Any, **options: Any) -> None:
        """Open, refuse or restore, and say what is otherwise than it was."""
        path: Path = options["file"]
        try:
            with path.open("rb") as file:
                backup = open_backup(file, passphrase_in(options["passphrase_file"]))
                if options["prove"]:
                    self._prove(path, backup, options["passphrase_file"])
                elif options["photos"]:
                    self._put_photos_back(backup)
                else:
                    self._make_way(replace=options["replace"], backup=not options["without_backup"])
                    restore(backup, self.stdout.write)
                    self._say_done(backup)
        except (ArchiveRefused, CannotProve) as refusal:
            raise CommandError(str(refusal)) from None
        except DatabaseError as error:
            raise CommandError(f"{why_unusable(error)} Nothing was changed.") from None
        except OSError as error:
            raise CommandError(_why_not(path, error)) from None

    def _prove(self, path: Path, backup: Backup, passphrase_file: Path | None) -> None:
        unpacked = sum(note.size for note in backup.manifest.files)
        for words in prove(path, passphrase_file=passphrase_file, unpacked_bytes=unpacked):
            self.stdout.write(words)
        last = last_backup()
        if last is not None and Path(last.path) == path.resolve():
            keep_note(dataclasses.replace(last, proved_at=timezone.now().isoformat()))
        self.stdout.write("Proved: it was restored into an empty place and compared. Nothing here was changed.")

    def _put_photos_back(self, backup: Backup) -> None:
        backup.verify()
        put = restore_photos(backup, missing_files(named_files()))
        self.stdout.write(f"{len(put):,} photo files that were missing are back; nothing else was changed.")

    def _make_way(self, *, replace: bool, backup: bool) -> None:
        here = what_is_here()
        if not here:
            return
        if not replace:
            raise CommandError(
                f"This place is in use: it holds {here}. Nothing was changed. "
                "To put the backup in their place, add --replace; a backup of what is here is made first."
            )
        if backup:
            self._back_up_first()

    def _back_up_first(self) -> None:
        try:
            path = keep_rows(timezone.now())
        except CannotBackUp as refusal:
            raise CommandError(
                f"What is here cannot be backed up first, so nothing was changed. {refusal} "
                "To replace it all the same, add --without-backup."
            ) from None
        self.stdout.write(f"The rows that were here are kept in {path}; photo files are never taken away.")

    def _say_done(self, backup: Backup) -> None:
        manifest = backup.manifest
        self.stdout.write(
            f"Restored as it was on {manifest.made_at:%d %B %Y, %H:%M} UTC, by {manifest.made_by}. Everybody signs in again."
        )
        self.stdout.write("Where the site is being served, start it anew.")
        here = surroundings()
        for name, value in sorted(manifest.surroundings.items()):
            if name in here and here[name] != value:
                self.stdout.write(f"{name} was “{value}” there and is “{here[name]}” here.")


def _why_not(path: Path, error: OSError) -> str:
    if error.filename == str(path):
        return f"{path} cannot be read ({error.strerror})."
    return f"{why_unwritten(error)} Nothing was changed; the photos are in {settings.MEDIA_ROOT}."
