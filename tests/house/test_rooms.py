"""The house keeps its shape: what stands at the top, what no module may be called, how long things may grow."""

import ast

from tests.house.tree import APPS, FOLDERS, TOP, TOP_FILES, functions, name_of, project_files, python_files

VAGUE = {"util", "utils", "helper", "helpers", "common", "core", "base", "misc", "tools"}
MOST_LINES = 400
MOST_FUNCTION_LINES = 50
MOST_VIEW_LINES = 25


def test_nothing_else_stands_at_the_top():
    found = {path.name for path in TOP.iterdir() if not path.name.startswith((".", "__"))}
    assert found - {*FOLDERS, *TOP_FILES} == set()


def test_no_module_has_a_vague_name():
    assert [name_of(path) for path in python_files() if VAGUE & {*path.relative_to(TOP).parts[:-1], path.stem}] == []


def test_no_file_is_longer_than_a_room():
    code = {".py", ".html", ".css", ".js"}
    lengths = {name_of(path): len(path.read_text("utf-8").splitlines()) for path in project_files() if path.suffix in code}
    assert {name: lines for name, lines in lengths.items() if lines > MOST_LINES} == {}


def test_no_function_is_too_long():
    found = {f"{name_of(path)}:{name}": lines for path in python_files() for name, lines in functions(path)}
    assert {name: lines for name, lines in found.items() if lines > MOST_FUNCTION_LINES} == {}


def test_views_are_thin():
    views = [path for app in APPS for path in (TOP / app / "views").glob("*.py")]
    found = {f"{name_of(path)}:{name}": lines for path in views for name, lines in functions(path)}
    assert found
    assert {name: lines for name, lines in found.items() if lines > MOST_VIEW_LINES} == {}


def test_every_module_says_what_it_is_for():
    quiet = {"__init__.py", "apps.py", "admin.py", "urls.py", "conftest.py"}
    modules = [path for path in python_files() if path.name not in quiet and "tests" not in path.parts]
    assert [name_of(path) for path in modules if not ast.get_docstring(ast.parse(path.read_text("utf-8")))] == []
