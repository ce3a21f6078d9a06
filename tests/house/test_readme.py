"""The README stays true: its examples run, its pictures and commands exist."""

import doctest
import re
from pathlib import Path

from django.core.management import get_commands

TOP = Path(__file__).resolve().parents[2]
PAGES = ["README.md", "DEVELOPERS.md"]


def test_its_examples_run():
    results = doctest.testfile(str(TOP / "README.md"), module_relative=False)
    assert results.attempted >= 5
    assert results.failed == 0


def test_its_pictures_exist():
    pictures = re.findall(r"!\[[^\]]{20,}\]\(([^)]+)\)", (TOP / "README.md").read_text(encoding="utf-8"))
    assert len(pictures) == 2
    for picture in pictures:
        assert (TOP / picture).stat().st_size < 400_000


def test_every_command_it_names_exists():
    for page in PAGES:
        text = (TOP / page).read_text(encoding="utf-8")
        for command in re.findall(r"manage\.py ([a-z_]+)", text):
            assert command in {*get_commands(), "help"}, command
        for script in re.findall(r"`(deploy/[a-z_]+)`", text):
            assert (TOP / script).exists(), script


def test_every_file_it_names_exists():
    for page in PAGES:
        text = (TOP / page).read_text(encoding="utf-8")
        for name in re.findall(r"`((?:kitchen|energy|costing|deploy|tests|static|templates)/[\w./-]+\.\w+)`", text):
            assert (TOP / name).exists(), f"{page} names {name}"
