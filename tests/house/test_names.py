"""One thing, one name: in energy no two rooms call different things alike, and a reading has four shapes."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

from tests.house.tree import TOP, name_of

KINDS = {"forms", "operations", "queries", "views"}
"""A room with one module of a kind calls it after the kind."""

SHARED = {
    "comparing": "the runs that are compared, and the words that say how they differ",
    "drawings": "the drawings of a run's page, and of a recipe's card",
    "means": "what other means of cooking use, and the part of the card that says so",
    "method": "from readings to a summary, and the part of the card that tells how it was measured",
}
"""Names of modules in more than one room, each with what they have in common; within a room what one page needs has its name."""

SHAPES = {
    "a reading": {"energy/runs/domain/samples.py:Sample"},
    "a file's readings, column by column": {"energy/runs/domain/log_columns.py:LogColumns"},
    "a row of a table": {f"energy/models.py:{name}" for name in ("Reading", "SentReading", "WaitingReading")},
    "a document of an archive": {"energy/documents.py:SentReadingDocument"},
}
"""The four shapes that a reading passes through."""

FIELDS_TO_TYPE_INTO = {"energy/runs/forms/rows.py:ReadingForm", "energy/runs/forms/desk_press.py:PressForm"}
FIGURES = {"energy_wh", "power_w", "charge_pct"}


def modules() -> Iterator[Path]:
    yield from (path for path in (TOP / "energy").rglob("*.py") if path.name != "__init__.py" and "migrations" not in path.parts)


def room_of(path: Path) -> str:
    return path.relative_to(TOP / "energy").parts[0]


def classes(path: Path) -> Iterator[ast.ClassDef]:
    yield from (node for node in ast.parse(path.read_text("utf-8")).body if isinstance(node, ast.ClassDef))


def types_named(path: Path) -> Iterator[str]:
    """Yield the names of a module's types: its classes, and what it calls a type by assignment."""
    yield from (node.name for node in classes(path) if not node.name.startswith("_"))
    for node in ast.parse(path.read_text("utf-8")).body:
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            name = node.targets[0].id
            if name[0].isupper() and not name.isupper() and "_" not in name:
                yield name


def fields_of(node: ast.ClassDef) -> set[str]:
    annotated = {one.target.id for one in node.body if isinstance(one, ast.AnnAssign) and isinstance(one.target, ast.Name)}
    assigned = (target for one in node.body if isinstance(one, ast.Assign) for target in one.targets)
    return annotated | {target.id for target in assigned if isinstance(target, ast.Name)}


def test_no_two_types_share_a_name():
    places = defaultdict(set)
    for path in modules():
        for name in types_named(path):
            places[name].add(name_of(path))
    assert len(places) > 200
    assert {name: sorted(found) for name, found in places.items() if len(found) > 1} == {}


def test_no_two_rooms_have_a_module_of_the_same_name_without_a_reason():
    rooms = defaultdict(set)
    for path in modules():
        if room_of(path) != "urls" and path.stem not in KINDS:
            rooms[path.stem].add(room_of(path))
    assert {name for name, found in rooms.items() if len(found) > 1} == set(SHARED)


def test_a_reading_passes_through_four_shapes():
    holding = {f"{name_of(path)}:{node.name}" for path in modules() for node in classes(path) if fields_of(node) >= FIGURES}
    assert holding - FIELDS_TO_TYPE_INTO == set().union(*SHAPES.values())
