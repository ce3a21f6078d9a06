"""The project's own files, as the house tests read them."""

import ast
from collections.abc import Iterator
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
APPS = ["kitchen", "energy", "costing"]
FOLDERS = [*APPS, "deploy", "templates", "static", "tests"]
TOP_FILES = ["README.md", "DEVELOPERS.md", "LICENSE", "manage.py", "pyproject.toml"]
TEXT = {".py", ".html", ".css", ".js", ".svg", ".toml", ".md", ".csv", ".txt", ".xml", ""}


def project_files() -> Iterator[Path]:
    """Yield every text file of the project but the lists of locked packages."""
    for name in TOP_FILES:
        if (TOP / name).exists():
            yield TOP / name
    yield from (path for path in (TOP / ".env.example", TOP / ".ci" / "run", TOP / ".gitignore") if path.exists())
    for folder in FOLDERS:
        for path in sorted((TOP / folder).rglob("*")):
            if path.is_file() and path.suffix in TEXT and not {"__pycache__", "locks"} & set(path.parts):
                yield path


def python_files() -> Iterator[Path]:
    """Yield every module of the project but the migrations, which Django writes."""
    return (path for path in project_files() if path.suffix == ".py" and "migrations" not in path.parts)


def functions(path: Path) -> Iterator[tuple[str, int]]:
    """Yield each function of a module with the number of its lines, its docstring not counted."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            documented = ast.get_docstring(node) is not None
            docstring = node.body[0].end_lineno - node.body[0].lineno + 1 if documented else 0
            yield node.name, node.end_lineno - node.lineno + 1 - docstring


def name_of(path: Path) -> str:
    return path.relative_to(TOP).as_posix()
