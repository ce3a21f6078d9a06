"""The public site as plain files: whole, linked, only what changed, and never half."""

import gzip
import json
from datetime import timedelta

import pytest
from django.core.management import CommandError, call_command

from deploy.baking.pages import SENTENCE, for_files, missing_links
from kitchen.models import Site
from kitchen.operations import publish_recipe, withdraw_recipe
from tests.kitchen.stew import TallyCard, next_revision, write_stew

WRITTEN = {"/", "/?page=2", "/r/stew/", "/r/stew/card.pdf?size=a6", "/feed.atom"}


@pytest.mark.parametrize(
    ("told", "made"),
    [
        ('<a href="/r/stew/#method">x</a>', '<a href="../../r/stew/#method">x</a>'),
        ('<a href="/">x</a>', '<a href="../../">x</a>'),
        ('<a href="?page=2">x</a>', '<a href="../../page-2/">x</a>'),
        ('<a href="/?q=red+pot">x</a>', '<a href="../../?q=red+pot">x</a>'),
        ('<a class="button" href="/r/stew/card.pdf?size=a6">x</a>', '<a class="button" href="../../r/stew/card-a6.pdf">x</a>'),
        ('<a class="button" href="/r/stew/card.pdf?size=4x6">x</a>', ""),
        ('<a href="/r/stew/for-9/">more</a>', "more"),
        ('<a href="https://blog.example/">x</a>', '<a href="https://blog.example/">x</a>'),
        ('<link rel="alternate" href="/feed.atom"><link rel="x" href="/none">', '<link rel="alternate" href="../../feed.atom">'),
        ('<img src="/photos/a.jpg" srcset="/photos/a.webp 1x, /photos/b.webp 2x">',)
        + ('<img src="../../photos/a.jpg" srcset="../../photos/a.webp 1x, ../../photos/b.webp 2x">',),
        ('<form action="/r/stew/"><button>Scale</button></form>', ""),
        ('<section class="plate" id="your-kit"><form></form></section>', SENTENCE),
        ('<script type="module" src="/static/js/x.js"></script><script type="application/ld+json">{}</script>',)
        + ('<script type="application/ld+json">{}</script>',),
    ],
)
def test_a_link_leads_to_its_file_or_is_words(told, made):
    assert for_files(told, "/r/stew/", WRITTEN, site="") == made


def test_what_needs_an_answer_leads_to_the_kitchen_where_it_is_known():
    page = '<a href="/r/stew/for-9/">more</a><form action="/r/stew/"><button>Scale</button></form>'
    made = for_files(page, "/r/stew/", WRITTEN, site="https://kitchen.example")
    assert 'href="https://kitchen.example/r/stew/for-9/"' in made
    assert 'action="https://kitchen.example/r/stew/"' in made


def test_missing_links_are_found_from_where_a_page_stands():
    page = '<a href="../b/"></a><a href="c.pdf"></a><a href="./?q=x"></a><a href="#d"></a><a href="https://x.example/none"></a>'
    assert missing_links(page, "a/index.html", {"a/index.html", "b/index.html", "a/c.pdf"}) == []
    assert missing_links(page, "a/index.html", {"a/index.html"}) == ["../b/", "c.pdf"]


@pytest.fixture
def kitchen(db, owner, noon, settings, tmp_path, monkeypatch):
    """Two published stews in a kitchen with an address."""
    monkeypatch.setattr("kitchen.cards._registered", {})
    from kitchen import cards

    cards.register(TallyCard())
    settings.ANSWERS_DIR = tmp_path / "answers"
    Site.objects.update_or_create(pk=1, defaults={"base_url": "https://files.example/food"})
    recipes = [write_stew(owner, noon), write_stew(owner, noon, slug="other", title="Another pot")]
    for recipe in recipes:
        publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon)
    return recipes


def bake(out, capsys, *more):
    call_command("bake", str(out), *more)
    return capsys.readouterr().out


def test_all_is_written_and_then_only_what_changed(kitchen, owner, noon, tmp_path, capsys):
    out = tmp_path / "site" / "food"
    assert "2 recipes made anew" in bake(out, capsys)
    page = (out / "r/stew/index.html").read_text()
    assert gzip.decompress((out / "r/stew/index.html.gz").read_bytes()).decode() == page
    assert "https://files.example/food/r/stew/" in page
    assert "127.0.0.1" not in page
    assert (out / "r/stew/card-a6.pdf").read_bytes().startswith(b"%PDF")
    assert [one["at"] for one in json.loads((out / "search.json").read_text())] == ["r/other/", "r/stew/"]
    assert "https://files.example/food/r/stew/" in (out / "feed.atom").read_text()
    first = {path.relative_to(out): path.stat().st_ino for path in (out / "r").rglob("*") if path.is_file()}
    assert "0 recipes made anew" in bake(out, capsys)
    assert {path.relative_to(out): path.stat().st_ino for path in (out / "r").rglob("*") if path.is_file()} == first
    stew, other = kitchen
    publish_recipe(recipe=stew, revision=next_revision(stew, noon), by=owner, at=noon + timedelta(days=1))
    assert "1 recipes made anew" in bake(out, capsys)
    assert "edition 2" in (out / "r/stew/index.html").read_text()
    assert (out / "r/stew/editions/1/index.html").is_file()
    withdraw_recipe(recipe=other, at=noon)
    bake(out, capsys)
    assert not (out / "r/other").exists()
    assert [path.name for path in out.parent.iterdir()] == ["food"]


def test_other_sizes_are_written_when_asked_for(kitchen, tmp_path, capsys):
    out = tmp_path / "food"
    bake(out, capsys, "--servings", "8", "--site", "https://kitchen.example/")
    page = (out / "r/stew/for-8/index.html").read_text()
    assert 'href="../../../r/stew/card-a6-8.pdf"' in page
    assert 'href="https://kitchen.example/r/stew/for-9/"' in page
    assert (out / "r/stew/card-a6-8.pdf").is_file()


def test_a_copy_that_fails_leaves_the_last_one(kitchen, tmp_path, capsys, monkeypatch):
    out = tmp_path / "food"
    bake(out, capsys)
    before = (out / "index.html").read_bytes()
    Site.objects.update(name="Another kitchen")
    monkeypatch.setattr("deploy.baking.writing.missing_links", lambda *_: ["gone.html"])
    with pytest.raises(CommandError, match="Nothing was written"):
        bake(out, capsys)
    assert (out / "index.html").read_bytes() == before


def test_what_was_not_baked_is_not_replaced(kitchen, tmp_path, capsys):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "thesis.txt").write_text("years of work")
    with pytest.raises(CommandError, match="Name a folder that is empty"):
        bake(tmp_path / "mine", capsys)
    assert (tmp_path / "mine" / "thesis.txt").read_text() == "years of work"


def test_without_an_address_it_says_where_to_enter_one(kitchen, tmp_path, capsys):
    Site.objects.update(base_url="")
    with pytest.raises(CommandError, match="public address under Settings"):
        bake(tmp_path / "food", capsys)
