"""The place where a checkout lives: what its environment says, its folders, its port.

``deploy/run`` and ``deploy/test`` share it. Standard library only, because it runs before any package is installed. Whatever
stops it is a ``Refused`` with one plain sentence.
"""

from __future__ import annotations

import contextlib
import errno
import getpass
import os
import socket
import sys
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from deploy.environment import Environment, EnvironmentMistakes, gather


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
    try:
        return Place(top, *gather(top, os.environ, **overrides))
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
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)  # what lies in it is nobody else's business
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
        print("The disk is full. Free some space and start again." if full else f"That did not work: {error}", file=sys.stderr)
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130
    return 1
