"""manage.py first_link: print the link that makes the owner's account, or one with which the owner chooses a new password."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.urls import reverse
from django.utils import timezone

from kitchen.operations import LinkIsDead, cook_link, first_link_token, owner_to_recover
from kitchen.operations.journal import Hand


class Command(BaseCommand):
    """Print the one-time link: good for a day while nobody owns the kitchen, for three days where the owner is locked out."""

    help = "Prints the one-time link that makes the owner's account, or with --recover one that gives it a new password."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the address at which the site answers."""
        parser.add_argument("--address", default="http://127.0.0.1:8000", help="where the site answers (default: %(default)s)")
        parser.add_argument(
            "--recover", metavar="NAME", nargs="?", const="", help="a link with which the owner chooses a new password"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the link alone, so that other programs can use it."""
        try:
            path = _first_path() if options["recover"] is None else _recovery_path(options["recover"])
        except LinkIsDead as error:
            raise CommandError(str(error)) from None
        self.stdout.write(options["address"].rstrip("/") + path)


def _first_path() -> str:
    return reverse("kitchen:start", args=[first_link_token(at=timezone.now())])


def _recovery_path(name: str) -> str:
    link = cook_link(cook=owner_to_recover(name), by=Hand(None, timezone.now()))
    return reverse("kitchen:join", args=[link.uid, link.token])
