"""manage.py bake: the public site as plain files."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from deploy.baking.writing import Asked, CannotBake, bake


class Command(BaseCommand):
    """Every public page as it was written, one card and one picture each, to be served by any host of files."""

    help = "Writes the public site into a folder as plain files. What did not change is taken over from the last time."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the folder, and the addresses."""
        parser.add_argument("out", type=Path, metavar="OUT", help="a folder that is empty, not there yet, or baked before")
        parser.add_argument("--site", default="", metavar="URL", help="the kitchen itself, for other sizes and kits")
        parser.add_argument("--servings", type=int, nargs="*", default=[], metavar="N", help="pages and cards for these too")

    def handle(self, *_: Any, **options: Any) -> None:
        """Write it, or say why not."""
        asked = Asked(options["out"].absolute(), options["site"].rstrip("/"), tuple(options["servings"]))
        try:
            baked = bake(asked, self.stdout.write)
        except CannotBake as refusal:
            raise CommandError(str(refusal)) from None
        except OSError as error:
            raise CommandError(f"{asked.out} cannot be written ({error.strerror}). What lay there still lies there.") from None
        count = len(baked.files) + len(baked.kept)
        self.stdout.write(f"{asked.out}: {baked.recipes} recipes in {count} files, {baked.made} recipes made anew.")
