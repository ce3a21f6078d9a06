"""The place where a checkout lives: its folders, its port, its Python environment and the packages in it.

``deploy/run`` and ``deploy/test`` share it. Standard library only, because it runs before any package is installed. Whatever
stops it is a ``Refused`` with one plain sentence.
"""

from __future__ import annotations

import contextlib
import errno
import getpass
import hashlib
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from deploy.environment import Environment, EnvironmentMistakes, read_env_file, read_environment

OLDEST_PYTHON = (3, 11)
ROOM_FOR_PACKAGES_MB = {"run": 250, "test": 700}
NO_NETWORK = ("NewConnectionError", "ConnectTimeout", "name resolution", "Network is unreachable", "ProxyError", "MaxRetryError")


class Refused(Exception):
    """Why nothing can go on, as one plain sentence that says what to do."""


@dataclass(frozen=True)
class Place:
    """A checkout and what the environment says about it; ``variables`` is what the programs started from here are given."""

    top: Path
    environment: Environment
    variables: Mapping[str, str]

    @property
    def python(self) -> Path:
        """The Python of the checkout's own environment."""
        return self.environment.venv / "bin" / "python"

    def lock(self, name: str) -> Path:
        """The list of locked packages called ``run`` or ``test``."""
        return self.top / "deploy" / "locks" / f"{name}.txt"


def say(words: str) -> None:
    """Print one line of progress at once."""
    print(words, flush=True)


def find_place(top: Path, **overrides: str) -> Place:
    """Return the checkout at ``top`` with its environment read; a keyword stands above the variable of its name."""
    variables = {**read_env_file(top / ".env"), **os.environ, **overrides}
    try:
        return Place(top, read_environment(variables, top), variables)
    except EnvironmentMistakes as mistakes:
        raise Refused(str(mistakes)) from None


def need_free_port(host: str, port: int) -> None:
    """Make sure that nobody listens on the address yet."""
    family = socket.AF_INET6 if host.startswith("[") else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host.strip("[]"), port))
        except PermissionError:
            raise Refused(f"Port {port} is kept for the system. Choose one from 1024 up: deploy/run --port 8000") from None
        except OverflowError:
            raise Refused(f"There is no port {port}. Choose one from 1024 to 65535: deploy/run --port 8000") from None
        except OSError as error:
            if error.errno != errno.EADDRINUSE:
                raise Refused(f"This computer has no address {host}. Set WATTFARE_BIND to one of its own.") from None
            raise Refused(
                f"Port {port} is taken: something else is listening on {host}:{port}, perhaps Wattfare itself. "
                f"Stop it, or choose another port: deploy/run --port {min(port + 1, 65535)}"
            ) from None


def need_writable(folder: Path, what: str, variable: str) -> None:
    """Make ``folder`` when it is missing, and make sure that files can be written into it."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder) as probe:
            probe.write(b"x" * 65536)
            probe.flush()
    except OSError as error:
        if error.errno in {errno.ENOSPC, errno.EDQUOT}:
            raise Refused(f"The disk is full: nothing fits into {what} {folder}. Free some space and start again.") from None
        raise Refused(
            f"Nothing can be written into {what} {folder} ({error.strerror}). "
            f"Set {variable} to a folder of your own, or make this one yours: sudo chown -R {_user_name()} {folder}"
        ) from None


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


def _user_name() -> str:
    with contextlib.suppress(KeyError, OSError):
        return getpass.getuser()
    return str(os.getuid())


def run_plainly(work: Callable[[], int]) -> int:
    """Do the work of a script; return its exit code. What stops it is told in plain words, never as a traceback."""
    try:
        return work()
    except Refused as refusal:
        print(refusal, file=sys.stderr)
    except OSError as error:
        full = error.errno in {errno.ENOSPC, errno.EDQUOT}
        print("The disk is full." if full else f"That did not work: {error}", file=sys.stderr)
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130
    return 1
