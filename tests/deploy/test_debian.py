"""What the system must bring: root gets it installed, anybody else the exact line."""

import subprocess

import pytest

from deploy import debian
from deploy.place import Refused


@pytest.fixture
def without_pango(monkeypatch):
    monkeypatch.setattr(debian, "_loads", lambda library: "pango" not in library)
    monkeypatch.setattr(debian.shutil, "which", lambda name: f"/usr/bin/{name}")


def test_libraries_that_load_need_nothing(monkeypatch):
    monkeypatch.setattr(debian, "_need", lambda *_args, **_kwargs: pytest.fail("something was to be installed"))
    debian.need_libraries()


def test_a_library_that_does_not_exist_does_not_load():
    assert not debian._loads("libnothing-of-that-name.so.0")


def test_anybody_but_root_is_given_the_exact_line(without_pango, monkeypatch):
    monkeypatch.setattr(debian.os, "geteuid", lambda: 1000)
    with pytest.raises(Refused) as refusal:
        debian.need_libraries()
    assert str(refusal.value).endswith("sudo apt-get install --no-install-recommends libpango-1.0-0 libpangoft2-1.0-0")


def test_root_gets_the_packages(without_pango, monkeypatch, capsys):
    commands = []

    def apt(command, **_kwargs):
        commands.append(command)
        return subprocess.CompletedProcess(command, 0, "", "")

    monkeypatch.setattr(debian.os, "geteuid", lambda: 0)
    monkeypatch.setattr(debian.subprocess, "run", apt)
    debian.need_libraries()
    assert [command[2] for command in commands] == ["update", "install"]
    assert commands[1][-2:] == ["libpango-1.0-0", "libpangoft2-1.0-0"]
    assert "System: installing libpango-1.0-0" in capsys.readouterr().out


def test_apt_that_fails_is_quoted(without_pango, monkeypatch):
    monkeypatch.setattr(debian.os, "geteuid", lambda: 0)
    failed = subprocess.CompletedProcess([], 100, "", "W: warned\nE: Unable to locate package\n")
    monkeypatch.setattr(debian.subprocess, "run", lambda *_args, **_kwargs: failed)
    with pytest.raises(Refused, match="E: Unable to locate package"):
        debian.need_libraries()


def test_another_system_is_told_what_is_missing(without_pango, monkeypatch):
    monkeypatch.setattr(debian.shutil, "which", lambda _name: None)
    with pytest.raises(Refused, match="your system's package manager"):
        debian.need_libraries()


def test_a_python_without_venv_is_named(monkeypatch):
    monkeypatch.setattr(debian.importlib.util, "find_spec", lambda _name: None)
    monkeypatch.setattr(debian.shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(debian.os, "geteuid", lambda: 1000)
    with pytest.raises(Refused, match=r"sudo apt-get install --no-install-recommends python3\.\d+-venv"):
        debian.need_venv()


def test_tests_go_on_without_a_browser(monkeypatch, capsys):
    monkeypatch.setattr(debian.shutil, "which", lambda name: "/usr/bin/apt-get" if name == "apt-get" else None)
    monkeypatch.setattr(debian.os, "geteuid", lambda: 1000)
    assert debian.need_browser() is None
    assert "sudo apt-get install --no-install-recommends chromium" in capsys.readouterr().out
