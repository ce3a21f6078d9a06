"""``.env.example`` lists exactly the variables that the code reads, and one module alone reads them."""

import ast
import re

from deploy.environment import VARIABLES
from tests.house.tree import TOP, name_of, parsed, python_files

# Two hand the whole environment to deploy/environment.py, one passes it on to apt-get, two name the settings in it.
MAY_TOUCH_THE_ENVIRONMENT = {"deploy/settings.py", "deploy/place.py", "deploy/debian.py", "deploy/wsgi.py", "manage.py"}


def test_the_example_lists_every_variable_once():
    listed = re.findall(r"^#([A-Z_]+)=", (TOP / ".env.example").read_text("utf-8"), re.MULTILINE)
    assert sorted(listed) == sorted(VARIABLES)


def test_every_listed_variable_is_read():
    code = "".join(path.read_text("utf-8") for path in python_files() if path.parent.name == "deploy")
    start_of_list = code.index("VARIABLES = (")
    elsewhere = code[:start_of_list] + code[code.index(")", start_of_list) :]
    assert [name for name in VARIABLES if f'"{name}"' not in elsewhere] == []


def test_every_variable_that_is_read_is_listed():
    named = {name for path in python_files() for name in re.findall(r'"(WATTFARE_[A-Z_]+)"', path.read_text("utf-8"))}
    assert named - set(VARIABLES) == set()


def test_nothing_else_reads_the_environment():
    found = [name_of(path) for path in python_files() if "tests" not in path.parts and reads_environment(path)]
    assert set(found) - MAY_TOUCH_THE_ENVIRONMENT == set()


def reads_environment(path) -> bool:
    nodes = ast.walk(parsed(path))
    return any(isinstance(node, ast.Attribute) and node.attr in {"environ", "getenv"} for node in nodes)
