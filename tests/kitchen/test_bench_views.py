"""The bench: what waits, a recipe's own page, publishing, its address, its sides, its end."""

import datetime
import re
from dataclasses import replace
from decimal import Decimal

import pytest
from django.contrib.auth.models import User
from django.db import connection
from django.db.models import ProtectedError
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from kitchen import cards
from kitchen.cards import Attention, BenchLink, BenchSection, FirstThing, WorkbenchPart
from kitchen.domain.draft import DraftContent, DraftPart
from kitchen.models import PastSlug, Recipe, Site
from kitchen.operations import CannotDelete, Seen, create_recipe, delete_recipe, lock_revision, pair_side, save_page
from kitchen.queries import newest_revision
from tests.kitchen.desk import POT, write_pot
from tests.kitchen.stew import TallyCard

pytestmark = pytest.mark.django_db


@pytest.fixture
def pot(no_cards, owner, noon):
    return write_pot(owner, noon)


def at(name, recipe, *more):
    return reverse(f"kitchen:{name}", args=[recipe.slug, *more])


def save(recipe, by, moment, draft):
    newest = newest_revision(recipe)
    return save_page(recipe=recipe, by=by, draft=draft, seen=Seen(newest.number, newest.draft_version), at=moment)


def html_of(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def queries_of(client, address):
    with CaptureQueriesContext(connection) as queries:
        html_of(client, address)
    return len(queries)


# --- what waits -------------------------------------------------------------------------------------------------------------


def test_an_empty_bench_says_what_to_do_first(no_cards, owner_client):
    html = html_of(owner_client, "/bench/")
    assert "An empty kitchen" in html
    assert reverse("kitchen:recipe-new") in html


class WaitingCard(TallyCard):
    def attention(self, user, *, at):
        return [Attention(f"{user.username} has an unpriced lemon.", "/bench/prices/", "price")]

    def bench_sections(self):
        return [BenchSection("Lemons", (BenchLink("All lemons", "/bench/lemons/"),))]

    def workbench(self, recipe, revision, *, at):
        link = BenchLink("Record a cook", f"/bench/recipes/{recipe.slug}/runs/new/", f"on revision {revision.number}")
        return WorkbenchPart("Lemons", "no lemon yet", next=BenchLink("Squeeze it", "/bench/lemons/"), links=(link,))

    def first_things(self, recipe):
        return [FirstThing("Squeeze a lemon", "It takes a minute.", "/bench/lemons/", False, 10)]


def test_the_cards_say_what_waits_and_where_one_can_go(pot, owner_client):
    cards.register(WaitingCard())
    html = html_of(owner_client, "/bench/")
    assert "owner has an unpriced lemon." in html
    assert re.search(r'<a href="/bench/lemons/"\s*>Lemons</a>', html)
    page = html_of(owner_client, at("recipe-bench", pot))
    assert f"/bench/recipes/{pot.slug}/runs/new/" in page
    assert "on revision 1" in page


def test_an_unfinished_and_an_unpublished_recipe_wait(no_cards, stew, owner, owner_client, noon):
    create_recipe(owner=owner, title="Empty pan", at=noon)
    draft = replace(POT, title=stew.title, servings=9)
    save(stew, owner, noon, draft)
    html = html_of(owner_client, "/bench/")
    assert "Empty pan has no ingredients and no method yet." in html
    assert f"{stew.title}: revision 2 is not published; readers see 1." in html


def test_a_cook_sees_their_own_recipes_and_the_owner_all(pot, owner_client, other_client, other_cook, noon):
    write_pot(other_cook, noon, draft=replace(POT, title="Other pan"))
    assert "Red lentil pot" not in html_of(other_client, "/bench/")
    owner_sees = html_of(owner_client, "/bench/")
    assert "Red lentil pot" in owner_sees
    assert "Other pan" in owner_sees


def test_the_bench_asks_no_more_with_ten_more_recipes(pot, owner, owner_client, noon):
    queries_of(owner_client, "/bench/")
    few = queries_of(owner_client, "/bench/")
    for number in range(10):
        write_pot(owner, noon, draft=replace(POT, title=f"Pot {number}"))
    assert queries_of(owner_client, "/bench/") == few <= 6


# --- one recipe -------------------------------------------------------------------------------------------------------------


def test_revisions_tell_what_changed(pot, owner, owner_client, noon):
    lock_revision(revision=newest_revision(pot), at=noon)
    more = replace(
        POT, note="Too stiff.", parts=(DraftPart("", ("300 g red lentils, rinsed", "2 onions, chopped")), POT.parts[1])
    )
    save(pot, owner, noon, more)
    html = html_of(owner_client, at("recipe-bench", pot))
    assert "“250 g red lentils, rinsed” became “300 g red lentils, rinsed”." in html
    assert "Too stiff." in html
    assert "Revision 2, being written." in html


def test_the_recipe_page_asks_no_more_with_more_revisions_and_rows(pot, owner, owner_client, noon):
    queries_of(owner_client, at("recipe-bench", pot))
    few = queries_of(owner_client, at("recipe-bench", pot))
    for number in range(2, 7):
        lock_revision(revision=newest_revision(pot), at=noon)
        lines = tuple(f"{number}{extra} g flour" for extra in range(10 * number))
        save(pot, owner, noon, replace(POT, parts=(DraftPart("", lines),)))
    assert pot.revisions.count() == 6
    assert queries_of(owner_client, at("recipe-bench", pot)) == few


def test_the_draft_is_shown_as_readers_would_see_it(pot, owner_client):
    html = html_of(owner_client, at("recipe-draft", pot))
    assert "Red lentil pot" in html
    assert "red lentils" in html


# --- publishing -------------------------------------------------------------------------------------------------------------


def test_publishing_shows_what_goes_out_and_then_that_nothing_changed(pot, owner, owner_client, stranger_client, noon):
    public = reverse("kitchen:recipe", args=[pot.slug])
    assert stranger_client.get(public).status_code == 404
    assert "This is the first edition" in html_of(owner_client, at("recipe-publish", pot))
    assert owner_client.post(at("recipe-publish", pot), {"note": "First."}).headers["Location"] == at("recipe-bench", pot)
    assert stranger_client.get(public).status_code == 200
    nothing_new = html_of(owner_client, at("recipe-publish", pot))
    assert "Nothing has changed since edition 1" in nothing_new
    assert 'name="note"' not in nothing_new
    again = owner_client.post(at("recipe-publish", pot), {"note": "kept"}).content.decode()
    assert "nothing new to publish" in again
    assert 'value="kept"' in again
    pot.refresh_from_db()
    save(pot, owner, noon, replace(POT, servings=8))
    assert "Serves 8 instead of 6." in html_of(owner_client, at("recipe-publish", pot))
    owner_client.post(at("recipe-publish", pot), {})
    assert pot.editions.count() == 2


def test_an_empty_recipe_is_not_published(no_cards, owner, owner_client, noon):
    recipe = create_recipe(owner=owner, title="Empty pan", at=noon)
    assert "Add at least one ingredient" in owner_client.post(at("recipe-publish", recipe), {}).content.decode()


def test_newer_card_figures_are_a_change(pot, owner_client):
    cards.register(TallyCard(tally=240))
    owner_client.post(at("recipe-publish", pot), {})
    cards.unregister("tally")
    cards.register(TallyCard(tally=300))
    page = html_of(owner_client, at("recipe-publish", pot))
    assert "“50 Wh each serving” instead of “40 Wh each serving”." in page
    assert "What stands behind the figures" not in page


def test_withdraw_and_bring_back(stew, owner_client, stranger_client):
    public = reverse("kitchen:recipe", args=[stew.slug])
    owner_client.post(at("recipe-withdraw", stew))
    assert stranger_client.get(public).status_code == 410
    assert "Publish it again as it was" in html_of(owner_client, at("recipe-bench", stew))
    owner_client.post(at("recipe-bring-back", stew))
    assert stranger_client.get(public).status_code == 200


# --- its address, its sides, its end ----------------------------------------------------------------------------------------


def test_a_recipe_moves_and_its_old_address_goes_on_working(stew, owner_client, stranger_client):
    old = stew.slug
    answer = owner_client.post(at("recipe-address", stew), {"slug": "New-Name"})
    assert answer.headers["Location"] == "/bench/recipes/new-name/"
    assert stranger_client.get(f"/r/{old}/").status_code == 301
    assert owner_client.get(f"/bench/recipes/{old}/edit/").status_code == 200
    owner_client.post("/bench/recipes/new-name/address/", {"slug": old})
    assert stranger_client.get(f"/r/{old}/").status_code == 200
    assert list(PastSlug.objects.values_list("slug", flat=True)) == ["new-name"]


@pytest.mark.parametrize(
    ("slug", "sentence"),
    [
        ("", "Type the new address"),
        ("two words", "Only small letters"),
        ("Ärger", "Only small letters"),
        ("new", "another recipe’s address"),
        ("taken", "another recipe’s address"),
        ("was-taken", "another recipe’s address"),
    ],
)
def test_an_address_that_will_not_do(pot, owner, owner_client, noon, slug, sentence):
    taken = write_pot(owner, noon, draft=replace(POT, title="Was taken"))
    owner_client.post(at("recipe-address", taken), {"slug": "taken"})
    assert sentence in owner_client.post(at("recipe-address", pot), {"slug": slug}).content.decode()
    pot.refresh_from_db()
    assert pot.slug == "red-lentil-pot"


def test_a_side_is_served_changed_and_taken_away(pot, owner, owner_client, noon):
    bread = write_pot(owner, noon, draft=replace(POT, title="Flatbreads"))
    owner_client.post(at("recipe-sides", pot), {"side": bread.pk, "portions": "1,5"})
    pairing = pot.sides.get()
    assert (pairing.side, pairing.portions) == (bread, Decimal("1.5"))
    assert "1.5 for each serving" in html_of(owner_client, at("recipe-bench", pot))
    pair_side(main=pot, side=bread, portions=Decimal(2), at=noon)
    assert pot.sides.get().portions == 2
    owner_client.post(at("recipe-unpair", pot, pairing.pk))
    assert not pot.sides.exists()


@pytest.mark.parametrize(
    ("said", "sentence"),
    [({"portions": "0"}, "A number above 0"), ({"portions": "lots"}, "not a number"), ({"side": "99999"}, "not one of yours")],
)
def test_a_side_that_will_not_do(pot, owner, owner_client, noon, said, sentence):
    bread = write_pot(owner, noon, draft=replace(POT, title="Flatbreads"))
    html = owner_client.post(at("recipe-sides", pot), {"side": bread.pk, "portions": "1"} | said).content.decode()
    assert sentence in html
    assert not pot.sides.exists()


def test_a_recipe_is_no_side_of_its_own_and_another_cook_s_is_none_either(pot, owner, other_client, other_cook, noon):
    mine = write_pot(other_cook, noon, draft=replace(POT, title="Other pan"))
    for side in (mine, pot):
        assert (
            "not one of yours" in other_client.post(at("recipe-sides", mine), {"side": side.pk, "portions": "1"}).content.decode()
        )


def test_an_unpublished_recipe_is_deleted_after_asking(pot, owner_client):
    assert "Delete it for ever" in html_of(owner_client, at("recipe-delete", pot))
    assert Recipe.objects.exists()
    assert owner_client.post(at("recipe-delete", pot)).headers["Location"] == "/bench/"
    assert not Recipe.objects.exists()


def test_a_published_recipe_is_kept(stew, owner_client):
    assert "was published" in owner_client.post(at("recipe-delete", stew)).content.decode()
    assert Recipe.objects.filter(pk=stew.pk).exists()


def test_a_cooked_recipe_is_kept(pot, monkeypatch):
    def protected(self, *args, **kwargs):
        raise ProtectedError("runs", set())

    monkeypatch.setattr(Recipe, "delete", protected)
    with pytest.raises(CannotDelete, match="was cooked"):
        delete_recipe(recipe=pot)


# --- settings ---------------------------------------------------------------------------------------------------------------

SETTINGS = {
    "name": "Fernhollow",
    "tagline": "Hot food",
    "currency": "chf",
    "measures": "metric",
    "altitude_m": "420",
    "base_url": "https://kitchen.example.org/",
}


def test_settings_are_kept(no_cards, owner_client):
    assert owner_client.post("/bench/settings/", SETTINGS).status_code == 302
    site = Site.objects.get()
    assert (site.name, site.currency, site.measures, site.altitude_m) == ("Fernhollow", "CHF", "metric", 420)
    assert site.base_url == "https://kitchen.example.org"
    assert "Fernhollow" in html_of(owner_client, "/bench/settings/")


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("name", "", "Give the kitchen a name"),
        ("currency", "francs", "three letters"),
        ("currency", "DEM", "“DEM” is no currency"),
        ("time_zone", "Fernhollow", "Select a valid choice"),
        ("measures", "stones", "Select a valid choice"),
        ("altitude_m", "9000", "A number from -430 to 5,500"),
        ("altitude_m", "high", "“high” is not a number"),
        ("base_url", "javascript:alert(1)", "Type a whole address"),
    ],
)
def test_nonsense_settings_are_said_beside_their_field(no_cards, owner_client, field, typed, sentence):
    html = owner_client.post("/bench/settings/", SETTINGS | {field: typed}).content.decode()
    assert sentence in html
    assert "Hot food" in html
    assert not Site.objects.exists()


# --- three people at every door ---------------------------------------------------------------------------------------------

OF_RECIPE = [
    ("recipe-bench", "get"),
    ("recipe-edit", "get"),
    ("recipe-draft", "get"),
    ("recipe-publish", "get"),
    ("recipe-publish", "post"),
    ("recipe-withdraw", "post"),
    ("recipe-bring-back", "post"),
    ("recipe-address", "get"),
    ("recipe-address", "post"),
    ("recipe-sides", "post"),
    ("recipe-delete", "get"),
    ("recipe-delete", "post"),
    ("photos", "get"),
    ("photos", "post"),
]


@pytest.mark.parametrize(("name", "verb"), OF_RECIPE)
def test_a_recipe_s_doors(pot, owner_client, other_client, stranger_client, name, verb):
    address = at(name, pot)
    stranger = getattr(stranger_client, verb)(address)
    assert stranger.headers["Location"] == f"/bench/sign-in/?next={address}"
    assert getattr(other_client, verb)(address).status_code == 404
    pot.refresh_from_db()
    assert getattr(owner_client, verb)(address).status_code in (200, 302)


@pytest.mark.parametrize("name", ["photo-edit", "photo-lead", "photo-remove", "line-correct", "recipe-unpair"])
def test_a_row_s_doors(pot, owner_client, other_client, stranger_client, name):
    address = at(name, pot, 1)
    assert stranger_client.post(address).headers["Location"] == f"/bench/sign-in/?next={address}"
    assert other_client.post(address).status_code == 404
    assert owner_client.post(at(name, pot, 999_999)).status_code == 404


@pytest.mark.parametrize("address", ["/bench/settings/", "/bench/cooks/"])
def test_the_owner_s_doors(no_cards, owner_client, other_client, stranger_client, address):
    assert owner_client.get(address).status_code == 200
    assert other_client.get(address).status_code == 404
    assert stranger_client.get(address).headers["Location"] == f"/bench/sign-in/?next={address}"


@pytest.mark.parametrize("address", ["/bench/", "/bench/recipes/new/", "/bench/foods/", "/bench/foods/new/", "/bench/password/"])
def test_every_cook_s_doors(no_cards, owner_client, other_client, stranger_client, address):
    assert owner_client.get(address).status_code == 200
    assert other_client.get(address).status_code == 200
    assert stranger_client.get(address).headers["Location"] == f"/bench/sign-in/?next={address}"


def test_the_owner_may_edit_another_cook_s_recipe_and_it_stays_theirs(no_cards, owner_client, other_cook, noon):
    recipe = write_pot(other_cook, noon)
    assert owner_client.get(at("recipe-edit", recipe)).status_code == 200
    assert Recipe.objects.get().owner == other_cook


def test_the_new_page_s_hidden_name_opens_no_foreign_recipe(pot, other_client):
    answer = other_client.post("/bench/recipes/new/", {"recipe": pot.slug, "title": "Mine now"})
    assert answer.status_code == 404


def test_a_closed_account_comes_in_nowhere(no_cards, other_client, other_cook):
    User.objects.filter(pk=other_cook.pk).update(is_active=False)
    assert other_client.get("/bench/").status_code == 302


def test_moments_move_a_recipe_up(pot, owner, owner_client, noon):
    write_pot(owner, noon + datetime.timedelta(hours=1), draft=DraftContent(title="Newer", servings=2))
    html = html_of(owner_client, "/bench/")
    table = html[html.index('id="recipes"') :]
    assert table.index("Newer") < table.index("Red lentil pot")


def test_the_preview_may_stand_beside_the_editor_and_nowhere_else(no_cards, owner_client, stew):
    recipe = stew
    drafted = owner_client.get(f"/bench/recipes/{recipe.slug}/draft/")
    assert drafted["X-Frame-Options"] == "SAMEORIGIN"
    assert drafted["Content-Security-Policy"].endswith("frame-ancestors 'self'")
    edit = owner_client.get(f"/bench/recipes/{recipe.slug}/edit/")
    assert f'data-preview="/bench/recipes/{recipe.slug}/draft/#main"' in edit.content.decode()
    assert edit["X-Frame-Options"] == "DENY"
    assert edit["Content-Security-Policy"].endswith("frame-ancestors 'none'")
