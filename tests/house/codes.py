"""The codes that an app says, read from its code."""

from __future__ import annotations

import ast

from tests.house.tree import TOP, parsed, python_files


def codes_of(app: str, function: str, place: int = 0) -> set[str]:
    """Every text at a place in a call of a function, or of a method so called, anywhere in an app: alone or as one of two."""
    found = set()
    for path in python_files():
        if path.relative_to(TOP).parts[0] != app:
            continue
        for node in ast.walk(parsed(path)):
            if isinstance(node, ast.Call) and _name_of(node.func) == function and len(node.args) > place:
                choice = node.args[place]
                options = [choice.body, choice.orelse] if isinstance(choice, ast.IfExp) else [choice]
                found |= {one.value for one in options if isinstance(one, ast.Constant)}
    return found


def _name_of(called: ast.expr) -> str:
    return getattr(called, "id", "") or getattr(called, "attr", "")
