"""What the system itself must bring, and how Debian brings it: Python's venv, Pango for the paper cards, a browser for the tests.

Root gets what is missing installed, with a line that says so; anybody else gets the exact line to type. Standard library only.
"""

from __future__ import annotations

import ctypes
import ctypes.util
import importlib.util
import os
import shutil
import subprocess
import sys

from deploy.place import Refused, say

# What WeasyPrint loads, and the Debian package that each comes in.
LIBRARIES = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
}
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


def need_venv() -> None:
    """Make sure that this Python can make environments; Debian keeps that in a package of its own."""
    if importlib.util.find_spec("ensurepip") and importlib.util.find_spec("venv"):
        return
    package = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
    _need("Python's venv module", [package], why_else="This Python lacks its modules venv and ensurepip.")


def need_libraries() -> None:
    """Make sure that the libraries are there with which the paper cards are set."""
    missing = missing_libraries()
    if missing:
        _need("Pango, which sets the paper cards,", missing, why_else="Pango is missing (libpango, libpangoft2).")


def missing_libraries() -> list[str]:
    """Return the Debian packages of the libraries that are not there."""
    return [package for library, package in LIBRARIES.items() if not _loads(library)]


def need_debootstrap() -> None:
    """Make sure that a fresh Debian can be made here."""
    if not shutil.which("debootstrap"):
        _need("debootstrap, which makes a fresh Debian,", ["debootstrap"], why_else="No debootstrap is installed.")


def find_browser() -> str | None:
    """Return the path of an installed Chromium, or None."""
    return next((path for name in BROWSERS if (path := shutil.which(name))), None)


def need_browser() -> str | None:
    """Return the path of a Chromium, installed now if root may; None with a line that says how, because tests can do without."""
    if find_browser() is None:
        try:
            _need("Chromium, for the browser journeys,", ["chromium"], why_else="No Chromium is installed.")
        except Refused as refusal:
            say(f"Browser: {refusal} The browser journeys are skipped.")
    return find_browser()


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return ctypes.util.find_library(library.removeprefix("lib").split(".so")[0]) is not None
    return True


def _need(what: str, packages: list[str], *, why_else: str) -> None:
    """Install Debian packages as root; for anybody else refuse with the line to type, elsewhere with ``why_else``."""
    if not shutil.which("apt-get"):
        raise Refused(f"{why_else} Install what is missing with your system's package manager.")
    line = f"apt-get install --no-install-recommends {' '.join(packages)}"
    if os.geteuid() != 0:
        raise Refused(f"{what} is missing here. Install it with: sudo {line}")
    say(f"System: installing {' '.join(packages)}")
    for step in (["update"], ["install", "--yes", "--no-install-recommends", *packages]):
        done = subprocess.run(
            ["apt-get", "-qq", *step],
            env={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            check=False,
        )
    if done.returncode:
        words = [row for row in done.stderr.splitlines() if row.startswith("E:")] or ["it did not say why"]
        raise Refused(f"{what} is missing and could not be installed ({words[0]}). Try it by hand: {line}")
