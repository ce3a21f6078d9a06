"""A run's rows are changed in one room: everybody else asks it."""

import ast

import pytest

from tests.house.tree import TOP

ROWS = {"Run", "Reading", "Stage", "Moment", "DeskEvent"}
RELATED = {"readings", "stages", "moments", "events"}
WRITES = {"create", "bulk_create", "update", "bulk_update", "delete", "update_or_create", "get_or_create", "save"}
ROOM = "energy/runs/operations/run_rows/"
MAY_WRITE = {
    "energy/runs/operations/recording.py": {"Run.objects.create"},  # a run that nobody else can know yet
    "energy/runs/operations/desk.py": {"DeskEvent.objects.create"},  # the start of the cook, which makes no row
    "energy/runs/operations/summing.py": {"Run.objects.filter().update"},  # that figures are behind, of runs that are locked
    "energy/runs/operations/unpacked_runs.py": {
        "Stage.objects.bulk_create",
        "Reading.objects.bulk_create",
        "Moment.objects.bulk_create",
        "DeskEvent.objects.bulk_create",
        "Run.objects.filter().update",
    },  # a run that is put in whole, as it was packed
}


def written_rows(source: str) -> set[str]:
    """Return the calls of a module that write rows of a run, as ``Reading.objects.bulk_create`` or ``.stages.delete``."""
    return {
        name
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call)
        for name in [_chain(node.func)]
        if _writes(name)
    }


def _writes(chain: str) -> bool:
    parts = chain.replace("()", "").split(".")
    return parts[-1] in WRITES and (parts[:2] in ([row, "objects"] for row in ROWS) or bool(RELATED & set(parts[:-1])))


def _chain(node: ast.expr) -> str:
    if isinstance(node, ast.Attribute):
        return f"{_chain(node.value)}.{node.attr}"
    if isinstance(node, ast.Call):
        return f"{_chain(node.func)}()"
    return node.id if isinstance(node, ast.Name) else "?"


def test_a_write_is_seen_however_it_is_spelled():
    spelled = "Reading.objects.filter(a=1).delete()\nrun.stages.all().delete()\nStage.objects.bulk_create(x)\nphoto.delete()\n"
    assert written_rows(spelled) == {"Reading.objects.filter().delete", "run.stages.all().delete", "Stage.objects.bulk_create"}


@pytest.mark.parametrize("path", sorted((TOP / "energy").rglob("*.py")), ids=lambda path: str(path.relative_to(TOP)))
def test_only_one_room_writes_the_rows_of_a_run(path):
    name = str(path.relative_to(TOP))
    if name.startswith((ROOM, "energy/migrations/")):
        return
    assert written_rows(path.read_text("utf-8")) <= MAY_WRITE.get(name, set()), "ask energy.runs.operations.run_rows for it"
