"""The checkout's own Python environment and the locked packages in it. Standard library only."""

from __future__ import annotations

import hashlib
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from deploy.debian import need_venv
from deploy.place import Place, Refused, need_writable, say

ROOM_FOR_PACKAGES_MB = {"run": 250, "test": 700}
NO_NETWORK = ("NewConnectionError", "ConnectTimeout", "name resolution", "Network is unreachable", "ProxyError", "MaxRetryError")


def set_up_packages(place: Place, lock_name: str) -> None:
    """Make the Python environment and install the locked packages, or find that both are there already."""
    mark = place.environment.venv / f"wattfare-{lock_name}.mark"
    wanted = _mark_text(place.lock(lock_name))
    if mark.is_file() and place.python.exists() and mark.read_text(encoding="utf-8") == wanted:
        return
    need_writable(place.environment.venv, "the environment folder", "WATTFARE_VENV")
    free_mb = shutil.disk_usage(place.environment.venv).free >> 20
    if free_mb < ROOM_FOR_PACKAGES_MB[lock_name]:
        raise Refused(
            f"The disk is nearly full: {free_mb} MB are free at {place.environment.venv}, "
            f"and the packages need {ROOM_FOR_PACKAGES_MB[lock_name]} MB."
        )
    _make_environment(place)
    _install(place, lock_name)
    mark.write_text(wanted, encoding="utf-8")


def _mark_text(lock: Path) -> str:
    """What the mark in the environment says when it fits: which Python, which locked packages."""
    return f"python {sys.version_info[0]}.{sys.version_info[1]}, packages {hashlib.sha256(lock.read_bytes()).hexdigest()}\n"


def _make_environment(place: Place) -> None:
    if _python_works(place.python):
        return
    need_venv()
    say(f"Environment: making {place.environment.venv}")
    made = subprocess.run(
        [sys.executable, "-m", "venv", "--clear", str(place.environment.venv)], capture_output=True, text=True, check=False
    )
    if made.returncode:
        raise Refused(f"The Python environment could not be made: {_last_line(made.stdout + made.stderr)}")


def _python_works(python: Path) -> bool:
    """Whether the environment has a Python with pip, of the version that is running now."""
    asked = "import sys, pip; print(*sys.version_info[:2])"
    try:
        answer = subprocess.run([str(python), "-c", asked], capture_output=True, text=True, check=False)
    except OSError:
        return False
    return answer.stdout.split() == [str(part) for part in sys.version_info[:2]]


def _install(place: Place, lock_name: str) -> None:
    lock = place.lock(lock_name)
    count = sum("==" in line for line in lock.read_text(encoding="utf-8").splitlines())
    log = place.environment.venv / "install.log"
    say(f"Packages: installing up to {count}, about a minute")
    began = time.monotonic()
    command = [str(place.python), "-m", "pip", "install", "--require-hashes", "--no-deps", "--only-binary=:all:"]
    command += ["--no-input", "--disable-pip-version-check", "--retries", "2", "-r", str(lock)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace") as pip:
        lines = list(_shown_progress(pip, count))
    log.write_text("".join(lines), encoding="utf-8")
    if pip.returncode:
        raise Refused(f"{_why_not_installed(''.join(lines))} All that pip said is in {log}.")
    say(f"Packages: installed in {time.monotonic() - began:.0f} s")


def _shown_progress(pip: subprocess.Popen[str], count: int) -> Iterator[str]:
    """Pass pip's lines on; in a terminal, count the packages on one line meanwhile."""
    fetched = 0
    for line in pip.stdout or ():
        yield line
        fetched += line.startswith("Collecting ")
        if sys.stdout.isatty():
            words = "unpacking" if line.startswith("Installing collected") else f"{fetched} of {count}"
            print(f"\r  {words}          ", end="\r", flush=True)


def _why_not_installed(said: str) -> str:
    if "No space left" in said or "Disk quota exceeded" in said:
        return "The packages could not be installed: the disk is full."
    if "DO NOT MATCH THE HASHES" in said:
        return "The packages could not be installed: a download is not the file that the lock names."
    if any(sign in said for sign in NO_NETWORK):
        return "The packages could not be installed: the package index cannot be reached. Is this computer online?"
    return f"The packages could not be installed: {_last_line(said)}"


def _last_line(said: str) -> str:
    lines = [line.strip() for line in said.splitlines() if line.strip()]
    errors = [line for line in lines if line.startswith("ERROR:")]
    return (errors or lines or ["it did not say why."])[-1].removeprefix("ERROR:").strip()
