"""Every module of the arithmetic is tried: by a test at the mirrored path, or by examples of its own."""

import ast

import pytest

from tests.house.tree import TOP, is_domain, name_of, parsed, python_files


def does_something(path) -> bool:
    """Whether a module has functions: one that only declares data types is tried by whoever uses them."""
    return any(isinstance(node, ast.FunctionDef) for node in ast.walk(parsed(path)))


MODULES = [path for path in python_files() if is_domain(path) and does_something(path)]


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_a_domain_module_has_examples_or_a_mirrored_test(path):
    inside = path.relative_to(TOP)
    mirrored = TOP / "tests" / inside.parent / f"test_{path.stem}.py"
    assert mirrored.exists() or ">>> " in path.read_text("utf-8"), f"write {mirrored.relative_to(TOP)} or examples in {inside}"
