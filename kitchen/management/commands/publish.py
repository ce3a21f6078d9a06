"""``manage.py publish SLUG ...``: publish the newest revision of recipes as their next editions."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from kitchen.models import Recipe
from kitchen.operations import CannotPublish, NothingChanged, publish_recipe
from kitchen.queries import SiteClock


class Command(BaseCommand):
    help = "Publish the newest revision of one or more recipes as their next editions."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("slugs", nargs="+", metavar="SLUG", help="the recipe's address, as in /r/SLUG/")
        parser.add_argument("--note", default="", help="what this edition brings, in a few words")

    def execute(self, *args: Any, **options: Any) -> Any:
        with timezone.override(SiteClock()):
            return super().execute(*args, **options)

    def handle(self, *args: Any, **options: Any) -> None:
        recipes = {recipe.slug: recipe for recipe in Recipe.objects.select_related("owner").filter(slug__in=options["slugs"])}
        unknown = [slug for slug in options["slugs"] if slug not in recipes]
        if unknown:
            raise CommandError(f"There is no recipe at {', '.join(unknown)}. Nothing was published.")
        for recipe in recipes.values():
            self.stdout.write(f"{recipe.slug}: {_publish(recipe, note=options['note'])}")


def _publish(recipe: Recipe, *, note: str) -> str:
    revision = recipe.revisions.order_by("-number").first()
    if revision is None:
        raise CommandError(f"{recipe.slug} has no revision yet.")
    try:
        edition = publish_recipe(recipe=recipe, revision=revision, by=recipe.owner, note=note[:300], at=timezone.now())
    except NothingChanged as unchanged:
        return str(unchanged)
    except CannotPublish as refusal:
        raise CommandError(f"{recipe.slug}: {refusal}") from None
    return f"edition {edition.number} is published."
