"""Bring in recipes from saved pages: ``manage.py import_recipe FILE... [--cook NAME] [--show]``."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.contrib.auth.models import User
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from kitchen.forms.importing import PreviewForm
from kitchen.importers import MOST_BYTES, ReadPage, ReadRecipe, UnreadableRecipe, read_file
from kitchen.importers.drafting import doubts_of, draft_fields
from kitchen.operations.importing import bring_in_recipe

SERVINGS = "4"


class Command(BaseCommand):
    """Reads saved pages, recipe data or texts, and makes a draft of each; a file that cannot be read does not stop the others."""

    help = "Bring in recipes from saved pages (HTML), recipe data (JSON) or plain text."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Describe the command line."""
        parser.add_argument("files", nargs="+", type=Path, metavar="FILE")
        parser.add_argument("--cook", metavar="NAME", help="whose recipes they become; the owner's when left out")
        parser.add_argument("--show", action="store_true", help="print what was read, one JSON object a line, and keep nothing")

    def handle(self, *args: Any, **options: Any) -> None:
        """Read each file; say what became of it."""
        cook = None if options["show"] else _cook(options["cook"])
        refused = 0
        for file in options["files"]:
            try:
                page = read_file(_bytes(file))
                self.stdout.write(
                    json.dumps(_shown(file, page), ensure_ascii=False) if cook is None else self._made(cook, file, page)
                )
            except UnreadableRecipe as reason:
                refused += 1
                self.stderr.write(f"{file}: {reason}")
        if refused:
            raise CommandError(f"{refused} of {len(options['files'])} files were not brought in; the reasons stand above.")

    def _made(self, cook: User, file: Path, page: ReadPage) -> str:
        """Make the draft of a page and return what to say about it."""
        fields = draft_fields(page.recipe)
        doubts = doubts_of(page.recipe)
        if not fields["servings"]:
            fields["servings"] = SERVINGS
            doubts = [*doubts, f"{SERVINGS} servings were taken, as for a new recipe."]
        form = PreviewForm(fields)
        if not form.is_valid():
            raise UnreadableRecipe(" ".join(f"{name}: {' '.join(map(str, errors))}" for name, errors in form.errors.items()))
        recipe = bring_in_recipe(owner=cook, draft=form.draft(), at=timezone.now())
        others = [f"Also on this page, not brought in: “{other.title}”." for other in page.others]
        return "\n  ".join([f"{file}: {recipe.title} -> /bench/recipes/{recipe.slug}/edit/", *doubts, *others])


def _cook(name: str | None) -> User:
    if name is None:
        found = User.objects.filter(is_superuser=True, is_active=True).order_by("pk").first()
        if found is None:
            raise CommandError("Nobody runs this kitchen yet. Open the first link (manage.py first_link), then try again.")
        return found
    named = User.objects.filter(username__iexact=name).first()
    if named is None:
        raise CommandError(f"There is no cook “{name}”.")
    return named


def _bytes(file: Path) -> bytes:
    try:
        if file.stat().st_size > MOST_BYTES:
            raise UnreadableRecipe("This file is larger than 10 MB.")
        return file.read_bytes()
    except OSError as error:
        raise UnreadableRecipe(f"It cannot be opened: {error.strerror}.") from error


def _shown(file: Path, page: ReadPage) -> dict[str, Any]:
    return {"file": str(file), **_recipe(page.recipe), "others": [_recipe(other) for other in page.others]}


def _recipe(recipe: ReadRecipe) -> dict[str, Any]:
    """Return a recipe as plain data; times in minutes."""
    return {
        "title": recipe.title,
        "ingredients": list(recipe.lines),
        "parts": [{"title": part.title, "lines": list(part.lines)} for part in recipe.parts],
        "steps": [step.text for step in recipe.steps],
        "sections": [step.section for step in recipe.steps],
        "servings": recipe.makes.number,
        "yield": recipe.makes.words,
        "prep_min": recipe.times.prep_min,
        "cook_min": recipe.times.cook_min,
        "total_min": recipe.times.total_min,
        "author": recipe.author,
        "summary": recipe.summary,
        "tags": list(recipe.tags),
        "url": recipe.home_url,
        "image": recipe.image_url,
        "published": recipe.published,
        "read_from": recipe.source,
        "not_understood": doubts_of(recipe),
    }
