"""The packages are installed once, and what hinders it is told in one sentence."""

import sys
from collections import namedtuple

import pytest

from deploy import packages
from deploy.packages import set_up_packages
from deploy.place import Place, Refused, find_place

Usage = namedtuple("Usage", "total used free")


@pytest.fixture
def checkout(tmp_path) -> Place:
    """A checkout with one locked package and nothing set up yet."""
    locks = tmp_path / "deploy" / "locks"
    locks.mkdir(parents=True)
    (locks / "run.txt").write_text("nothing-of-that-name==1.0 \\\n    --hash=sha256:00\n")
    return find_place(tmp_path, WATTFARE_DATA="", WATTFARE_VENV="", WATTFARE_BIND="")


def test_too_little_room_for_the_packages_is_told_before_they_are_fetched(checkout, monkeypatch):
    monkeypatch.setattr(packages.shutil, "disk_usage", lambda _folder: Usage(100 << 20, 90 << 20, 10 << 20))
    with pytest.raises(Refused, match=r"The disk is nearly full: 10 MB are free .* need 250 MB"):
        set_up_packages(checkout, "run")


def test_an_environment_that_fits_is_left_alone(checkout, monkeypatch):
    venv = checkout.environment.venv
    (venv / "bin").mkdir(parents=True)
    (venv / "bin" / "python").symlink_to(sys.executable)
    (venv / "wattfare-run.mark").write_text(packages._mark_text(checkout.lock("run")))
    monkeypatch.setattr(packages.subprocess, "Popen", lambda *_args, **_kwargs: pytest.fail("pip was started"))
    set_up_packages(checkout, "run")


def test_another_lock_is_another_mark(checkout):
    before = packages._mark_text(checkout.lock("run"))
    checkout.lock("run").write_text("something==2.0\n")
    assert packages._mark_text(checkout.lock("run")) != before


@pytest.mark.parametrize(
    ("said", "word"),
    [
        ("WARNING: Retrying ... NewConnectionError('...: [Errno 101] Network is unreachable')", "Is this computer online?"),
        ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "the disk is full"),
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE.", "not the file that the lock names"),
        ("Collecting x\nERROR: No matching distribution found for x==1\n", "No matching distribution found for x==1"),
        ("", "it did not say why"),
    ],
)
def test_why_packages_could_not_be_installed(said, word):
    assert word in packages._why_not_installed(said)
