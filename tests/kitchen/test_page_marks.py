"""A page that saves again is no clash with itself, an old save overwrites no newer one, and another's work is never lost."""

from dataclasses import replace
from fractions import Fraction

import pytest
from django.urls import reverse

from kitchen.domain.draft import DraftPart
from kitchen.domain.reading import LineReading
from kitchen.models import Food, Line
from kitchen.operations import (
    DraftClash,
    Overtaken,
    Seen,
    correct_line,
    create_recipe,
    forget_aside,
    keep_typed,
    lock_revision,
    save_page,
    set_aside,
)
from kitchen.queries import draft_of, newest_revision
from tests.kitchen.desk import POT, form_fields, write_pot

pytestmark = pytest.mark.django_db

BACKGROUND = {"HX-Request": "true", "HX-Target": "draft-state"}


@pytest.fixture
def pot(owner, noon):
    return write_pot(owner, noon)


@pytest.fixture
def save(pot, owner, noon):
    """Save so many servings as a page that last saw a version."""

    def make(servings, seen, **more):
        return save_page(recipe=pot, by=owner, draft=replace(POT, servings=servings), seen=seen, at=noon, **more)

    return make


def state(recipe):
    newest = newest_revision(recipe)
    return newest.number, newest.draft_version


def test_the_same_page_may_save_again_with_the_version_it_last_heard_of(pot, save):
    seen = Seen(*state(pot), page="a", turn=1)
    save(7, seen)
    save(8, replace(seen, turn=2))
    save(9, replace(seen, turn=3))
    assert newest_revision(pot).servings == 9


def test_also_when_its_own_save_opened_the_next_revision(pot, save, noon):
    lock_revision(revision=newest_revision(pot), at=noon)
    seen = Seen(*state(pot), page="a", turn=1)
    assert save(7, seen).opened
    assert not save(8, replace(seen, turn=2)).opened
    assert (newest_revision(pot).number, newest_revision(pot).servings) == (2, 8)


def test_another_page_in_between_is_a_clash_for_both(pot, save):
    first = Seen(*state(pot), page="a", turn=1)
    save(7, first)
    with pytest.raises(DraftClash):
        save(8, replace(first, page="b"))
    save(8, Seen(*state(pot), page="b", turn=1))
    with pytest.raises(DraftClash):
        save(9, replace(first, turn=2))
    with pytest.raises(DraftClash):
        save(9, Seen(first.number, first.version))
    assert newest_revision(pot).servings == 8


def test_a_save_that_was_held_up_overwrites_no_later_one(pot, save):
    seen = Seen(*state(pot), page="a", turn=5)
    save(8, seen)
    with pytest.raises(Overtaken):
        save(7, replace(seen, turn=4))
    save(8, seen)
    assert newest_revision(pot).servings == 8


def test_a_line_corrected_in_another_window_is_somebody_else_s_doing(pot, save, owner, noon):
    seen = Seen(*state(pot), page="a", turn=1)
    save(7, seen)
    line = Line.objects.get(text="2 onions, chopped")
    correct_line(line=line, reading=LineReading(name="onion"), by=owner, at=noon)
    with pytest.raises(DraftClash):
        save(8, replace(seen, turn=2))


def test_a_page_that_cannot_be_saved_is_kept_and_goes_on(pot, save, noon):
    seen = Seen(*state(pot), page="a", turn=1)
    assert keep_typed(recipe=pot, fields={"title": ""}, seen=seen, at=noon)
    assert keep_typed(recipe=pot, fields={"title": "", "summary": "x"}, seen=replace(seen, turn=2), at=noon)
    with pytest.raises(Overtaken):
        keep_typed(recipe=pot, fields={"title": ""}, seen=seen, at=noon)
    save(8, replace(seen, turn=3))
    assert "fields" not in newest_revision(pot).typed


def test_mine_on_top_leaves_theirs_as_a_revision_of_its_own(pot, save):
    save(7, Seen(*state(pot), page="b", turn=1))
    saved = save(9, Seen(*state(pot), page="a", turn=1), beside=True)
    assert (saved.opened, saved.revision.number, saved.revision.copied_from, saved.revision.servings) == (True, 2, 1, 9)
    assert pot.revisions.get(number=1).servings == 7
    same = save(9, Seen(*state(pot), page="c", turn=1), beside=True)
    assert not same.opened


def test_what_was_set_aside_goes_along_and_can_be_thrown_away(pot, save, noon):
    for number in range(7):
        assert set_aside(recipe=pot, fields={"title": str(number)}, who="owner", at=noon)
    assert not set_aside(recipe=pot, fields={"title": "x" * 1_000_001}, who="owner", at=noon)
    lock_revision(revision=newest_revision(pot), at=noon)
    save(8, Seen(*state(pot), page="a", turn=1))
    held = newest_revision(pot)
    assert (held.number, [one["fields"]["title"] for one in held.typed["aside"]]) == (2, ["6", "5", "4", "3", "2"])
    for place in (4, 9, 0, 0, 0, 0):
        forget_aside(recipe=pot, place=place)
    assert "aside" not in newest_revision(pot).typed


@pytest.fixture
def edit(pot):
    return reverse("kitchen:recipe-edit", args=[pot.slug])


@pytest.fixture
def mine(owner_client, edit):
    """My page, after another one saved twelve servings and more lentils."""
    mine = form_fields(owner_client.get(edit).content.decode())
    theirs = form_fields(owner_client.get(edit).content.decode())
    owner_client.post(edit, theirs | {"servings": "12", "part-0-lines": "900 g red lentils", "do": "save"})
    return mine | {"part-0-lines": "300 g red lentils", "title": "My pot", "step-0-minutes": "lots"}


def test_both_pages_stand_beside_each_other_even_an_unfinished_one(owner_client, edit, mine):
    html = owner_client.post(edit, mine | {"do": "compare"}).content.decode()
    assert "red lentils 900 g → 300 g" in html
    assert "it is “My pot” now" in html
    assert form_fields(html)["step-0-minutes"] == "lots"
    assert form_fields(html)["page"] == mine["page"]


def test_theirs_is_taken_and_mine_is_put_back(owner_client, pot, edit, mine):
    answer = owner_client.post(edit, mine | {"do": "theirs"}, follow=True).content.decode()
    assert form_fields(answer)["part-0-lines"] == "900 g red lentils"
    assert "What owner had typed" in answer
    back = owner_client.get(f"{edit}?aside=0").content.decode()
    assert form_fields(back)["step-0-minutes"] == "lots"
    assert draft_of(newest_revision(pot)).parts[0] == DraftPart("", ("900 g red lentils",))
    owner_client.post(edit, form_fields(back) | {"step-0-minutes": "9", "do": "save"})
    assert newest_revision(pot).recipe.title == "My pot"
    for nonsense in ("7", "x", "-1", "9" * 40):
        assert owner_client.get(edit, {"aside": nonsense}).status_code == 200


def test_too_much_to_set_aside_stays_on_the_page(owner_client, edit, mine):
    huge = "x" * 1_000_001
    html = owner_client.post(edit, mine | {"step-0-text": huge, "do": "theirs"}).content.decode()
    assert "too much text to set aside" in html
    assert huge in html


def test_a_held_up_save_gets_the_newest_version_and_writes_nothing(owner_client, pot, edit):
    fields = form_fields(owner_client.get(edit).content.decode())
    owner_client.post(edit, fields | {"servings": "8", "turn": "20"}, headers=BACKGROUND)
    late = owner_client.post(edit, fields | {"servings": "7", "turn": "10"}, headers=BACKGROUND)
    assert "Everything is saved." in late.content.decode()
    assert form_fields(late.content.decode())["version"] == str(newest_revision(pot).draft_version)
    assert newest_revision(pot).servings == 8
    for nonsense in ("x", "9" * 40, "-5", "²"):
        assert owner_client.post(edit, fields | {"turn": nonsense}, headers=BACKGROUND).status_code == 200


def test_heading_title_and_address_follow_the_first_save(owner_client):
    fields = form_fields(owner_client.get("/bench/recipes/new/").content.decode())
    answer = owner_client.post("/bench/recipes/new/", fields | {"title": "Lentil pot"}, headers=BACKGROUND)
    html = answer.content.decode()
    assert '<h1 dir="auto">Lentil pot</h1>' in html
    assert "<title>Edit: Lentil pot" in html
    assert "revision 1" in html
    assert answer.headers["HX-Replace-Url"] == "/bench/recipes/lentil-pot/edit/"


def test_a_title_without_latin_letters_is_told_that_its_address_can_be_chosen(owner_client, owner, noon):
    recipe = create_recipe(owner=owner, title="حساء العدس", at=noon)
    for address in ("recipe-edit", "recipe-bench"):
        html = owner_client.get(reverse(f"kitchen:{address}", args=[recipe.slug])).content.decode()
        assert "Choose another" in html
    plain = create_recipe(owner=owner, title="Smørbrød à la crème", at=noon)
    assert plain.slug == "smorbrod-a-la-creme"
    assert "Choose another" not in owner_client.get(reverse("kitchen:recipe-edit", args=[plain.slug])).content.decode()


def test_a_removed_step_is_undone_without_script(owner_client, pot, edit):
    fields = form_fields(owner_client.get(edit).content.decode())
    html = owner_client.post(edit, fields | {"do": "step-0-remove"}).content.decode()
    assert "Step 1 was removed." in html
    assert len(draft_of(newest_revision(pot)).steps) == 1
    again = owner_client.post(edit, form_fields(html) | {"do": "undo"}).content.decode()
    assert form_fields(again)["step-0-text"] == "Brown the onions."
    assert "undo" not in form_fields(again)
    assert draft_of(newest_revision(pot)) == POT
    assert owner_client.post(edit, fields | {"do": "undo", "undo": '["put"]'}).status_code == 200


def test_a_corrected_line_that_is_cut_and_pasted_keeps_its_correction(pot, owner, noon):
    rice = Food.objects.create(name="rice")
    line = Line.objects.get(text="2 onions, chopped")
    reading = LineReading(low=Fraction(5, 2), high=Fraction(3), name="onion", rule="fixed", food=rice)
    correct_line(line=line, reading=reading, by=owner, at=noon)

    def keep(*lines):
        draft = replace(POT, parts=(DraftPart("", lines),))
        save_page(recipe=pot, by=owner, draft=draft, seen=Seen(*state(pot), page="a"), at=noon)

    keep("1 egg")
    assert [held["text"] for held in newest_revision(pot).typed["put_by"]] == ["2 onions, chopped"]
    keep("1 egg", "2 onions, chopped", "2 onions, chopped")
    first, second = Line.objects.filter(text="2 onions, chopped").order_by("position")
    assert (first.low, first.high, first.rule, first.food, first.corrected) == (Fraction(5, 2), Fraction(3), "fixed", rice, True)
    assert not second.corrected
    assert "put_by" not in newest_revision(pot).typed
    keep("1 egg")
    rice.delete()
    keep("2 onions, chopped")
    assert (Line.objects.get(text="2 onions, chopped").food, newest_revision(pot).typed.get("put_by")) == (None, None)
