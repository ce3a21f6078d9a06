"""Recipes from elsewhere: a saved page, recipe data or pasted text in, a recipe out; no files, no network."""

from kitchen.importers.decoding import MOST_BYTES
from kitchen.importers.found import ReadPage, ReadRecipe, UnreadableRecipe
from kitchen.importers.reading import read_file, read_typed

__all__ = [
    "MOST_BYTES",
    "ReadPage",
    "ReadRecipe",
    "UnreadableRecipe",
    "read_file",
    "read_typed",
]
