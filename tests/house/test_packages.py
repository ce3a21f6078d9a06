"""A small computer is a normal home: few packages, none of the heavy ones, all of them locked."""

import re

from tests.house.tree import TOP

MOST_PACKAGES = 60
HEAVY = {"numpy", "scipy", "matplotlib", "pandas"}


def locked(name: str) -> dict[str, str]:
    """Return package and version from one of the locks."""
    return dict(re.findall(r"^([a-z0-9._-]+)==(\S+)", (TOP / "deploy" / "locks" / f"{name}.txt").read_text(), re.MULTILINE))


def test_few_packages_are_needed_to_run():
    assert 20 < len(locked("run")) < MOST_PACKAGES


def test_no_heavy_package_is_needed_to_run():
    assert HEAVY & set(locked("run")) == set()


def test_the_tests_run_on_the_versions_that_are_served():
    assert locked("run").items() <= locked("test").items()


def test_every_locked_package_has_its_hashes():
    for name in ("run", "test"):
        text = (TOP / "deploy" / "locks" / f"{name}.txt").read_text()
        entries = re.split(r"^(?=[a-z0-9._-]+==)", text, flags=re.MULTILINE)[1:]
        assert {entry.partition("==")[0] for entry in entries} == set(locked(name))
        assert all("--hash=sha256:" in entry for entry in entries)
