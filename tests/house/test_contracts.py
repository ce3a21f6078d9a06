"""The contracts between the rooms hold, and the strict type checks cover the rooms that ask for them."""

import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

from tests.house.tree import APPS, TOP

STRICT = ["domain", "cards", "cards.py", "access", "access.py", "page", "page.py"]


def test_imports_keep_the_contracts():
    command = shutil.which("lint-imports", path=str(Path(sys.executable).parent))
    assert command, "import-linter is not installed beside this Python"
    done = subprocess.run([command, "--no-cache"], cwd=TOP, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout


def test_strict_types_cover_every_room_that_asks_for_them():
    settings = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))["tool"]["mypy"]
    asked = {f"{app}/{room}" for app in APPS for room in STRICT if (TOP / app / room).exists()}
    assert settings["strict"] is True
    assert asked - set(settings["files"]) == set()


def test_every_app_has_its_rooms_under_contract():
    contracts = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))["tool"]["importlinter"]["contracts"]
    exhaustive = {app for contract in contracts if contract.get("exhaustive") for app in contract["containers"]}
    assert exhaustive == set(APPS)
