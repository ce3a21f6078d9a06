"""Every module of the arithmetic is tried: by a test at the mirrored path, or by examples of its own."""

import ast

import pytest

from tests.house.tree import APPS, TOP, name_of


def does_something(path) -> bool:
    """Whether a module has functions: one that only declares data types is tried by whoever uses them."""
    return any(isinstance(node, ast.FunctionDef) for node in ast.walk(ast.parse(path.read_text("utf-8"))))


MODULES = [path for app in APPS for path in sorted((TOP / app / "domain").rglob("*.py")) if does_something(path)]


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_a_domain_module_has_examples_or_a_mirrored_test(path):
    inside = path.relative_to(TOP)
    mirrored = TOP / "tests" / inside.parent / f"test_{path.stem}.py"
    assert mirrored.exists() or ">>> " in path.read_text("utf-8"), f"write {mirrored.relative_to(TOP)} or examples in {inside}"
