"""Exact numbers are rounded in one place, half up: kitchen/domain/money.py."""

import ast

from tests.house.tree import TOP, name_of, parsed, python_files

PLACE = "kitchen/domain/money.py"


def exact_roundings(tree: ast.Module) -> set[str]:
    """Return how a module that holds Decimals rounds them by itself. (A picture's ``quantize`` counts colours.)"""
    nodes = list(ast.walk(tree))
    froms = [node for node in nodes if isinstance(node, ast.ImportFrom) and node.module == "decimal"]
    if not froms and not any(isinstance(node, ast.Import) and node.names[0].name == "decimal" for node in nodes):
        return set()
    said = {alias.name for node in froms for alias in node.names}
    said |= {node.attr for node in nodes if isinstance(node, ast.Attribute)}
    return {name for name in said if name == "quantize" or name.startswith("ROUND_")}


def calls_round(tree: ast.Module) -> bool:
    return any(isinstance(node, ast.Call) and getattr(node.func, "id", "") == "round" for node in ast.walk(tree))


def test_exact_numbers_are_rounded_in_one_place():
    apps = [path for path in python_files() if not str(path.relative_to(TOP)).startswith(("tests/", PLACE))]
    assert len(apps) > 400
    assert {name_of(path): found for path in apps if (found := exact_roundings(parsed(path)))} == {}


def test_costing_rounds_nothing_by_itself():
    costing = [path for path in python_files() if path.relative_to(TOP).parts[0] == "costing"]
    assert len(costing) > 30
    assert [name_of(path) for path in costing if calls_round(parsed(path))] == []


def test_a_rounding_is_seen():
    assert exact_roundings(ast.parse("from decimal import Decimal\nprice.quantize(Decimal('0.01'))")) == {"quantize"}
    assert exact_roundings(ast.parse("from decimal import ROUND_HALF_UP, Decimal")) == {"ROUND_HALF_UP"}
    assert exact_roundings(ast.parse("import decimal\nx = decimal.ROUND_DOWN")) == {"ROUND_DOWN"}
    assert exact_roundings(ast.parse("picture.quantize(256)")) == set()
    assert calls_round(ast.parse("x = round(price, 2)"))
    assert not calls_round(ast.parse("x = round_half_up(price, 2)"))
