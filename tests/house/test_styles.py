"""Styles stay in their sheets: no ids, no !important, nothing inline, no colour outside the tokens; every sheet has its layer.

Scripts are modules, and what one needs of another it imports.
"""

import gzip
import re
from pathlib import Path

import pytest

from tests.house.tree import TOP as ROOT
from tests.house.tree import name_of, project_files

SHEETS = [path for path in project_files() if path.suffix == ".css"]
PAPER = {"paper.css", "sheet.css", "picture.css", "one-file.css"}  # what the program puts into a document of its own
TEMPLATES = [path for path in project_files() if "templates" in path.parts and path.suffix in {".html", ".svg"}]
INLINE = re.compile(
    r"<style\b|\sstyle\s*=|<script\b(?![^>]*(\ssrc=|application/ld\+json))|\son[a-z]+\s*=\s*[\"']|javascript:", re.I
)
SCRIPTS = sorted((ROOT / "static" / "js").glob("*.js"))
GLOBAL = re.compile(
    r"\b(?:window|globalThis|self)(?:\.\w+|\[[^\]]+\])+\s*(?:[-+*/|&?]{0,2}=)(?![=>])|Object\.assign\((?:window|globalThis|self)\b"
)
MOST_BYTES_SENT = 14_000


def rules_of(sheet: Path) -> str:
    return re.sub(r"/\*.*?\*/", "", sheet.read_text("utf-8"), flags=re.S)


@pytest.mark.parametrize("sheet", SHEETS, ids=name_of)
def test_a_sheet_selects_by_class_and_never_shouts(sheet):
    rules = rules_of(sheet)
    assert "!important" not in rules
    assert "color-mix(" not in rules
    selectors = re.findall(r"([^{};]+)\{", rules)
    assert not [selector for selector in selectors if re.search(r"#[A-Za-z_]", selector)]


@pytest.mark.parametrize("sheet", [sheet for sheet in SHEETS if sheet.name not in PAPER | {"app.css", "fonts.css"}], ids=name_of)
def test_a_sheet_puts_its_rules_into_a_layer(sheet):
    order = re.search(r"@layer ([\w, ]+);", (ROOT / "static/css/app.css").read_text("utf-8"))
    layer = re.match(r"\s*@layer (\w+) \{", rules_of(sheet))
    assert layer is not None
    assert layer[1] in order[1].split(", ")


@pytest.mark.parametrize(
    "sheet", [sheet for sheet in SHEETS if sheet.name not in PAPER | {"tokens.css", "print.css", "fonts.css"}], ids=name_of
)
def test_colours_come_from_the_tokens(sheet):
    assert not re.findall(r"#[0-9a-f]{3,8}\b|\b(?:oklch|rgb|hsl)a?\(", rules_of(sheet), re.I)


def test_used_tokens_exist():
    known = set(re.findall(r"(--[\w-]+):", rules_of(ROOT / "static/css/tokens.css")))
    used = {name for sheet in SHEETS if sheet.name not in PAPER for name in re.findall(r"var\((--[\w-]+)", rules_of(sheet))}
    assert used <= known


@pytest.mark.parametrize("template", TEMPLATES, ids=name_of)
def test_templates_hold_no_inline_style_or_script(template):
    assert not INLINE.search(template.read_text("utf-8"))


def test_the_inline_check_finds_what_it_looks_for():
    for bad in ('<p style="color:red">', "<style>p{}</style>", "<script>alert(1)</script>", '<a onclick="x()">'):
        assert INLINE.search(bad)
    for fine in (
        '<script src="/static/x.js" defer></script>',
        '<script type="application/ld+json">{}</script>',
        '<p class="note">',
    ):
        assert not INLINE.search(fine)


@pytest.mark.parametrize("script", SCRIPTS, ids=name_of)
def test_a_script_makes_no_global(script):
    assert GLOBAL.findall(script.read_text("utf-8")) == []


def test_the_check_for_globals_finds_what_it_looks_for():
    for bad in (
        "window.desk = 1",
        "const wf = (self.wattfare = self.wattfare || {});",
        'globalThis["x"] ??= {}',
        "self.a.b += 1",
    ):
        assert GLOBAL.search(bad)
    for fine in ("if (window.innerWidth === 3) {}", 'self.addEventListener("online", () => {})', "const { files } = self.SHELL;"):
        assert not GLOBAL.search(fine)


def test_every_script_of_a_page_is_a_module():
    """Modules run after the page was read, in the order in which they stand, and leave nothing behind for others to lean on."""
    tags = re.findall(r"<script\b[^>]*\bjs/[^>]*>", "".join(path.read_text("utf-8") for path in TEMPLATES))
    assert len(tags) > 10
    assert [tag for tag in tags if 'type="module"' not in tag] == []


def test_every_script_is_linked_or_imported():
    pages = "".join(path.read_text("utf-8") for path in TEMPLATES)
    imports = "".join(script.read_text("utf-8") for script in SCRIPTS)
    used = {*re.findall(r"js/([\w-]+\.js)", pages), *re.findall(r'"\./([\w-]+\.js)"', imports), "worker.js"}
    assert {script.name for script in SCRIPTS} == used


def test_every_sheet_is_linked_and_every_link_has_its_sheet():
    linked = re.findall(r"css/([\w-]+\.css)", "".join(path.read_text("utf-8") for path in TEMPLATES))
    assert set(linked) == {sheet.name for sheet in SHEETS} - PAPER


def test_what_a_reader_fetches_stays_small():
    """Every sheet of a public page, each compressed as it is served."""
    frame = (ROOT / "templates/pieces/styles.html").read_text("utf-8") + (ROOT / "templates/base.html").read_text("utf-8")
    linked = [ROOT / "static" / path for path in re.findall(r"'(css/[\w-]+\.css)'", frame)]
    assert len(linked) > 10
    assert sum(len(gzip.compress(sheet.read_bytes())) for sheet in linked) < MOST_BYTES_SENT
