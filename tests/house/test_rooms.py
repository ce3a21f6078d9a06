"""The house keeps its shape: what stands at the top, what no module may be called, how long things may grow."""

import ast

from tests.house.tree import FOLDERS, TOP, TOP_FILES, functions, is_view, name_of, own_files, parsed, project_files, python_files

VAGUE = {"util", "utils", "helper", "helpers", "common", "core", "base", "misc", "tools"}
MOST_LINES = 400
MOST_COLUMNS = 130
MOST_FUNCTION_LINES = 50
MOST_VIEW_LINES = 25


def test_nothing_else_stands_at_the_top():
    assert {path.relative_to(TOP).parts[0] for path in own_files()} == {*FOLDERS, *TOP_FILES, ".ci", ".env.example", ".gitignore"}


def test_no_module_has_a_vague_name():
    vague = [name_of(path) for path in python_files() if VAGUE & {*path.relative_to(TOP).parts[:-1], path.stem}]
    assert vague == ["deploy/sqlite/base.py"], "Django asks for this name"


def test_no_file_is_longer_than_a_room():
    code = {".py", ".html", ".css", ".js"}
    lengths = {name_of(path): len(path.read_text("utf-8").splitlines()) for path in project_files() if path.suffix in code}
    assert {name: lines for name, lines in lengths.items() if lines > MOST_LINES} == {}


def test_no_line_of_a_page_is_packed():
    """Templates, style sheets and scripts: the width that ruff holds for Python. A minified file is left as it came."""
    kinds = {"templates": {".html", ".svg", ".txt"}, "static": {".css", ".js", ".svg"}}
    own = [path for path in project_files() if path.suffix in kinds.get(path.relative_to(TOP).parts[0], set())]
    assert len(own) > 200
    lines = {name_of(path): path.read_text("utf-8").splitlines() for path in own if ".min." not in path.name}
    found = [f"{name}:{n}" for name, text in lines.items() for n, line in enumerate(text, 1) if len(line) > MOST_COLUMNS]
    assert found == []


def test_no_function_is_too_long():
    found = {f"{name_of(path)}:{name}": lines for path in python_files() for name, lines in functions(path)}
    assert {name: lines for name, lines in found.items() if lines > MOST_FUNCTION_LINES} == {}


def test_views_are_thin():
    views = [path for path in python_files() if is_view(path)]
    found = {f"{name_of(path)}:{name}": lines for path in views for name, lines in functions(path)}
    assert found
    assert {name: lines for name, lines in found.items() if lines > MOST_VIEW_LINES} == {}


def test_every_module_says_what_it_is_for():
    quiet = {"__init__.py", "apps.py", "admin.py", "urls.py", "conftest.py"}
    modules = [path for path in python_files() if path.name not in quiet and "tests" not in path.parts]
    assert [name_of(path) for path in modules if not ast.get_docstring(parsed(path))] == []
