"""Trying a fresh Debian: what is asked for is installed and tried again, what takes too long is stopped, little is handed in."""

import importlib.machinery
import importlib.util
import signal
import subprocess
import sys
import time
from functools import partial
from pathlib import Path

import pytest

from deploy import debian, fresh_root
from deploy.fresh_root import Ended, FreshRoot
from deploy.place import Refused

SCRIPT = Path(__file__).resolve().parents[2] / "deploy" / "try_debian"
PANGO = "Pango is missing here. Install it with: sudo apt-get install --no-install-recommends libpango-1.0-0\n"


@pytest.fixture
def script(monkeypatch):
    """The script as a module."""
    monkeypatch.setattr(sys, "path", list(sys.path))
    loader = importlib.machinery.SourceFileLoader("try_debian", str(SCRIPT))
    module = importlib.util.module_from_spec(importlib.util.spec_from_loader("try_debian", loader))
    loader.exec_module(module)
    return module


class ScriptedRoot:
    """A root whose commands end as it was told, and which remembers what was run as whom."""

    def __init__(self, *ends):
        self.ends, self.ran = list(ends), []

    def run(self, line, *, user="root", **_):
        self.ran.append((user, line))
        return Ended(0, "", False) if line.startswith("apt-get") else self.ends.pop(0)


def test_what_a_user_is_asked_to_type_is_typed_as_root_and_tried_again(script):
    root = ScriptedRoot(Ended(1, PANGO, False), Ended(0, "Serving.\nStopped.\n", True))
    outcome = script.attempt(root, "Debian 13, cook", "deploy/run", "cook")
    assert (outcome.word, outcome.note) == ("ok", "asked for libpango-1.0-0; Stopped.")
    assert [user for user, _ in root.ran] == ["cook", "root", "cook"]
    assert "install --no-install-recommends libpango-1.0-0 --yes" in root.ran[1][1]


def test_one_that_asks_without_end_is_a_failure(script, capsys):
    root = ScriptedRoot(*[Ended(1, PANGO, False)] * (script.MOST_ASKED + 1))
    assert script.attempt(root, "Debian 13, cook", "deploy/run", "cook").word == "FAILED"
    assert "Pango is missing here" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("command", "ended", "word"),
    [
        ("deploy/test --quick", Ended(0, "9 passed, 0 failed, 0 skipped", False), "ok"),
        ("deploy/test --quick", Ended(1, "8 passed, 1 failed, 0 skipped", False), "FAILED"),
        ("deploy/run", Ended(0, "Stopped.", False), "FAILED"),  # it ended before it served
        ("deploy/run", Ended(None, "", True), "FAILED"),  # Ctrl-C did not stop it
    ],
)
def test_how_it_ended_is_told(script, command, ended, word):
    assert script.attempt(ScriptedRoot(ended), "Debian 12, root", command, "root").word == word


def test_the_line_is_the_one_that_a_user_is_given(script, monkeypatch):
    monkeypatch.setattr(debian.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(debian.shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(debian, "_loads", lambda _library: False)
    with pytest.raises(Refused) as refusal:
        debian.need_libraries()
    line = script.ASKED_LINE.search(f"Packages: installed\n{refusal.value}\n")
    assert line[1] == f"apt-get install --no-install-recommends {' '.join(debian.LIBRARIES.values())}"


@pytest.fixture
def here(tmp_path, monkeypatch):
    """A root that is no root: its commands run on this computer, in a folder of the test's own."""
    (tmp_path / "tmp").mkdir()
    monkeypatch.setattr(fresh_root, "NAMESPACES", ("env",))
    monkeypatch.setattr(fresh_root, "OWN_MOUNTS", 'shift 2 && exec "$@"')
    monkeypatch.setattr(fresh_root, "HOMES", {"root": str(tmp_path)})
    return FreshRoot(tmp_path, {"PIP_PROXY": "http://proxy.example"})


def test_a_command_is_given_its_home_and_only_what_is_handed_on(here, monkeypatch):
    monkeypatch.setenv("SECRET", "gravy-boat")
    ended = here.run("pwd; env", limit_s=20, PORT="8100")
    assert ended.code == 0
    assert ended.said.splitlines()[0] == str(here.folder)
    assert {"PORT=8100", "PIP_PROXY=http://proxy.example"} <= set(ended.said.splitlines())
    assert "gravy-boat" not in ended.said


def test_a_command_that_takes_too_long_is_stopped(here):
    began = time.monotonic()
    assert here.run("exec sleep 60", limit_s=0.5) == Ended(None, "", False)
    assert time.monotonic() - began < 30


@pytest.mark.parametrize("before", [signal.SIG_DFL, signal.SIG_IGN], ids=["in a terminal", "in the background"])
def test_a_server_is_stopped_as_by_ctrl_c_once_it_has_served(before, here, request):
    request.addfinalizer(partial(signal.signal, signal.SIGINT, signal.signal(signal.SIGINT, before)))
    serve = "trap 'echo stopped; exit 0' INT; echo serving; while :; do sleep 0.1; done"
    ended = here.run(serve, limit_s=60, until=lambda: "serving" in (here.folder / "tmp/said").read_text())
    assert ended == Ended(0, "serving\nstopped\n", True)


def test_the_mirror_is_the_one_of_this_computer(monkeypatch):
    told = subprocess.CompletedProcess([], 0, "http://mirror.example/debian/\nhttp://mirror.example/debian/\n")
    monkeypatch.setattr(fresh_root.subprocess, "run", lambda *_args, **_more: told)
    assert fresh_root.mirror() == ["http://mirror.example/debian/"]


def test_only_what_names_a_proxy_is_taken_from_apt(monkeypatch):
    told = 'APT::Architecture "amd64";\nAcquire::http::Proxy "http://proxy.example";\nAcquire::http::Timeout "9";\n'
    monkeypatch.setattr(fresh_root.subprocess, "run", lambda *_args, **_more: subprocess.CompletedProcess([], 0, told))
    assert fresh_root.apt_proxy() == 'Acquire::http::Proxy "http://proxy.example";\n'
