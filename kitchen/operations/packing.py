"""Packing: the whole library into one archive, recipe by recipe, so that a large one takes no more memory than a small one."""

from __future__ import annotations

import tomllib
from collections import Counter
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import BinaryIO

from django.conf import settings

from kitchen.archivists import archivists
from kitchen.domain.archive import FoodsDocument, Manifest, RecipeDocument
from kitchen.models import Recipe
from kitchen.publish.archive import ArchiveWriter
from kitchen.queries.packed import food_documents, packed_recipes, photo_files, recipe_document, recipe_with_all, site_document


def pack_library(*, out: BinaryIO, at: datetime) -> Manifest:
    """Write everything that the kitchen keeps into an archive, accounts and passwords excepted, and return its manifest."""
    with ArchiveWriter(out, at=at) as archive:
        packed: set[str] = set()
        missing: set[str] = set()
        archive.add_document("site.json", site_document())
        _pack_foods(archive)
        for number in packed_recipes():
            recipe = recipe_with_all(number)
            if recipe is not None:
                document = recipe_document(recipe)
                _pack_recipe(archive, recipe, document)
                _pack_files(archive, document, packed, missing)
        for archivist in archivists():
            archive.add_document(f"apps/{archivist.slug}.json", archivist.pack())
        left_out = Counter[str]()
        for archivist in archivists():
            left_out.update(archivist.left_out())
        return archive.finish(made_by=f"wattfare {version()}", missing=sorted(missing), left_out=+left_out)


@cache
def version() -> str:
    """Return this program's version, as its project file says."""
    try:
        return str(tomllib.loads((Path(settings.BASE_DIR) / "pyproject.toml").read_text("utf-8"))["project"]["version"])
    except (OSError, KeyError, tomllib.TOMLDecodeError):
        return "of unknown version"


def _pack_foods(archive: ArchiveWriter) -> None:
    foods = food_documents()
    archive.add_document("foods.json", FoodsDocument(tuple(foods)))
    archive.counts["foods"] += len(foods)


def _pack_recipe(archive: ArchiveWriter, recipe: Recipe, document: RecipeDocument) -> None:
    archive.add_document(f"recipes/{document.uid}.json", document)
    archive.counts += Counter(
        recipes=1, revisions=len(document.revisions), editions=len(document.editions), photos=len(document.photos)
    )
    for archivist in archivists():
        held = archivist.pack_recipe(recipe)
        if held is not None:
            archive.add_document(f"apps/{archivist.slug}/{document.uid}.json", held)


def _pack_files(archive: ArchiveWriter, document: RecipeDocument, packed: set[str], missing: set[str]) -> None:
    """Add the photos' files that are not in yet: two recipes may show the same picture."""
    for name in photo_files(document):
        if name in packed or name in missing:
            continue
        there = archive.add_file(f"photos/{name}", Path(settings.MEDIA_ROOT) / name)
        (packed if there else missing).add(name)
        archive.counts["files"] += there
