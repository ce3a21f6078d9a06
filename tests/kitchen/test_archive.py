"""The whole library in one file: what goes round comes back the same, doubles nothing, and tells no secret."""

import json
import re
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from django.apps import apps
from django.contrib.auth.models import User
from django.core.management import call_command

from costing.models import Quote, SheetRules, Shop, Yield
from deploy.demo.load import load_demo
from energy.models import Appliance, Meter, PowerSource, Run, Tariff
from kitchen.models import Edition, Food, PastSlug, Photo, Recipe, Revision, Site
from kitchen.operations import add_food, add_photo, change_food, change_photo, load_reference_foods, publish_recipe, rename_slug
from tests.house.bench_of_everything import furnish
from tests.kitchen.packed import documents, members, pack, unpack, with_document, zipped
from tests.kitchen.pictures import halves

pytestmark = pytest.mark.django_db
SWEPT = ("kitchen.Collection", "energy.Run", "costing.Quote", "costing.Yield", "costing.SheetRules", "costing.Shop")
SWEPT += ("energy.Appliance", "energy.PowerSource", "energy.Tariff", "energy.Meter")
SWEPT += ("kitchen.Edition", "kitchen.Recipe", "kitchen.Food", "kitchen.Site")


@pytest.fixture
def folder(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "photos"
    return settings.MEDIA_ROOT


@pytest.fixture
def furnished(owner, other_cook, noon, folder):
    """A kitchen with one of everything, a photo cut around a point, an own food, a changed one and an older address."""
    import io

    kitchen = furnish(owner, other_cook, noon)
    photo = add_photo(recipe=kitchen.recipe, picture=io.BytesIO(halves((1600, 1200))), alt="Halves", at=noon + timedelta(hours=1))
    change_photo(photo=photo, alt="Two halves", focal_x=0.25, focal_y=0.5)
    line = kitchen.recipe.revisions.get().parts.first().lines.first()
    line.food = add_food(values={"name": "Fernhollow sausage", "aisle": "meat", "g_per_each": 62.5, "aliases": ["camp sausage"]})
    line.sure, line.corrected = 0.5, True
    line.save()
    publish_recipe(recipe=kitchen.recipe, revision=kitchen.recipe.revisions.get(), by=owner, at=noon + timedelta(hours=2))
    rename_slug(recipe=kitchen.recipe, slug="evening-pot", at=noon + timedelta(hours=3))
    return kitchen


def sweep(folder):
    """Empty the kitchen, accounts excepted."""
    Recipe.objects.update(current_edition=None)
    for label in SWEPT:
        apps.get_model(label).objects.all().delete()
    for path in Path(folder).glob("*.*"):
        path.unlink()


def public_pages(client):
    """Return every public page of the library as bytes, without what is made anew for each answer."""
    paths = ["/", *(f"/r/{slug}/" for slug in Recipe.objects.order_by("slug").values_list("slug", flat=True))]
    paths += [f"{path}editions/" for path in paths[1:]] + [f"{path}for-8/" for path in paths[1:]]
    return {path: client.get(path).content for path in paths}


def test_what_goes_round_comes_back_the_same(furnished, owner, noon, folder, stranger_client):
    pages, packed = public_pages(stranger_client), pack(noon)
    assert b"Lentil" in pages["/"] or b"lentil" in pages["/"]
    files = {path.name: path.read_bytes() for path in folder.iterdir()}
    sweep(folder)
    assert stranger_client.get("/r/evening-pot/").status_code == 404
    account = unpack(packed, owner, noon + timedelta(days=9))
    assert account.said == []
    assert documents(pack(noon)) == documents(packed)
    assert public_pages(stranger_client) == pages
    packed_files = {name.removeprefix("photos/") for name in members(packed) if name.startswith("photos/")}
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == {name: files[name] for name in packed_files}


def test_unpacking_twice_changes_nothing(furnished, owner, noon, folder):
    packed = pack(noon)
    before = {label: apps.get_model(label).objects.count() for label in SWEPT}
    for _ in range(2):
        account = unpack(packed, owner, noon)
        assert account.nothing_new, account.added
        assert account.said == []
    assert {label: apps.get_model(label).objects.count() for label in SWEPT} == before
    assert documents(pack(noon)) == documents(packed)
    sweep(folder)
    unpack(packed, owner, noon)
    assert unpack(packed, owner, noon).nothing_new


def test_the_example_kitchen_goes_round(owner, noon, folder, stranger_client):
    load_demo()
    pages, packed = public_pages(stranger_client), pack(noon)
    sweep(folder)
    account = unpack(packed, owner, noon)
    assert (account.added["recipes"], account.added["runs"]) == (9, 34)
    assert documents(pack(noon), names=False) == documents(packed, names=False)
    assert public_pages(stranger_client) == pages
    assert set(Recipe.objects.values_list("owner", flat=True)) == {owner.pk}
    assert unpack(packed, owner, noon).nothing_new


def test_looking_first_says_the_same_and_writes_nothing(furnished, owner, noon, folder):
    packed = pack(noon)
    sweep(folder)
    looked = unpack(packed, owner, noon, check=True)
    assert not Recipe.objects.exists()
    assert not Food.objects.exists()
    assert not list(folder.glob("*.*"))
    done = unpack(packed, owner, noon)
    assert (looked.added, looked.same, looked.said) == (done.added, done.same, done.said)


def test_no_account_password_session_or_key_is_inside(furnished, owner, other_cook, noon, settings, owner_client):
    User.objects.filter(pk=owner.pk).update(email="owner@fernhollow.example", first_name="Ada", last_name="Fern")
    owner.refresh_from_db()
    session = owner_client.cookies[settings.SESSION_COOKIE_NAME].value
    packed = b"".join(members(pack(noon)).values())
    secrets = [owner.password, other_cook.password, owner.email, settings.SECRET_KEY, session, "pbkdf2_", "argon2"]
    for secret in secrets:
        assert secret.encode() not in packed, secret
    words = {word for word in re.findall(rb'"([a-z_]+)":', packed) if re.search(rb"passw|token|secret|session|e?mail|hash", word)}
    assert words == set()
    assert b"Ada Fern" in packed


LEFT_OUT = {
    "Site": {"id", "base_url", "demo_rows", "time_zone"},
    "Food": {"id", "kept_by_cook"},
    "Recipe": {"id", "current_edition", "shelf_title", "shelved_by"},
    "Photo": {"id", "recipe"},
    "Revision": {"id", "recipe", "draft_version", "typed"},
    "Part": {"id", "revision", "position"},
    "Line": {"id", "part", "position", "made_of", "made_now"},
    "Step": {"id", "revision", "position"},
    "Pairing": {"id", "main", "side"},
    "Edition": {"id", "recipe"},
    "Collection": {"id", "before"},
    "CollectedRecipe": {"id", "recipe"},
    "Appliance": {"id"},
    "Tariff": {"id"},
    "PowerSource": {"id"},
    "Meter": {"id"},
    "Run": {"id", "flags", "summary", "summed_at", "behind"},
    "Stage": {"id", "run", "position"},
    "Reading": {"run"},
    "LoadedFile": {"id", "run"},
    "FileShape": {"id"},
    "Moment": {"run"},
    "DeskEvent": {"run"},
    "SentReading": {"id", "meter", "device"},
    "Shop": {"id"},
    "Quote": {"id", "item", "replaces"},
    "Receipt": {"id"},
    "Learnt": {"id"},
    "Item": {"id"},
    "Yield": {"id"},
    "SheetRules": {"id"},
}


def test_every_column_is_packed_or_left_out_on_purpose():
    """A new column is thought of: it gets a field in its document, or a place in this list."""
    from costing.domain import archive as prices
    from energy import documents as energy
    from kitchen.domain import archive as kitchen

    shapes = {
        "PowerSource": energy.SourceDocument,
        "Pairing": kitchen.SideDocument,
        "CollectedRecipe": kitchen.PlaceDocument,
        "SheetRules": prices.RulesDocument,
    }
    derived = {"ShelfWord", "ShelfMark", "Figure", "PastSlug", "ShownPicture"}
    secret = {"DeviceToken", "SignInLane", "WaitingReading", "Change", "ReceiptPhoto"}
    for model in (model for app in ("kitchen", "energy", "costing") for model in apps.get_app_config(app).get_models()):
        name = model.__name__
        if name in derived | secret:
            continue
        shape = shapes.get(name) or next(
            getattr(module, f"{name}Document") for module in (kitchen, energy, prices) if hasattr(module, f"{name}Document")
        )
        columns = {field.name for field in model._meta.concrete_fields}
        assert columns - {*shape.__dataclass_fields__} == LEFT_OUT[name], name


# --- into a kitchen that is not empty ---------------------------------------------------------------------------------------


def test_a_newer_revision_and_edition_are_added_to_a_recipe_that_is_here(furnished, owner, noon, folder):
    early = pack(noon)
    recipe = furnished.recipe
    from kitchen.operations import open_draft

    draft = open_draft(recipe=recipe, by=owner, at=noon)
    draft.servings = 8
    draft.save()
    publish_recipe(recipe=recipe, revision=draft, by=owner, at=noon + timedelta(days=2))
    late = pack(noon)
    sweep(folder)
    unpack(early, owner, noon)
    assert Recipe.objects.get(slug="evening-pot").current_edition.number == 2
    account = unpack(late, owner, noon)
    assert (account.added["revisions"], account.added["editions"]) == (1, 1)
    again = Recipe.objects.get(slug="evening-pot")
    assert (again.current_edition.number, again.current_edition.facts["recipe"]["servings"]) == (3, 8)
    assert (
        documents(pack(noon))[f"recipes/{recipe.uid}.json"]["editions"]
        == documents(late)[f"recipes/{recipe.uid}.json"]["editions"]
    )
    assert unpack(early, owner, noon).nothing_new


def test_a_recipe_that_says_something_else_here_is_left_alone_and_told(furnished, owner, noon):
    packed = pack(noon)
    furnished.recipe.revisions.get().steps.filter(position=0).update(text="Do it quite differently.")
    before = documents(pack(noon))
    account = unpack(packed, owner, noon)
    assert account.nothing_new
    assert any("revision 1 says something else here" in sentence for sentence in account.said)
    assert documents(pack(noon)) == before


def test_a_taken_address_is_given_another_and_pages_lead_there(furnished, owner, noon, folder, stranger_client):
    """The editions name the recipe by the address that it had when it was published, which is another recipe's here."""
    packed = pack(noon)
    sweep(folder)
    from kitchen.operations import create_recipe

    mine = [create_recipe(owner=owner, title=title, at=noon) for title in ("Evening pot", "Red lentil pot")]
    assert [recipe.slug for recipe in mine] == ["evening-pot", "red-lentil-pot"]
    account = unpack(packed, owner, noon)
    assert any("“evening-pot” is taken here, so it gets “evening-pot-2”" in sentence for sentence in account.said)
    html = stranger_client.get("/r/evening-pot-2/").content.decode()
    assert "/r/evening-pot-2/editions/" in html
    assert "/r/red-lentil-pot/" not in html
    assert unpack(packed, owner, noon).nothing_new
    assert not Edition.objects.filter(recipe__in=mine).exists()


def test_gear_of_one_name_is_the_same_or_stands_beside(furnished, owner, noon, folder):
    packed = pack(noon)
    sweep(folder)
    Appliance.objects.create(name="Big pot", kind="pressure_cooker", rated_w=900)
    Meter.objects.create(name="Plug meter", resolution_wh=1, accuracy_pct=1)
    account = unpack(packed, owner, noon)
    assert set(Appliance.objects.values_list("name", "rated_w")) == {("Big pot", 900), ("Big pot (2)", 700)}
    assert Meter.objects.count() == 1
    assert Run.objects.get().appliance.name == "Big pot (2)"
    assert "Big pot is here already and differs, so the archive’s is kept as “Big pot (2)”." in account.said
    assert unpack(packed, owner, noon).nothing_new
    assert Appliance.objects.count() == 2


def test_prices_are_counted_not_doubled(furnished, owner, noon):
    quote = Quote.objects.get()
    Quote.objects.create(**{field.name: getattr(quote, field.name) for field in Quote._meta.fields if field.name != "id"})
    packed = pack(noon)
    assert unpack(packed, owner, noon).nothing_new
    Quote.objects.first().delete()
    assert unpack(packed, owner, noon).added["prices"] == 1
    assert (Quote.objects.count(), Shop.objects.count(), Yield.objects.count()) == (2, 1, 1)


def test_a_yield_that_differs_here_stays(furnished, owner, noon):
    packed = pack(noon)
    Yield.objects.update(percent=Decimal(90))
    account = unpack(packed, owner, noon)
    assert Yield.objects.get().percent == Decimal(90)
    assert account.said == ["The yield of red lentils rinsed here is another than the archive’s; yours stays."]


def test_an_own_food_that_differs_stands_beside_and_a_changed_one_stays(owner, noon, folder):
    load_reference_foods()
    salt, rice = Food.objects.filter(sr_number__isnull=False)[:2]
    own = add_food(values={"name": "Fernhollow flour", "g_per_ml": 0.5})
    for food in (salt, rice):
        change_food(food=food, values={"refuse_pct": 7})
    packed = pack(noon)
    change_food(food=own, values={"g_per_ml": 0.6})
    change_food(food=salt, values={"refuse_pct": 9})
    Food.objects.filter(pk=rice.pk).update(refuse_pct=0, kept_by_cook=False)
    account = unpack(packed, owner, noon)
    beside = Food.objects.filter(name__startswith="Fernhollow").order_by("name").values_list("name", "g_per_ml")
    assert list(beside) == [("Fernhollow flour", 0.6), ("Fernhollow flour (2)", 0.5)]
    salt.refresh_from_db()
    rice.refresh_from_db()
    assert (salt.refuse_pct, rice.refuse_pct, rice.kept_by_cook) == (9, 7, True)
    assert f"{salt.name} was changed here and in the archive; this kitchen’s values are kept." in account.said
    assert unpack(packed, owner, noon).nothing_new


def test_the_kitchen_s_words_are_offered_and_not_imposed(furnished, owner, noon, folder):
    packed = pack(noon)
    Site.objects.update(name="Heronsgate", currency="SEK")
    account = unpack(packed, owner, noon)
    assert Site.objects.get().name == "Heronsgate"
    assert any("This kitchen keeps its own name" in sentence for sentence in account.said)
    unpack(packed, owner, noon, words=True)
    assert Site.objects.get().name == "Fernhollow dark-site kitchen"


def test_a_photo_whose_files_are_nowhere_is_left_out(furnished, owner, noon, folder):
    held = members(pack(noon))
    photo = Photo.objects.get(alt="Two halves")
    held.pop(f"photos/{photo.wide}")
    packed = zipped(held)
    sweep(folder)
    account = unpack(packed, owner, noon)
    assert any("the files of the photo “Two halves” are missing" in sentence for sentence in account.said)
    assert [photo.alt for photo in Photo.objects.all()] == ["a pot"]


def test_rules_of_sheets_come_only_into_a_fresh_kitchen(furnished, owner, noon, folder):
    SheetRules.objects.create(pk=1, rule="shop", shop=Shop.objects.get(), allowance_pct=Decimal("2.5"))
    packed = pack(noon)
    sweep(folder)
    unpack(packed, owner, noon)
    assert (SheetRules.objects.get().rule, SheetRules.objects.get().shop.name) == ("shop", "Mill Lane")
    assert {source.tariff for source in PowerSource.objects.all()} == {None}
    assert (Tariff.objects.count(), PastSlug.objects.count()) == (1, 1)


def test_a_withdrawn_recipe_and_a_draft_come_back_as_they_were(furnished, owner, noon, folder, stranger_client):
    from kitchen.operations import open_draft, withdraw_recipe

    open_draft(recipe=furnished.recipe, by=owner, at=noon)
    withdraw_recipe(recipe=furnished.recipe, at=noon)
    packed = pack(noon)
    sweep(folder)
    unpack(packed, owner, noon + timedelta(days=1))
    assert stranger_client.get("/r/evening-pot/").status_code == 410
    assert list(Revision.objects.filter(recipe__slug="evening-pot").order_by("number").values_list("number", "locked_at")) == [
        (1, noon),
        (2, None),
    ]
    assert Edition.objects.count() == 2
    assert documents(pack(noon)) == documents(packed)


# --- the commands -----------------------------------------------------------------------------------------------------------


def test_commands_pack_look_and_unpack(furnished, folder, tmp_path, capsys):
    path = tmp_path / "library.zip"
    call_command("pack", str(path))
    assert "2 recipes" in capsys.readouterr().out
    with pytest.raises(Exception, match="exists already"):
        call_command("pack", str(path))
    sweep(folder)
    call_command("unpack", str(path), "--check")
    assert "Would add: 1 set of site words" in capsys.readouterr().out
    call_command("unpack", str(path), "--owner", "other")
    assert "Added: " in capsys.readouterr().out
    assert set(Recipe.objects.values_list("owner__username", flat=True)) == {"other"}
    call_command("unpack", str(path))
    assert "Nothing new: everything is here already." in capsys.readouterr().out
    for arguments, words in (
        ([str(tmp_path / "none.zip")], "cannot be read"),
        ([str(path), "--owner", "nobody"], "no cook called"),
    ):
        with pytest.raises(Exception, match=words):
            call_command("unpack", *arguments)


def test_the_manifest_says_what_is_inside(furnished, noon):
    held = members(pack(noon))
    manifest = json.loads(held["manifest.json"])
    assert (manifest["format"], manifest["schema"], manifest["made_at"]) == ("wattfare library", 1, "2026-10-14T12:00:00+00:00")
    assert manifest["made_by"] == "wattfare 0.1.0"
    assert manifest["counts"]["recipes"] == 2
    assert {note["name"] for note in manifest["files"]} == set(held) - {"manifest.json"}


def test_an_edited_document_still_fits(furnished, owner, noon, folder):
    """Documented JSON can be made by others: a title changed by hand, with digests that fit, is unpacked."""
    uid = furnished.recipe.uid
    packed = with_document(pack(noon), f"recipes/{uid}.json", lambda document: document.update(title="Night pot"))
    sweep(folder)
    unpack(packed, owner, noon)
    assert Recipe.objects.get(uid=uid).title == "Night pot"
