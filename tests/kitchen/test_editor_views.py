"""The recipe editor through its address: with and without script, good and bad input."""

import datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from kitchen.domain.draft import DraftPart, DraftStep
from kitchen.models import Food, Line, Recipe, Revision
from kitchen.operations import lock_revision
from kitchen.queries import draft_of, newest_revision
from tests.kitchen.desk import POT, form_fields, write_pot

pytestmark = pytest.mark.django_db

NEW = "/bench/recipes/new/"
BACKGROUND = {"HX-Request": "true", "HX-Target": "draft-state"}


@pytest.fixture
def pot(owner, noon):
    return write_pot(owner, noon)


@pytest.fixture
def edit(pot):
    return reverse("kitchen:recipe-edit", args=[pot.slug])


def page(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return form_fields(answer.content.decode())


def test_a_recipe_from_pasted_text_without_script(owner_client):
    fields = page(owner_client, NEW)
    fields |= {
        "title": "Lentil pot 🍲",
        "servings": "6",
        "part-0-lines": "250 g red lentils\nTo finish:\n1 lemon, juice",
        "pasted_steps": "1. Brown the onions.\n2. Close the lid.",
        "do": "save",
    }
    answer = owner_client.post(NEW, fields)
    recipe = Recipe.objects.get()
    assert answer.headers["Location"] == reverse("kitchen:recipe-edit", args=[recipe.slug])
    draft = draft_of(newest_revision(recipe))
    assert draft.parts == (DraftPart("", ("250 g red lentils",)), DraftPart("To finish", ("1 lemon, juice",)))
    assert [step.text for step in draft.steps] == ["Brown the onions.", "Close the lid."]


def test_what_a_step_says_is_proposed_while_typing_and_taken_by_saving_or_by_one_tap(owner_client):
    fields = page(owner_client, NEW) | {"title": "Pot", "step-0-text": "Hold at high pressure for 9 minutes."}
    typing = owner_client.post(NEW, fields, headers=BACKGROUND).content.decode()
    assert "its words say: hold, 9\xa0min" in typing
    assert newest_revision(Recipe.objects.get()).steps.get().stage == "", "a proposal is nobody’s word yet"
    fields |= form_fields(typing)
    owner_client.post(NEW, fields | {"do": "save"})
    edit = "/bench/recipes/pot/edit/"
    step = newest_revision(Recipe.objects.get()).steps.get()
    assert (step.stage, step.minutes) == ("hold", 9)
    fields = page(owner_client, edit) | {"step-0-stage": ""}
    owner_client.post(edit, fields | {"do": "save"})
    assert newest_revision(Recipe.objects.get()).steps.get().stage == "", "what the cook emptied stays empty"
    again = owner_client.post(edit, page(owner_client, edit) | {"do": "step-0-read"})
    assert form_fields(again.content.decode())["step-0-stage"] == "hold"


def test_sending_the_first_page_twice_makes_one_recipe(owner_client):
    fields = page(owner_client, NEW) | {"title": "Pot"}
    owner_client.post(NEW, fields, headers=BACKGROUND)
    owner_client.post(NEW, fields | {"do": "save"})
    assert Recipe.objects.count() == 1


def test_a_new_page_goes_on_working_after_it_was_saved_in_the_background(owner_client):
    fields = page(owner_client, NEW) | {"title": "Pot"}
    first = owner_client.post(NEW, fields, headers=BACKGROUND)
    assert first.headers["HX-Replace-Url"] == "/bench/recipes/pot/edit/"
    fields |= form_fields(first.content.decode()) | {"summary": "One line."}
    second = owner_client.post(NEW, fields, headers=BACKGROUND)
    assert "Saved" in second.content.decode()
    assert Recipe.objects.get().summary == "One line."


def test_without_a_title_nothing_is_made_and_nothing_is_lost(owner_client):
    fields = page(owner_client, NEW) | {"part-0-lines": "2 eggs", "do": "save"}
    answer = owner_client.post(NEW, fields)
    assert b"Give the recipe a title" in answer.content
    assert form_fields(answer.content.decode())["part-0-lines"] == "2 eggs"
    assert not Recipe.objects.exists()


def test_opening_and_saving_changes_nothing(owner_client, pot, edit):
    version = newest_revision(pot).draft_version
    owner_client.post(edit, page(owner_client, edit) | {"do": "save"})
    assert newest_revision(pot).draft_version == version
    assert draft_of(newest_revision(pot)) == POT


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("servings", "0", "A number from 1 to 500 is needed here."),
        ("servings", "-1", "A number from 1 to 500 is needed here."),
        ("servings", "1e9", "A number from 1 to 500 is needed here."),
        ("servings", "six", "“six” is not a number."),
        ("servings", "2.5", "Type a whole number."),
        ("servings", "NaN", "A number from 1 to 500 is needed here."),
        ("servings", "", "Type how many servings"),
        ("title", " ", "Give the recipe a title"),
        ("step-0-minutes", "nine", "“nine” is not a number."),
        ("step-0-minutes", "-3", "A number from 0 to 9,999 min is needed here."),
        ("step-0-temp_c", "9000", "A number from -60 to 600 °C is needed here."),
        ("step-0-text", "", "Write what to do, or remove this step."),
        ("home_url", "not an address", "Type a whole address"),
        ("tags", "x" * 40, "is long for a tag"),
        ("part-0-lines", "1 egg\n" + "y" * 301, "Line 2, “" + "y" * 40 + "…”, has 301 characters; 300 fit."),
        ("part-0-lines", "1 egg\n" * 201, "ingredient lines; 200 fit."),
    ],
)
def test_nonsense_is_said_beside_its_field_and_kept(owner_client, pot, edit, field, typed, sentence):
    fields = page(owner_client, edit) | {field: typed, "do": "save"}
    answer = owner_client.post(edit, fields)
    html = answer.content.decode()
    assert sentence in html
    assert form_fields(html)[field].strip() == typed.strip()
    assert draft_of(newest_revision(pot)) == POT
    reopened = owner_client.get(edit).content.decode()
    assert "could not be saved yet" in reopened
    assert form_fields(reopened)[field].strip() == typed.strip()


def test_a_hundred_and_one_steps_are_too_many(owner_client, pot, edit):
    fields = page(owner_client, edit) | {"pasted_steps": "\n".join(f"Stir {n}." for n in range(120)), "do": "save"}
    assert "There are 122 steps; 100 fit." in owner_client.post(edit, fields).content.decode()
    assert draft_of(newest_revision(pot)) == POT


def test_ten_megabytes_pasted_get_a_sentence_and_stay_on_the_page(owner_client, pot, edit):
    fields = page(owner_client, edit) | {"part-0-lines": "250 g red lentils\n" * 580_000, "do": "save"}
    answer = owner_client.post(edit, fields)
    html = answer.content.decode()
    assert answer.status_code == 200
    assert "There are 580,001 ingredient lines; 200 fit." in html
    assert "too much text to keep" in html
    assert html.count("250 g red lentils") >= 580_000
    assert draft_of(newest_revision(pot)) == POT
    assert newest_revision(pot).typed == {}


def test_typed_text_can_be_thrown_away(owner_client, pot, edit):
    owner_client.post(edit, page(owner_client, edit) | {"servings": "six"}, headers=BACKGROUND)
    owner_client.post(edit, {"do": "discard"})
    assert page(owner_client, edit)["servings"] == "6"


def test_a_version_that_is_no_number_of_ours_is_taken_for_the_newest(owner_client, pot, edit):
    for nonsense in ("9" * 5000, "-1", "²"):
        fields = {**form_fields(owner_client.get(edit).content.decode()), "number": nonsense}
        assert owner_client.post(edit, {**fields, "do": "save"}).status_code == 302


def test_saving_in_the_background_says_when_and_brings_the_new_version(owner_client, pot, edit):
    fields = page(owner_client, edit) | {"servings": "8"}
    answer = owner_client.post(edit, fields, headers=BACKGROUND)
    html = answer.content.decode()
    assert html.strip().startswith('<div id="draft-state"')
    assert form_fields(html)["version"] == str(newest_revision(pot).draft_version)
    assert newest_revision(pot).servings == 8


def test_a_focused_button_does_nothing_in_the_background(owner_client, pot, edit):
    owner_client.post(edit, page(owner_client, edit) | {"servings": "8", "do": "step-0-remove"}, headers=BACKGROUND)
    assert len(draft_of(newest_revision(pot)).steps) == 2


def test_pasted_steps_are_not_added_twice_in_the_background_and_not_lost(owner_client, pot, edit):
    fields = page(owner_client, edit) | {"servings": "8", "pasted_steps": "Eat."}
    for _ in range(2):
        fields |= form_fields(owner_client.post(edit, fields, headers=BACKGROUND).content.decode())
    assert len(draft_of(newest_revision(pot)).steps) == 2
    assert newest_revision(pot).servings == 8
    assert page(owner_client, edit)["pasted_steps"] == "Eat."


@pytest.mark.parametrize(
    ("wish", "expected"),
    [
        ("step-0-down", ["Add the rest and close the lid.", "Brown the onions."]),
        ("step-1-up", ["Add the rest and close the lid.", "Brown the onions."]),
        ("step-0-up", ["Brown the onions.", "Add the rest and close the lid."]),
        ("step-0-remove", ["Add the rest and close the lid."]),
        ("add-step", ["Brown the onions.", "Add the rest and close the lid.", ""]),
        ("step-999-remove", ["Brown the onions.", "Add the rest and close the lid."]),
    ],
)
def test_steps_are_arranged_without_script(owner_client, pot, edit, wish, expected):
    answer = owner_client.post(edit, page(owner_client, edit) | {"do": wish})
    fields = form_fields(answer.content.decode())
    assert [fields[f"step-{n}-text"] for n in range(len(expected))] == expected
    assert f"step-{len(expected)}-text" not in fields
    assert [step.text for step in draft_of(newest_revision(pot)).steps] == [text for text in expected if text]


def test_steps_are_arranged_with_script_as_a_part_of_the_page(owner_client, edit):
    headers = {"HX-Request": "true", "HX-Target": "steps"}
    html = owner_client.post(edit, page(owner_client, edit) | {"do": "step-0-down"}, headers=headers).content.decode()
    assert html.strip().startswith('<div id="steps"')
    assert "<html" not in html
    assert 'id="draft-state" class="draft-state" role="status" data-hx-swap-oob="true"' in html


def test_a_part_is_added(owner_client, edit):
    html = owner_client.post(edit, page(owner_client, edit) | {"do": "add-part"}).content.decode()
    assert "part-2-lines" in form_fields(html)


def test_reading_the_lines_without_script_goes_to_the_table(owner_client, pot, edit):
    fields = page(owner_client, edit) | {"part-0-lines": "3 eggs", "do": "read"}
    assert owner_client.post(edit, fields).headers["Location"] == f"{edit}#lines-read"


def test_somebody_else_saved_in_between(owner_client, other_client, pot, edit):
    mine, theirs = page(owner_client, edit), page(owner_client, edit)
    owner_client.post(edit, theirs | {"servings": "8", "do": "save"})
    answer = owner_client.post(edit, mine | {"servings": "2", "do": "save"})
    html = answer.content.decode()
    assert "Nothing was overwritten" in html
    assert form_fields(html)["servings"] == "2"
    assert newest_revision(pot).servings == 8
    again = form_fields(html)
    assert "Nothing was overwritten" in owner_client.post(edit, again | {"do": "save"}).content.decode()
    theirs = page(owner_client, edit) | {"servings": "9"}
    told = owner_client.post(edit, theirs, headers=BACKGROUND).content.decode()
    assert "owner also has this recipe open and was held back" in told
    owner_client.post(edit, again | {"do": "mine"})
    assert newest_revision(pot).servings == 2


def test_a_locked_revision_says_so_and_the_first_save_opens_the_next(owner_client, pot, edit, noon):
    lock_revision(revision=newest_revision(pot), at=noon)
    html = owner_client.get(edit).content.decode()
    assert "Your first change opens" in html
    fields = form_fields(html)
    assert fields["note"] == ""
    owner_client.post(edit, fields, headers=BACKGROUND)
    assert pot.revisions.count() == 1
    answer = owner_client.post(edit, fields | {"servings": "8", "note": "Hungrier."}, headers=BACKGROUND)
    assert "This is revision 2 now" in answer.content.decode()
    newest = newest_revision(pot)
    assert (newest.number, newest.servings, newest.note) == (2, 8, "Hungrier.")
    assert Revision.objects.get(number=1).servings == 6


def test_a_signed_out_page_keeps_what_was_typed(stranger_client, edit):
    answer = stranger_client.post(edit, {"title": "x"}, headers=BACKGROUND)
    assert answer.status_code == 200
    assert "you were signed out" in answer.content.decode()
    assert answer.headers["HX-Retarget"] == "#draft-state"


def line_address(pot, line):
    return reverse("kitchen:line-correct", args=[pot.slug, line.pk])


def test_a_line_is_corrected_without_script(owner_client, pot, edit):
    rice = Food.objects.create(name="Rice")
    line = Line.objects.get(text="2 onions, chopped")
    onward = owner_client.post(edit, page(owner_client, edit) | {"do": f"correct-{line.pk}"})
    assert onward.headers["Location"] == line_address(pot, line)
    assert owner_client.get(line_address(pot, line)).status_code == 200
    key = f"line-{line.pk}"
    said = {f"{key}-low": "2 1/2", f"{key}-high": "3", f"{key}-unit": "g", f"{key}-name": "onion", f"{key}-food": "rice"}
    answer = owner_client.post(line_address(pot, line), said | {f"{key}-rule": "fixed", f"{key}-to_taste": "on"})
    assert answer.headers["Location"] == f"{edit}#line-{line.pk}"
    line.refresh_from_db()
    assert (str(line.low), str(line.high), line.unit, line.food, line.rule, line.to_taste) == (
        "5/2",
        "3",
        "g",
        rice,
        "fixed",
        True,
    )
    assert line.corrected
    owner_client.post(line_address(pot, line), {"do": "again"})
    line.refresh_from_db()
    assert (str(line.low), line.corrected) == ("2", False)


def test_a_line_is_corrected_in_its_row_and_the_open_page_goes_on(owner_client, pot, edit):
    fields = page(owner_client, edit)
    line = Line.objects.get(text="2 onions, chopped")
    row = owner_client.get(line_address(pot, line), headers={"HX-Request": "true"}).content.decode()
    assert row.startswith(f'<tr id="line-{line.pk}">')
    said = {f"line-{line.pk}-low": "3", f"line-{line.pk}-rule": "proportional"}
    answer = owner_client.post(line_address(pot, line), said, headers={"HX-Request": "true"}).content.decode()
    assert "corrected" in answer
    fields |= form_fields(answer) | {"servings": "8"}
    assert "Saved" in owner_client.post(edit, fields, headers=BACKGROUND).content.decode()
    line.refresh_from_db()
    assert str(line.low) == "3"


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("low", "lots", "“lots” is not an amount."),
        ("low", "9" * 40, "is not an amount"),
        ("low", "0", "Type an amount above zero, or leave this empty."),
        ("high", "1", "This is less than the amount it starts from."),
        ("food", "moon dust", "There is no food called “moon dust”."),
        ("unit", "parsec", "Select a valid choice"),
    ],
)
def test_a_nonsense_correction_is_said_beside_its_field(owner_client, pot, field, typed, sentence):
    line = Line.objects.get(text="2 onions, chopped")
    said = {f"line-{line.pk}-low": "2", f"line-{line.pk}-rule": "proportional", f"line-{line.pk}-{field}": typed}
    html = owner_client.post(line_address(pot, line), said).content.decode()
    assert sentence in html
    line.refresh_from_db()
    assert not line.corrected


def test_a_line_of_an_older_revision_is_not_corrected(owner_client, pot, edit, noon):
    line = Line.objects.get(text="2 onions, chopped")
    lock_revision(revision=newest_revision(pot), at=noon)
    owner_client.post(edit, page(owner_client, edit) | {"servings": "8", "do": "save"})
    answer = owner_client.post(line_address(pot, line), {f"line-{line.pk}-rule": "fixed"}, follow=True)
    assert "stands in an older revision" in answer.content.decode()


def test_the_editor_asks_no_more_with_more_rows(owner_client, owner, noon, pot, edit):
    def count(address):
        with CaptureQueriesContext(connection) as queries:
            assert owner_client.get(address).status_code == 200
        return len(queries)

    long = write_pot(
        owner,
        noon + datetime.timedelta(hours=1),
        draft=POT.__class__(
            title="Long",
            servings=4,
            parts=tuple(DraftPart(f"part {n}", tuple(f"{n} g flour {m}" for m in range(20))) for n in range(1, 6)),
            steps=tuple(DraftStep(f"Stir {n}.") for n in range(40)),
        ),
    )
    count(edit)
    few = count(edit)
    assert count(reverse("kitchen:recipe-edit", args=[long.slug])) == few
    assert few <= 14


def test_hidden_fields_with_null_characters_make_no_trouble(owner_client):
    assert owner_client.post(reverse("kitchen:recipe-new"), {"recipe": "a\0b", "title": "Pot"}).status_code == 404
    answer = owner_client.post(reverse("kitchen:recipe-new"), {"once": "a\0b", "title": "Pot", "servings": "4"})
    assert answer.status_code == 200
    assert Recipe.objects.get().title == "Pot"


def test_a_book_pasted_as_steps_stays_in_its_field_with_a_sentence(owner_client):
    typed = {"title": "Pot", "servings": "4", "pasted_steps": "Stir.\n" * 300, "do": "paste-steps"}
    page = owner_client.post(reverse("kitchen:recipe-new"), typed).content.decode()
    assert "This makes 300 steps; 200 can be taken at once." in page
    assert page.count("Stir.") == 300
