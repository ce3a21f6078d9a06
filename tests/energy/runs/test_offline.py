"""What is kept for a phone without a signal: a shell that holds nothing of anybody's, and a worker that keeps only that."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders

from energy.runs.views.offline import shell_files, worker_text

ROOT = Path(__file__).resolve().parents[3]


@pytest.mark.parametrize("address", ["/desk-shell/", "/offline/"])
def test_what_is_kept_says_the_same_to_everybody(address, owner_client, other_client, stranger_client):
    pages = [client.get(address) for client in (owner_client, other_client, stranger_client)]
    assert {page.status_code for page in pages} == {200}
    assert len({page.content for page in pages}) == 1
    assert "owner" not in re.sub(r"<[^>]+>", "", pages[0].content.decode())
    assert "csrfmiddlewaretoken" not in pages[0].content.decode()
    assert all("Set-Cookie" not in page.headers for page in pages)
    assert pages[0].headers["X-Robots-Tag"] == "noindex"


def test_the_worker_names_every_file_of_the_shell(stranger_client):
    answer = stranger_client.get("/worker.js")
    assert answer.headers["Content-Type"].startswith("text/javascript")
    assert answer.headers["Cache-Control"] == "no-cache"
    said = json.loads(re.match(r"self\.SHELL = (\{.*\});\n", answer.content.decode())[1])
    page = stranger_client.get("/desk-shell/").content.decode()
    for linked in re.findall(r'<(?:script|link)[^>]+(?:src|href)="([^"]+)"', page):
        assert linked in said["files"], linked
    assert {name for name in shell_files() if finders.find(name) is None} == set()


def imports_of(name: str) -> set[str]:
    """Return the scripts that one imports, and what these import."""
    script = (ROOT / "static" / name).read_text("utf-8")
    own = {f"js/{asked}" for asked in re.findall(r'^import [^;]*"\./([^"]+)";', script, re.M)}
    return own.union(*map(imports_of, own))


def test_what_the_scripts_of_the_shell_import_is_kept_too():
    scripts = {name for name in shell_files() if name.endswith(".js")}
    assert {"js/desk.js", "js/desk-offline.js", "js/outbox.js"} <= scripts
    assert set().union(*map(imports_of, scripts)) <= scripts
    assert imports_of("js/along.js") | imports_of("js/desk-start.js") <= scripts


def test_a_cook_can_start_as_soon_as_the_page_is_there():
    """What the start's script imports is fetched beside it, not after it: a press that comes early finds it there."""
    modules = (ROOT / "templates/energy/desk/modules.html").read_text("utf-8")
    assert imports_of("js/desk-start.js") == set(re.findall(r"static '([^']+)'", modules))
    assert 'include "energy/desk/modules.html"' in (ROOT / "templates/energy/desk/start.html").read_text("utf-8")


def test_the_worker_has_the_store_and_imports_nothing():
    text = worker_text()
    assert re.search(r"^const store = \{", text, re.M)
    assert "await store.forget()" in text
    assert not re.search(r"^(import|export)\b", text, re.M)


def test_another_byte_makes_another_worker(monkeypatch, db):
    before = worker_text()
    assert worker_text() == before
    from energy.runs.views import offline

    read = offline._bytes_of
    monkeypatch.setattr(offline, "_bytes_of", lambda name: read(name) + (b" " if name == "css/desk.css" else b""))
    assert worker_text().split("\n")[0] != before.split("\n")[0]


def test_the_worker_keeps_no_page_of_the_bench():
    """Only the shell, its files, and what "take along" put into its own cache are ever answered from a cache."""
    script = (ROOT / "static/js/worker.js").read_text("utf-8")
    assert "cache.put" not in script
    assert re.findall(r"addAll\(\[(.*?)\]", script) == ["...files, shell, offline"]
    saved = (ROOT / "static/js/saved.js").read_text("utf-8")
    assert 'credentials: "omit"' in saved
    assert saved.count("fetch(") == 1


def test_this_device_is_for_cooks(owner_client, stranger_client):
    assert "What it can do" in owner_client.get("/bench/device/").content.decode()
    assert stranger_client.get("/bench/device/").status_code == 302
