"""The contracts between the rooms hold, and the strict type checks cover every room."""

import ast
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

from tests.house.tree import APPS, TOP, is_domain, name_of, parsed, python_files

OPENS = {"open", "read_text", "read_bytes", "write_text", "write_bytes", "fdopen", "NamedTemporaryFile", "ZipFile"}
SILENCED = re.compile(r"#\s*type:\s*ignore")
WITH_REASON = re.compile(SILENCED.pattern + r"\[[a-z-]+\]  # \S+ \S+")
FINDS = {"os", "pathlib", "shutil", "tempfile", "importlib", "zipfile"}


def test_imports_keep_the_contracts():
    command = shutil.which("lint-imports", path=str(Path(sys.executable).parent))
    assert command, "import-linter is not installed beside this Python"
    done = subprocess.run([command, "--no-cache"], cwd=TOP, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout


def test_strict_types_cover_every_room_but_the_migrations():
    settings = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))["tool"]["mypy"]
    assert settings["strict"] is True
    assert set(settings["files"]) == {*APPS, "deploy"}
    assert settings["exclude"] == ["/migrations/"]


def test_what_the_type_checker_overlooks_says_why():
    silent = [
        f"{name_of(path)}:{number}"
        for path in python_files()
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if SILENCED.search(line) and not WITH_REASON.search(line)
    ]
    assert silent == []


def test_every_app_has_its_rooms_under_contract():
    contracts = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]["contracts"]
    exhaustive = {app for contract in contracts if contract.get("exhaustive") for app in contract["containers"]}
    assert exhaustive == set(APPS) - {"energy"}
    (rooms,) = (contract["layers"] for contract in contracts if contract["name"] == "The energy rooms")
    named = tuple(name for layer in rooms for name in re.split(r" [:|] ", layer))
    modules = [".".join(path.relative_to(TOP).with_suffix("").parts) for path in python_files() if path.stem != "__init__"]
    ours = [f"{name}." for name in modules if name.startswith("energy.")]
    outside = [name for name in ours if not name.startswith(tuple(f"{room}." for room in named))]
    assert len(ours) > 200
    assert outside == []


def opens_a_file(tree: ast.Module) -> bool:
    """Whether a module calls what opens a file, or brings in what finds one."""
    nodes = list(ast.walk(tree))
    called = {getattr(node.func, "id", "") or getattr(node.func, "attr", "") for node in nodes if isinstance(node, ast.Call)}
    brought = {alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names}
    brought |= {node.module or "" for node in nodes if isinstance(node, ast.ImportFrom)}
    return bool(called & OPENS or {name.partition(".")[0] for name in brought} & FINDS)


def test_no_domain_module_opens_a_file():
    domains = [path for path in python_files() if is_domain(path)]
    assert len(domains) > 100
    assert [name_of(path) for path in domains if opens_a_file(parsed(path))] == []


def test_opening_a_file_is_seen():
    for bad in ("open('foods.csv')", "folder.joinpath('foods.csv').open()", "import os.path", "from pathlib import Path"):
        assert opens_a_file(ast.parse(bad)), bad
    assert not opens_a_file(ast.parse("is_open(stage)\nfrom kitchen.domain import record"))
