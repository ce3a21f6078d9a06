"""manage.py unpack FILE: add what an archive holds and this kitchen does not."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.contrib.auth.models import User
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from kitchen.archivists import ArchiveRefused
from kitchen.importers.archive import Archive
from kitchen.operations.unpacking import owners_in, unpack_library
from kitchen.queries.cooks import cook_called
from kitchen.templatetags.archives import counted


class Command(BaseCommand):
    """Unpack an archive whole or not at all; nothing that is here is changed or doubled."""

    help = "Adds what a packed library holds and this kitchen does not. --check only says what would happen."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the file, whose the recipes will be, and what to do with the kitchen's own words."""
        parser.add_argument("file", type=Path, metavar="FILE", help="an archive that “manage.py pack” made")
        parser.add_argument("--check", action="store_true", help="only say what would happen")
        parser.add_argument("--owner", default="", metavar="NAME", help="whose all the recipes will be")
        parser.add_argument(
            "--as",
            action="append",
            default=[],
            dest="cooks",
            metavar="NAME=COOK",
            help="whose the recipes of a cook in the archive will be; else the cook here of the same name",
        )
        parser.add_argument("--words", action="store_true", help="take over the kitchen's name, currency and measures, too")

    def handle(self, *args: Any, **options: Any) -> None:
        """Unpack, and say what came of it."""
        owner = _owner(options["owner"])
        try:
            with options["file"].open("rb") as file:
                archive = Archive(file)
                cooks = self._cooks(archive, options["cooks"], owner, by_name=not options["owner"])
                account = unpack_library(
                    archive=archive, by=owner, at=timezone.now(), check=options["check"], words=options["words"], cooks=cooks
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
        left = counted(account.left)
        if left:
            self.stdout.write(f"Cannot be taken: {left}.")
        for sentence in account.said:
            self.stdout.write(sentence)

    def _cooks(self, archive: Archive, said: list[str], owner: User, *, by_name: bool) -> dict[str, User]:
        """Return which cooks here the archive's names mean, and say of each whose recipes are whose."""
        cooks = dict(_pair(words) for words in said)
        for name, count in owners_in(archive).items():
            cook = cooks.get(name) or (cook_called(name) if by_name else None)
            if cook is not None:
                cooks[name] = cook
            recipes = "1 recipe" if count == 1 else f"{count:,} recipes"
            self.stdout.write(f"{recipes} of “{name}”: of {(cook or owner).get_username()} here.")
            if cook is None and by_name:
                self.stdout.write(f"No cook here is called “{name}”; to give them to another, add --as “{name}=COOK”.")
        return cooks


def _pair(words: str) -> tuple[str, User]:
    name, equals, cook = words.rpartition("=")
    if not equals or not name:
        raise CommandError(f"--as {words!r} is not NAME=COOK: a name in the archive, and the cook here.")
    return name, _owner(cook)


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
