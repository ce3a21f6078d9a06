"""manage.py first_link: print the link that makes the owner's account."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.urls import reverse
from django.utils import timezone

from kitchen.operations import LinkIsDead, first_link_token


class Command(BaseCommand):
    """Print the one-time link, good for a day, while nobody owns the kitchen."""

    help = "Prints the one-time link that makes the owner's account."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the address at which the site answers."""
        parser.add_argument("--address", default="http://127.0.0.1:8000", help="where the site answers (default: %(default)s)")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print the link alone, so that other programs can use it."""
        try:
            token = first_link_token(at=timezone.now())
        except LinkIsDead as error:
            raise CommandError(str(error)) from None
        self.stdout.write(options["address"].rstrip("/") + reverse("kitchen:start", args=[token]))
