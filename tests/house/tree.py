"""The project's own files, as the house tests read them: what git tracks. A note in somebody's checkout is no fault."""

import ast
import subprocess
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
APPS = ["kitchen", "energy", "costing"]
FOLDERS = [*APPS, "deploy", "templates", "static", "tests"]
TOP_FILES = ["README.md", "DEVELOPERS.md", "LICENSE", "manage.py", "pyproject.toml"]
PHYSICS = ("energy/heat/", "energy/facts.py", "energy/kinds.py", "energy/documents.py")
HIDDEN = [".env.example", ".gitignore", ".ci/run"]
TEXT = {".py", ".html", ".css", ".js", ".svg", ".toml", ".md", ".csv", ".txt", ".xml", ""}


@cache
def own_files(top: Path = TOP) -> tuple[Path, ...]:
    """Return the files that git tracks; in an unpacked copy, which has no git, those that stand where the project's stand."""
    names = _tracked(top) if (top / ".git").exists() else []
    return tuple(path for path in (map(top.joinpath, names) if names else _standing(top)) if path.is_file())


def _tracked(top: Path) -> list[str]:
    try:
        told = subprocess.run(["git", "-C", str(top), "ls-files", "-z"], capture_output=True, text=True, check=False).stdout
    except OSError:
        return []
    return told.split("\0")[:-1]


def _standing(top: Path) -> Iterable[Path]:
    yield from (top / name for name in (*TOP_FILES, *HIDDEN))
    for folder in FOLDERS:
        yield from (path for path in sorted((top / folder).rglob("*")) if "__pycache__" not in path.parts)


def project_files() -> Iterator[Path]:
    """Yield every text file of the project but the lists of locked packages."""
    return (path for path in own_files() if path.suffix in TEXT and "locks" not in path.parts)


@cache
def parsed(path: Path) -> ast.Module:
    """Return a module's syntax."""
    return ast.parse(path.read_text("utf-8"))


def python_files() -> Iterator[Path]:
    """Yield every module of the project but the migrations, which Django writes."""
    return (path for path in project_files() if path.suffix == ".py" and "migrations" not in path.parts)


def is_domain(path: Path) -> bool:
    """Whether a module belongs to the arithmetic: in a room called domain, or among the energy app's physics and shared facts."""
    parts = path.relative_to(TOP).parts
    return parts[0] in APPS and ("domain" in parts[:-1] or path.relative_to(TOP).as_posix().startswith(PHYSICS))


def is_view(path: Path) -> bool:
    """Whether a module holds views."""
    parts = path.relative_to(TOP).with_suffix("").parts
    return parts[0] in APPS and "views" in parts


def functions(path: Path) -> Iterator[tuple[str, int]]:
    """Yield each function of a module with the number of its lines, its docstring not counted."""
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            documented = ast.get_docstring(node) is not None
            docstring = node.body[0].end_lineno - node.body[0].lineno + 1 if documented else 0
            yield node.name, node.end_lineno - node.lineno + 1 - docstring


def name_of(path: Path) -> str:
    return path.relative_to(TOP).as_posix()
