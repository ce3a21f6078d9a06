"""``manage.py demo``: load the example kitchen; ``--remove`` takes away exactly what it made."""

from __future__ import annotations

from argparse import ArgumentParser
from collections import Counter

from django.core.management.base import BaseCommand, CommandError

from deploy.demo.load import AlreadyLoaded, load_demo
from deploy.demo.remove import NotLoaded, remove_demo


class Command(BaseCommand):
    """Load or remove the recipes, runs and prices of an invented sky-watching club."""

    help = "Load the example kitchen, or remove exactly what it made."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--remove", action="store_true", help="take the example away again")

    def handle(self, *, remove: bool, **options: object) -> None:
        if remove:
            self.take_away()
        else:
            self.load()

    def load(self) -> None:
        try:
            made = load_demo()
        except AlreadyLoaded:
            raise CommandError("The example is here already. Take it away first: python manage.py demo --remove") from None
        self.stdout.write(f"The example is here: {in_words(made)}.")

    def take_away(self) -> None:
        try:
            removal = remove_demo()
        except NotLoaded:
            raise CommandError("There is no example to take away. Load it with: python manage.py demo") from None
        self.stdout.write(f"Taken away: {in_words(removal.gone)}.")
        for sentence in removal.stayed:
            self.stdout.write(sentence)


def in_words(counts: Counter[str]) -> str:
    """Return "9 recipes, 23 runs" for the counts of a load or a removal."""
    words = [f"{count} {_plural(kind, count)}" for kind, count in counts.items() if count]
    return ", ".join(words) or "nothing"


def _plural(kind: str, count: int) -> str:
    singular = {"powersource": "power source", "user": "cook"}.get(kind, kind)
    return singular if count == 1 else f"{singular}s"
