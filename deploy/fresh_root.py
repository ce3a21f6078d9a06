"""A fresh Debian in a folder of its own, in which commands run as root or as an ordinary user. Standard library only.

Each command gets its own view of mounts and of processes, so that nothing stays mounted or running however it ends.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import signal
import subprocess
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from deploy.place import Refused

RELEASES = {"12": "bookworm", "13": "trixie"}
COOK = "cook"
HOMES = {"root": "/root", COOK: f"/home/{COOK}"}
# What a Debian has that was installed the usual way, and what the README's first line needs.
PACKAGES = "ca-certificates,git,python3"
# How this computer reaches packages; nothing else of its environment is handed on.
HANDED_ON = ("PIP_CERT", "PIP_DEFAULT_TIMEOUT", "PIP_INDEX_URL", "PIP_PROXY", "PIP_TRUSTED_HOST")
PROXIES = ("http_proxy", "https_proxy", "no_proxy", "HTTP_PROXY", "HTTPS_PROXY", "NO_PROXY")
OWN_CERTIFICATES = Path("/usr/local/share/ca-certificates")
OWN_MOUNTS = 'mount -t proc proc "$0/proc" && mount --rbind /dev "$0/dev" && exec chroot "$@"'
PATH = "/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin"
NAMESPACES = ("unshare", "--mount", "--pid", "--fork", "--kill-child")
LONGEST_STOP_S = 30


@dataclass(frozen=True)
class Ended:
    """How a command ended: its exit code (None: it took too long), all that it said, and whether it came as far as was asked."""

    code: int | None
    said: str
    reached: bool


@dataclass(frozen=True)
class FreshRoot:
    """A Debian in a folder, and the variables that its commands are given."""

    folder: Path
    variables: Mapping[str, str]

    @classmethod
    def make(cls, folder: Path, release: str, variables: Mapping[str, str]) -> FreshRoot:
        """Make a release by ``debootstrap`` from where this computer has its packages; raises Refused with its last words."""
        command = ["unshare", "--mount", "debootstrap", "--variant=minbase", f"--include={PACKAGES}", RELEASES[release]]
        done = subprocess.run([*command, str(folder), *mirror()], capture_output=True, text=True, check=False)
        if done.returncode:
            last = (done.stdout + done.stderr).strip().splitlines()[-1:] or ["it did not say why"]
            raise Refused(f"Debian {release} could not be made by debootstrap: {last[0]}")
        root = cls(folder, {name: variables[name] for name in (*HANDED_ON, *PROXIES) if name in variables})
        root._settle()
        return root

    def _settle(self) -> None:
        """Give it what a network and a user need: names, proxy, certificates, a home."""
        shutil.copy("/etc/hosts", self.folder / "etc/hosts")
        (self.folder / "etc/apt/apt.conf.d/90proxy").write_text(apt_proxy(), encoding="utf-8")
        for certificate in sorted(OWN_CERTIFICATES.glob("*.crt")):
            shutil.copy(certificate, self.folder / certificate.relative_to("/"))
        for line in ("update-ca-certificates", f"useradd --create-home --shell /bin/bash {COOK}"):
            if (ended := self.run(line, limit_s=120)).code:
                raise Refused(f"“{line}” failed in the fresh root: {ended.said.strip()}")

    def copy(self, folder: Path) -> FreshRoot:
        """Return the same again in another folder."""
        subprocess.run(["cp", "--archive", "--reflink=auto", str(self.folder), str(folder)], check=True)
        return FreshRoot(folder, self.variables)

    def run(
        self,
        line: str,
        *,
        user: str = "root",
        limit_s: float,
        until: Callable[[], bool] = lambda: False,
        **variables: str,
    ) -> Ended:
        """Run a line of shell in the user's home; once ``until`` says so, stop it as Ctrl-C does. Bounded in time."""
        said = self.folder / "tmp/said"
        deadline = time.monotonic() + limit_s
        reached = False
        with said.open("wb") as output, self._started(line, user, output.fileno(), variables) as process:
            while process.poll() is None and time.monotonic() < deadline:
                if not reached and (reached := until()):
                    os.killpg(process.pid, signal.SIGINT)
                    deadline = time.monotonic() + LONGEST_STOP_S
                time.sleep(0.2)
            code = process.poll()
        return Ended(code, said.read_text(encoding="utf-8", errors="replace"), reached)

    @contextlib.contextmanager
    def _started(self, line: str, user: str, output: int, variables: Mapping[str, str]) -> Iterator[subprocess.Popen[bytes]]:
        given = {
            "HOME": HOMES[user],
            "USER": user,
            "LANG": "C.UTF-8",
            "TERM": "dumb",
            "PATH": PATH,
            **self.variables,
            **variables,
        }
        environment = ["/usr/bin/env", "--default-signal=INT", "-i", *(f"{name}={value}" for name, value in given.items())]
        inside = [f"--userspec={user}:{user}", str(self.folder), *environment, "/bin/sh", "-c", f"cd && {line}"]
        command = [*NAMESPACES, "sh", "-c", OWN_MOUNTS, str(self.folder), *inside]
        with subprocess.Popen(
            command, stdin=subprocess.DEVNULL, stdout=output, stderr=subprocess.STDOUT, start_new_session=True
        ) as process:
            try:
                yield process
            finally:
                process.kill()  # and with it, by --kill-child, all that it started


def mirror() -> list[str]:
    """Return the address from which this computer's own Debian packages come, where apt tells it."""
    asked = ["apt-get", "indextargets", "--format", "$(REPO_URI)", "Origin: Debian", "Label: Debian"]
    return subprocess.run(asked, capture_output=True, text=True, check=False).stdout.split()[:1]


def apt_proxy() -> str:
    """Return the lines of this computer's apt configuration that name a proxy."""
    told = subprocess.run(["apt-config", "dump"], capture_output=True, text=True, check=False).stdout
    return "".join(f"{line}\n" for line in told.splitlines() if line.startswith("Acquire::http") and "Proxy" in line)
