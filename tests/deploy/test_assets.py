"""The collected files: a script imports the hashed name of what it imports, or a browser would keep an old one."""

import re
from pathlib import Path

import pytest
from django.core.files.storage import FileSystemStorage

from deploy.assets import CollectedFiles

SOURCES = Path(__file__).resolve().parents[2] / "static"
IMPORTED = re.compile(r'^(?:import|export)\b[^;]*?"(\./[^"]+)";', re.M)


@pytest.fixture
def collected(tmp_path) -> CollectedFiles:
    """The project's own scripts, collected into a folder of the test's."""
    storage = CollectedFiles(location=str(tmp_path))
    source = FileSystemStorage(SOURCES)
    names = [f"js/{path.name}" for path in sorted((SOURCES / "js").glob("*.js"))]
    for name in names:
        storage.save(name, source.open(name))
    done = list(storage.post_process({name: (source, name) for name in names}))
    assert [made for _, _, made in done if isinstance(made, Exception)] == []
    return storage


def test_every_import_of_a_collected_script_is_there_under_its_hash(collected):
    imports = {}
    for name in collected.hashed_files.values():
        script = Path(collected.path(name))
        imports |= {(script.name, asked): script.parent / asked for asked in IMPORTED.findall(script.read_text("utf-8"))}
    assert len(imports) > 20
    assert [asked for asked, file in imports.items() if not file.is_file()] == []
    assert [asked for asked, file in imports.items() if not re.search(r"\.[0-9a-f]{12}\.js$", file.name)] == []


def test_pages_and_scripts_name_the_same_file(collected):
    """Two addresses of one module would be two modules, each with an outbox of its own."""
    queue = Path(collected.path(collected.stored_name("js/desk-queue.js"))).read_text("utf-8")
    linked = Path(collected.stored_name("js/outbox.js")).name
    assert f'"./{linked}"' in queue
