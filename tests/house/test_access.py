"""Views fetch nothing by themselves: what an address names is fetched, and refused, in the access module of its app."""

import ast

from tests.house.tree import is_view, name_of, parsed, python_files

FETCHES = {
    *("objects", "_default_manager", "_base_manager", "get_object_or_404", "get_list_or_404"),
    *("filter", "exclude", "select_related", "prefetch_related", "annotate", "aggregate", "in_bulk", "raw"),
}


def fetches(tree: ast.Module) -> set[str]:
    """Return the words with which a module asks the database by itself."""
    nodes = list(ast.walk(tree))
    said = {node.attr for node in nodes if isinstance(node, ast.Attribute)}
    said |= {alias.name for node in nodes if isinstance(node, ast.ImportFrom) for alias in node.names}
    return said & FETCHES


def test_every_view_goes_through_access():
    views = [path for path in python_files() if is_view(path)]
    assert len(views) > 40
    assert {name_of(path): found for path in views if (found := fetches(parsed(path)))} == {}


def test_a_view_that_fetches_is_seen():
    assert fetches(ast.parse("recipe = Recipe.objects.get(pk=1)")) == {"objects"}
    assert fetches(ast.parse("from django.shortcuts import get_object_or_404, render")) == {"get_object_or_404"}
    assert fetches(ast.parse("side = recipe.sides.select_related('side').get(pk=2)")) == {"select_related"}
    assert fetches(ast.parse("names = list(filter(None, names))\nrun = access.run_for_bench(person, 3)")) == set()
