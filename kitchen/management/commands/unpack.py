"""manage.py unpack FILE: add what an archive holds and this kitchen does not."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.contrib.auth.models import User
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from kitchen.archivists import ArchiveRefused
from kitchen.importers.archive import Archive
from kitchen.operations.unpacking import unpack_library
from kitchen.templatetags.archives import counted


class Command(BaseCommand):
    """Unpack an archive whole or not at all; nothing that is here is changed or doubled."""

    help = "Adds what a packed library holds and this kitchen does not. --check only says what would happen."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the file, whose the recipes will be, and what to do with the kitchen's own words."""
        parser.add_argument("file", type=Path, metavar="FILE", help="an archive that “manage.py pack” made")
        parser.add_argument("--check", action="store_true", help="only say what would happen")
        parser.add_argument("--owner", default="", metavar="NAME", help="whose the recipes will be (else the kitchen's owner)")
        parser.add_argument("--words", action="store_true", help="take over the kitchen's name, currency and measures, too")

    def handle(self, *args: Any, **options: Any) -> None:
        """Unpack, and say what came of it."""
        owner = _owner(options["owner"])
        try:
            with options["file"].open("rb") as file:
                account = unpack_library(
                    archive=Archive(file), by=owner, at=timezone.now(), check=options["check"], words=options["words"]
                )
        except OSError as error:
            raise CommandError(f"{options['file']} cannot be read ({error.strerror}).") from None
        except ArchiveRefused as refusal:
            raise CommandError(str(refusal)) from None
        added, same = counted(account.added), counted(account.same)
        verb = "Would add" if options["check"] else "Added"
        self.stdout.write(f"{verb}: {added}." if added else "Nothing new: everything is here already.")
        if same:
            self.stdout.write(f"Here already: {same}.")
        for sentence in account.said:
            self.stdout.write(sentence)


def _owner(name: str) -> User:
    if name:
        found = User.objects.filter(username=name).first()
        if found is None:
            raise CommandError(f"There is no cook called “{name}”.")
        return found
    found = User.objects.filter(is_superuser=True, is_active=True).order_by("pk").first()
    if found is None:
        raise CommandError("Nobody owns this kitchen yet. Use the link of manage.py first_link, or name a cook: --owner NAME.")
    return found
