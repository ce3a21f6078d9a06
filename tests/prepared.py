"""Data folders for tests that start the program in a process of its own: prepared once a run, and copied."""

from __future__ import annotations

import fcntl
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from deploy.environment import VARIABLES

TOP = Path(__file__).resolve().parents[1]


def environment_of(folder: Path, **variables: str) -> dict[str, str]:
    """Return what the program is told there: SQLite in this folder, the site's own settings, and the variables given."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("DJANGO_")}
    own = {"DJANGO_SETTINGS_MODULE": "deploy.settings", "WATTFARE_DATA": str(folder), "PYTHONPATH": str(TOP)}
    return {**kept, **dict.fromkeys(VARIABLES, ""), **own, **variables}


def run_there(folder: Path, *arguments: str, **variables: str) -> subprocess.CompletedProcess[str]:
    """Run ``manage.py`` on a folder to its end, whatever that is."""
    command = [sys.executable, "manage.py", *arguments]
    environment = environment_of(folder, **variables)
    return subprocess.run(command, cwd=TOP, env=environment, capture_output=True, text=True, check=False)


def prepare_copy(factory: pytest.TempPathFactory, folder: Path) -> Path:
    """Make a folder ready to serve, without the example: the first who asks prepares one, the others copy it."""
    run = factory.getbasetemp()
    shared = (run.parent if "PYTEST_XDIST_WORKER" in os.environ else run) / "prepared"
    with shared.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not shared.exists():
            made = run_there(shared.with_suffix(".coming"), "prepare", "--no-demo")
            assert made.returncode == 0, made.stderr
            shared.with_suffix(".coming").rename(shared)
    return Path(shutil.copytree(shared, folder, dirs_exist_ok=True))
