"""An app that has a room for words keeps sentences out of the rooms that only ask for them: there stand numbers and codes."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from tests.house.tree import TOP, is_domain, name_of, parsed, python_files

MOST_WORDS = 4

SILENT = {"cards", "charts", "queries"}
"""Rooms of energy that ask for sentences, besides every domain."""

STAY = {
    "energy/meters/domain/device_lines.py": "answers to a device that sends what it should not: they go out as its refusal",
    "energy/tariffs/domain/hours.py": "what a form refuses of a tariff's bands, with the band and the hour",
    "energy/runs/domain/samples.py": "the note that is kept beside a reading, among those that a cook types",
    "energy/kinds.py": "the choices of a form",
    "costing/domain/price_tables.py": "words that are looked for at the head of a table, and what a form refuses of it",
    "costing/domain/prices.py": "what a form refuses of a price",
    "costing/domain/slips.py": "words that are looked for on a till slip",
    "kitchen/domain/packs.py": "what a form refuses of a pack",
    "kitchen/domain/allergens.py": "the allergens as each law names them",
    "kitchen/domain/courses.py": "words that are looked for among tags",
    "kitchen/domain/food_words.py": "words that are looked for in a line",
    "kitchen/domain/line_kinds.py": "words that are looked for in a line",
    "kitchen/domain/line_words.py": "words that are looked for in a line",
    "kitchen/domain/stages.py": "the choices of a form",
    "kitchen/domain/step_words.py": "words that are looked for in a step",
    "kitchen/domain/systems.py": "the choices of a form, and the sizes of spoons",
    "kitchen/domain/technical_units.py": "names of units",
    "kitchen/domain/unit_counts.py": "names of units",
    "kitchen/domain/units.py": "names of units",
    "energy/meters/queries/device_readings.py": "what each database is asked in its own words",
    "energy/cards/estimated.py": "why an estimate stands on plain proportion",
}
"""Modules with longer text, and why it stays."""


def phrases(tree: ast.Module) -> Iterator[str]:
    """Yield the texts of a module as they would be read, without docstrings, what it raises and what it looks for."""
    passed = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Raise) or _looks_for(node):
            passed |= {id(inner) for inner in ast.walk(node)}
        elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            passed.add(id(node.value))
    for node in ast.walk(tree):
        if id(node) in passed:
            continue
        if isinstance(node, ast.JoinedStr):
            passed |= {id(inner) for inner in ast.walk(node)}
            yield "".join(str(part.value) if isinstance(part, ast.Constant) else "…" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def _looks_for(node: ast.AST) -> bool:
    """Whether this is a pattern, or a list of words that is split into its parts: what is looked for and not said."""
    if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Attribute):
        return False
    owner = node.func.value
    return (isinstance(owner, ast.Name) and owner.id == "re") or (node.func.attr == "split" and isinstance(owner, ast.Constant))


def is_prose(text: str) -> bool:
    """Whether a text is more than a label: so many words, with spaces between them."""
    return " " in text.strip() and len(re.findall(r"[^\W\d_]{2,}", text)) > MOST_WORDS


def is_silent(path: Path) -> bool:
    """Whether a module stands in a room that says nothing by itself."""
    parts = path.relative_to(TOP).with_suffix("").parts
    return is_domain(path) or (parts[0] == "energy" and bool(SILENT & {*parts}))


def test_only_the_room_for_words_holds_prose():
    modules = [path for path in python_files() if is_silent(path)]
    assert len(modules) > 100
    found = {name_of(path): [text for text in phrases(parsed(path)) if is_prose(text)] for path in modules}
    assert {name: texts for name, texts in found.items() if texts and name not in STAY} == {}
    assert {name for name in STAY if not found[name]} == set(), "a reason that is no longer needed"


def test_prose_is_seen():
    said = list(phrases(ast.parse('"""Say why this is so here."""\nwords = f"The counter fell to {wh} and began again."')))
    assert said == ["The counter fell to … and began again."]
    assert is_prose(said[0])
    assert not is_prose("counter_fell_twice_and_once_more")
    assert list(phrases(ast.parse('raise ValueError("this is for the one who calls it")'))) == []
    assert list(phrases(ast.parse('re.compile("a pattern for what is typed"), "words looked for in a recipe".split()'))) == []
