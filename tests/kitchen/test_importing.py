"""Bringing in a recipe: a file or a text, a preview that can be corrected, a draft."""

import json
from html.parser import HTMLParser

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import CommandError, call_command

from kitchen.domain.draft import DraftContent, DraftPart, DraftStep
from kitchen.domain.step_words import read_step
from kitchen.models import Recipe
from kitchen.operations.importing import bring_in_recipe
from tests.kitchen.importers.sampling import CAKE, SOUP, STEW, linked, node_of, page_with

HERE = "/bench/recipes/import/"
TEXT = "Leek pan\n\nServes 3\nPrep 10 min\n\n2 leeks\n1 tbsp oil\n\nSlice the leeks.\n\nFry them for ten minutes."


class Fields(HTMLParser):
    """The fields of a page's form as a browser would send them."""

    def __init__(self, page):
        super().__init__(convert_charrefs=True)
        self.found, self.area, self.select = {}, None, None
        self.feed(page.content.decode())

    def handle_starttag(self, tag, attrs):
        said = dict(attrs)
        if tag == "input" and said.get("name") and said.get("type") != "file":
            self.found[said["name"]] = said.get("value") or ""
        elif tag == "textarea":
            self.area = said["name"]
            self.found[self.area] = ""
        elif tag == "select":
            self.select = said["name"]
        elif tag == "option" and self.select and ("selected" in said or self.select not in self.found):
            self.found[self.select] = said.get("value", "")

    def handle_endtag(self, tag):
        self.area = None if tag == "textarea" else self.area
        self.select = None if tag == "select" else self.select

    def handle_data(self, data):
        if self.area:
            self.found[self.area] += data.removeprefix("\n") if not self.found[self.area] else data


def upload(client, content, name="page.html", **fields):
    data = content if isinstance(content, bytes) else content.encode()
    return client.post(HERE, {"do": "read", "page": SimpleUploadedFile(name, data), **fields})


def paste(client, text):
    return client.post(HERE, {"do": "read", "text": text})


def test_three_people_at_the_door(owner_client, other_client, stranger_client):
    assert owner_client.get(HERE).status_code == 200
    assert other_client.get(HERE).status_code == 200
    assert stranger_client.get(HERE).headers["Location"].startswith("/bench/sign-in/")
    assert stranger_client.post(HERE, {"do": "make", "title": "x"}).status_code == 302
    assert not Recipe.objects.exists()


def test_the_bench_leads_here(owner_client):
    assert HERE in owner_client.get("/bench/").content.decode()


def test_a_saved_page_becomes_a_preview_and_then_a_draft(other_client, other_cook):
    page = linked(STEW, url="https://mill.example/stew", author={"name": "Ada Mill"}, keywords="barley, one pot", totalTime=None)
    preview = upload(other_client, page)
    assert not Recipe.objects.exists()
    fields = Fields(preview).found
    assert (fields["title"], fields["servings"], fields["tags"]) == (STEW.title, "4", "barley, one pot")
    assert fields["ingredients"].splitlines() == list(STEW.lines)
    assert (
        fields["note"]
        == "Imported from https://mill.example/stew; by Ada Mill; the page said 15 min preparation, 45 min cooking."
    )
    assert "60 min together" in preview.content.decode()
    fields["ingredients"] = fields["ingredients"].replace("3 beets", "4 beets")
    answer = other_client.post(HERE, {**fields, "do": "make"})
    recipe = Recipe.objects.get()
    assert answer.headers["Location"] == f"/bench/recipes/{recipe.slug}/edit/"
    assert (recipe.owner, recipe.title, recipe.home_url) == (other_cook, STEW.title, "https://mill.example/stew")
    revision = recipe.revisions.get()
    lines = [line.text for part in revision.parts.all() for line in part.lines.all()]
    assert lines == ["200 g pearl barley", "4 beets, peeled and diced", *STEW.lines[2:]]
    assert [step.text for step in revision.steps.all()] == list(STEW.steps)
    read = [(step.stage, step.minutes) for step in revision.steps.all()]
    assert read == [(one.stage, one.minutes) for one in map(read_step, STEW.steps)], "as its words say"
    assert revision.note == fields["note"]


def test_the_note_outlives_the_first_save_in_the_editor(owner_client):
    owner_client.post(HERE, {**Fields(upload(owner_client, linked(CAKE))).found, "do": "make"})
    recipe = Recipe.objects.get()
    editor = owner_client.get(f"/bench/recipes/{recipe.slug}/edit/").content.decode()
    assert "Imported; the page said 10 min preparation" in editor


def test_headings_become_parts_and_sections_stand_before_their_first_step(owner_client):
    sections = [{"@type": "HowToSection", "name": "Base", "itemListElement": [{"text": text} for text in STEW.steps[:2]]}]
    page = linked(STEW, recipeIngredient=["1 egg", "For the sauce:", "2 beets"], recipeInstructions=sections)
    owner_client.post(HERE, {**Fields(upload(owner_client, page)).found, "do": "make"})
    revision = Recipe.objects.get().revisions.get()
    assert [part.title for part in revision.parts.all()] == ["", "For the sauce"]
    assert [step.text for step in revision.steps.all()] == [f"Base: {STEW.steps[0]}", STEW.steps[1]]


def test_pasted_text_becomes_a_preview(owner_client):
    fields = Fields(paste(owner_client, TEXT)).found
    assert (fields["title"], fields["servings"]) == ("Leek pan", "3")
    assert fields["method"] == "Slice the leeks.\n\nFry them for ten minutes."


def test_what_is_missing_is_said_at_once_and_nothing_typed_is_lost(owner_client):
    preview = upload(owner_client, linked(SOUP, recipeYield=None))
    assert "Type how many servings these amounts make" in preview.content.decode()
    fields = {**Fields(preview).found, "summary": "Green & good", "servings": "none"}
    again = owner_client.post(HERE, {**fields, "do": "make"})
    assert not Recipe.objects.exists()
    kept = Fields(again).found
    assert {name: kept[name] for name in fields if name != "csrfmiddlewaretoken"} == {
        name: value for name, value in fields.items() if name != "csrfmiddlewaretoken"
    }
    assert "“none” is not a number" in again.content.decode()
    assert "How many servings it makes is not said." in again.content.decode()


def test_a_line_or_a_step_that_is_too_long_is_named_beside_its_field(owner_client):
    fields = Fields(paste(owner_client, TEXT)).found
    answer = owner_client.post(HERE, {**fields, "ingredients": "1 egg\n" + "x" * 301, "method": "y" * 4001, "do": "make"})
    page = answer.content.decode()
    assert "Line 2" in page
    assert "Step 1:" in page
    assert "y" * 4001 in page


@pytest.mark.parametrize("text", ["one leek", "१२ ½ \x07", "x" * 5000, "<p>nothing here</p>", '{"a": 1}'])
def test_text_without_a_recipe_comes_back_with_a_sentence(owner_client, text):
    page = paste(owner_client, text)
    assert Fields(page).found["text"] == text
    assert "recipe" in page.content.decode().lower()
    assert "alert" in page.content.decode()


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "This file is empty"),
        (b"%PDF-1.7 and more", "is a PDF"),
        (b"\x00\xff\x01" * 3000, "not text"),
        (b"<" * (10 * 1024 * 1024 + 1), "10 MB fit"),
        (b'{"@type": "Recipe", "a": ' + b"[" * 5000, "nested"),
    ],
)
def test_a_wrong_file_is_answered_in_plain_words(owner_client, content, words):
    answer = upload(owner_client, content)
    assert answer.status_code == 200
    assert words in answer.content.decode()


def test_nothing_and_both_are_told_apart(owner_client):
    assert "Choose a saved page, or paste" in owner_client.post(HERE, {"do": "read"}).content.decode()
    both = upload(owner_client, linked(STEW), text="my own words")
    assert "A file and a text were both given" in both.content.decode()
    assert Fields(both).found["text"] == "my own words"


def test_another_recipe_of_the_page_can_be_taken_and_corrections_stay(owner_client):
    preview = upload(owner_client, page_with(json.dumps([node_of(STEW), node_of(SOUP)])))
    fields = {**Fields(preview).found, "title": "My stew"}
    other = owner_client.post(HERE, {**fields, "do": "other-0"})
    assert Fields(other).found["title"] == SOUP.title
    back = owner_client.post(HERE, {**Fields(other).found, "do": "other-0"})
    assert Fields(back).found["title"] == "My stew"
    assert Fields(back).found["ingredients"].splitlines() == list(STEW.lines)


@pytest.mark.parametrize(
    "kept", ["", "[]", "{", '{"others": [1, {"fields": 2}], "doubts": 7, "facts": [1, ["a", "b"]]}', "[" * 9999]
)
def test_a_hidden_field_that_was_tampered_with_is_forgotten(owner_client, kept):
    fields = {**Fields(paste(owner_client, TEXT)).found, "kept": kept}
    for wish in ("other-0", "other-7", "make"):
        assert owner_client.post(HERE, {**fields, "servings": "", "do": wish}).status_code == 200
    assert not Recipe.objects.exists()


def test_sent_twice_it_is_one_recipe_and_the_second_changes_nothing(owner_client):
    fields = Fields(paste(owner_client, TEXT)).found
    owner_client.post(HERE, {**fields, "do": "make"})
    answer = owner_client.post(HERE, {**fields, "title": "Another", "do": "make"})
    recipe = Recipe.objects.get()
    assert recipe.title == "Leek pan"
    assert recipe.slug in answer.headers["Location"]


def test_hostile_words_are_shown_as_words(owner_client):
    page = upload(owner_client, linked(STEW, name="</textarea><script>alert(1)</script>", author="<img src=x onerror=alert(1)>"))
    assert "<script>alert" not in page.content.decode()
    assert "<img src=x" not in page.content.decode()


def test_where_data_hold_less_than_the_page_shows_the_cook_chooses(owner_client):
    shown = "".join(f"<li>{line}</li>" for line in (*STEW.lines, "1 bay leaf", "2 onions", "1 tsp sugar", "10 g butter"))
    steps = "".join(f"<li>{text}</li>" for text in STEW.steps)
    body = f"<h2>Ingredients</h2><ul>{shown}</ul><h2>Method</h2><ol>{steps}</ol>"
    script = json.dumps(node_of(STEW, recipeIngredient=list(STEW.lines[:2])))
    preview = upload(owner_client, page_with(script, body=body))
    assert "The page shows 9 ingredients, its data hold 2." in preview.content.decode()
    assert "from the page&#x27;s own headings and lists" in preview.content.decode()
    chosen = owner_client.post(HERE, {**Fields(preview).found, "do": "other-0"})
    assert Fields(chosen).found["ingredients"].splitlines()[-1] == "10 g butter"
    assert "from the recipe data that the page carries" in chosen.content.decode()
    back = owner_client.post(HERE, {**Fields(chosen).found, "do": "other-0"})
    assert Fields(back).found["ingredients"].splitlines() == list(STEW.lines[:2])


def test_a_recipe_named_import_does_not_take_the_address(owner, noon):
    draft = DraftContent("Import", 2, parts=(DraftPart("", ("1 egg",)),), steps=(DraftStep("Fry."),))
    assert bring_in_recipe(owner=owner, draft=draft, at=noon).slug == "import-2"


def test_the_command_brings_in_what_it_can_and_says_what_it_cannot(owner, tmp_path, capsys):
    (tmp_path / "good.html").write_text(linked(STEW, recipeYield=None), encoding="utf-8")
    (tmp_path / "bad.pdf").write_bytes(b"%PDF-1.4")
    with pytest.raises(CommandError, match="1 of 3 files"):
        call_command("import_recipe", str(tmp_path / "good.html"), str(tmp_path / "bad.pdf"), str(tmp_path / "good.html"))
    said = capsys.readouterr()
    assert "4 servings were taken" in said.out
    assert "is a PDF" in said.err
    assert Recipe.objects.filter(owner=owner).count() == 2


def test_the_command_shows_without_keeping(db, tmp_path, capsys):
    file = tmp_path / "soup.json"
    file.write_text(json.dumps(node_of(SOUP)), encoding="utf-8")
    call_command("import_recipe", "--show", str(file))
    shown = json.loads(capsys.readouterr().out)
    assert (shown["title"], shown["ingredients"], shown["steps"]) == (SOUP.title, list(SOUP.lines), list(SOUP.steps))
    assert (shown["prep_min"], shown["cook_min"], shown["total_min"], shown["servings"]) == (20, 25, 45, 6)
    assert not Recipe.objects.exists()


def test_the_command_names_a_cook_or_a_file_that_is_not_there(owner, tmp_path):
    with pytest.raises(CommandError, match="no cook"):
        call_command("import_recipe", "x.html", cook="nobody")
    with pytest.raises(CommandError, match="1 of 1"):
        call_command("import_recipe", str(tmp_path / "x.html"))
