"""The digest of the program: another one with every change that can show on a page."""

import shutil
from pathlib import Path

import pytest

from kitchen.publish import program


@pytest.fixture
def copied(settings, tmp_path):
    """A templates' folder of the test's own, and a digest that is worked out anew each time."""
    shutil.copytree(Path(settings.BASE_DIR) / "templates", tmp_path / "templates")
    settings.TEMPLATES = [{**settings.TEMPLATES[0], "DIRS": [tmp_path / "templates"]}]
    return tmp_path / "templates", program.program_digest.__wrapped__


def test_it_holds_every_room():
    top = Path(program.settings.BASE_DIR)
    files = program._files(top)
    names = {file.relative_to(top).parts[0] for file in files if file.is_relative_to(top)}
    assert {"kitchen", "energy", "costing", "deploy", "templates", "static"} <= names
    assert not any(file.suffix == ".pyc" or ".venv" in file.parts for file in files)
    assert any(file.name == "run.txt" for file in files), "the locked packages"


def test_a_template_that_changes_changes_it(copied):
    folder, digest = copied
    first = digest()
    assert digest() == first
    (folder / "base.html").write_text("<html>")
    assert digest() != first


def test_a_setting_that_shows_changes_it(copied, settings):
    _, digest = copied
    first = digest()
    settings.TIME_ZONE = "Europe/Vienna"
    assert digest() != first
