"""manage.py pack FILE: the whole library as one archive."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from kitchen.operations.packing import pack_library


class Command(BaseCommand):
    """Pack everything but accounts and passwords; the file is there whole or not at all."""

    help = "Packs the whole library (recipes, photos, foods, runs, prices) into one file. No account or password is in it."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the file's name."""
        parser.add_argument("file", type=Path, metavar="FILE", help="where to put the archive, for example library.zip")

    def handle(self, *args: Any, **options: Any) -> None:
        """Write beside the place first, then move into it; say what is in it."""
        path: Path = options["file"]
        if path.exists():
            raise CommandError(f"{path} exists already. Name another file, or move that one away.")
        beside = ""
        try:
            handle, beside = tempfile.mkstemp(dir=path.parent, prefix=".packing-")
            with os.fdopen(handle, "wb") as out:
                manifest = pack_library(out=out, at=timezone.now())
            Path(beside).chmod(0o644)
            Path(beside).replace(path)
        except OSError as error:
            raise CommandError(f"{path} cannot be written ({error.strerror}).") from None
        finally:
            Path(beside or path.with_name(".packing-none")).unlink(missing_ok=True)
        counts = ", ".join(f"{count} {kind}" for kind, count in manifest.counts.items() if count)
        self.stdout.write(f"{path}: {counts or 'an empty library'}; {path.stat().st_size / 2**20:.1f} MB.")
        for kind, count in manifest.left_out.items():
            self.stdout.write(f"Not in it: {count:,} {kind}. A backup keeps everything: manage.py backup")
        for name in manifest.missing:
            self.stdout.write(f"The photo file {name} is mentioned and was not there.")
