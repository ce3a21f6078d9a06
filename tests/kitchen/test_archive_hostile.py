"""Archives that anybody may have made: each is refused in a plain sentence, and nothing is written."""

import io
import json
import struct
import tracemalloc
import zipfile

import pytest

from kitchen.archivists import ArchiveRefused
from kitchen.importers import archive as reading
from kitchen.importers.archive import Archive
from kitchen.models import Food, Photo, Recipe
from tests.house.bench_of_everything import furnish
from tests.kitchen.packed import members, pack, unpack, with_document, zipped
from tests.kitchen.pictures import telling_jpeg
from tests.kitchen.test_archive import sweep

pytestmark = pytest.mark.django_db


@pytest.fixture
def folder(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "photos"
    return settings.MEDIA_ROOT


@pytest.fixture(scope="module")
def packed_once():
    """Where the good archive is kept once it was packed: a hundred tests spoil a copy of it."""
    return []


@pytest.fixture
def packed(packed_once, owner, other_cook, noon, folder):
    """A good archive, and an empty kitchen."""
    if not packed_once:
        furnish(owner, other_cook, noon)
        packed_once.append(pack(noon))
        sweep(folder)
    return packed_once[0]


@pytest.fixture
def refuse(owner, noon, folder):
    """Unpack what has to be refused, and return the sentence; nothing may have been written."""

    def refused(archive):
        with pytest.raises(ArchiveRefused) as refusal:
            unpack(archive, owner, noon)
        assert not Recipe.objects.exists()
        assert not Food.objects.exists()
        assert not Photo.objects.exists()
        assert not list(folder.glob("*.*"))
        sentence = str(refusal.value)
        assert sentence[-1] == "."
        assert "Traceback" not in sentence
        return sentence

    return refused


def recipe_name(packed):
    return next(name for name in members(packed) if name.startswith("recipes/") and json.loads(members(packed)[name])["editions"])


def test_the_good_one_is_taken(packed, owner, noon):
    assert unpack(packed, owner, noon).added["recipes"] == 2


@pytest.mark.parametrize("sent", [b"", b"PK", b"not a zip at all", b"\x1f\x8b\x08" + bytes(100)])
def test_no_zip(refuse, sent):
    assert "not an archive of a packed library" in refuse(sent)


def test_a_zip_that_broke_off(packed, refuse):
    assert "broke off" in refuse(packed[: len(packed) // 2])


def test_another_kind_of_zip(refuse):
    assert "holds no manifest.json" in refuse(zipped({"foods.json": b"{}"}, manifest=False))
    assert "not a packed library of this program" in refuse(zipped({"manifest.json": b'{"format": "other"}'}, manifest=False))


def test_a_newer_schema(packed, refuse):
    sentence = refuse(zipped(members(packed), schema=2))
    assert sentence == "This archive has schema 2; this program reads schemas up to 1. Update the program, then unpack it."
    newer = with_document(packed, recipe_name(packed), lambda document: document.update(schema=7))
    assert "Update the program" in refuse(newer)


def test_newer_facts_in_an_edition(packed, refuse):
    from kitchen.operations.publishing import digest_of

    def change(document):
        document["editions"][0]["facts"]["schema"] = 99
        document["editions"][0]["digest"] = digest_of(document["editions"][0]["facts"])

    assert "Update the program" in refuse(with_document(packed, recipe_name(packed), change))


@pytest.mark.parametrize(
    "name",
    [
        "../evil.json",
        "/etc/passwd",
        "photos/../../evil.jpg",
        "photos/evil.php",
        "recipes/..\\evil.json",
        "C:/evil.json",
        "recipes/not-a-uid.json",
        "apps/../kitchen.json",
        "README",
        "photos/" + "a" * 24 + "-wide.jpg\n",
    ],
)
def test_a_member_that_points_elsewhere(packed, refuse, name):
    assert "has no place in a packed library" in refuse(zipped({**members(packed), name: b"evil"}))


def test_a_member_that_is_changed_missing_or_not_listed(packed, refuse):
    held = members(packed)
    name = recipe_name(packed)
    same_size = held[name].replace(b"Red lentil pot", b"Red lentil tin")
    assert "its digest differs" in refuse(zipped({**held, name: same_size}, manifest=False))
    assert "its size differs" in refuse(zipped({**held, name: held[name] + b" "}, manifest=False))
    assert f"The archive lacks {name}" in refuse(zipped({key: data for key, data in held.items() if key != name}, manifest=False))
    stray = "recipes/00000000-0000-4000-8000-000000000000.json"
    assert "which its manifest does not name" in refuse(zipped({**held, stray: b"{}"}, manifest=False))


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_two_members_of_one_name(packed, refuse):
    out = io.BytesIO(packed)
    with zipfile.ZipFile(out, "a") as archive:
        archive.writestr("foods.json", b"{}")
    assert "two members of one name" in refuse(out.getvalue())


def test_a_damaged_member(packed, refuse):
    info = zipfile.ZipFile(io.BytesIO(packed)).getinfo(recipe_name(packed))
    damaged = bytearray(packed)
    start = info.header_offset + 30 + len(info.filename) + 40
    damaged[start : start + 20] = bytes(20)
    assert "damaged" in refuse(bytes(damaged))


def test_a_locked_archive(packed, refuse):
    locked = bytearray(packed)
    at = locked.find(b"PK\x01\x02")
    locked[at + 8] |= 1
    assert "locked with a password" in refuse(bytes(locked))


def test_a_document_that_unfolds_without_end(packed, refuse, monkeypatch):
    """A few kilobytes that would become more than a document may have are not unfolded to their end."""
    monkeypatch.setattr(reading, "MOST_DOCUMENT_BYTES", 2**20)
    bomb = b'{"foods": [], "x": "' + b"a" * (3 * 2**20) + b'"}'
    archive = zipped({**members(packed), "foods.json": bomb})
    assert len(archive) < len(packed) + 20_000
    assert "foods.json has more than 1 MB" in refuse(archive)


def test_a_bomb_that_lies_about_its_size(packed, refuse, monkeypatch):
    monkeypatch.setattr(reading, "MOST_DOCUMENT_BYTES", 2**20)
    archive = bytearray(zipped({**members(packed), "foods.json": b"a" * (3 * 2**20)}))
    at = archive.find(b"foods.json", archive.find(b"PK\x01\x02")) - 46
    struct.pack_into("<I", archive, at + 24, 100)
    assert "foods.json" in refuse(bytes(archive))


@pytest.mark.parametrize("name", ["manifest.json", "foods.json"])
@pytest.mark.parametrize("piece", [b"[],", b"{},", b'{"":[]},', b"0,", b'"ab",', b"[" * 30 + b"]" * 30 + b","])
def test_a_document_of_brackets_takes_little_memory(packed, refuse, name, piece):
    """JSON takes memory by its values: three bytes that become sixty are refused before they do."""
    most = 3 * 2**20
    document = b'{"format": "wattfare library", "files": [' + piece * (most // len(piece)) + b"0]}"
    archive = zipped({**members(packed), name: document}, manifest=name != "manifest.json")
    tracemalloc.start()
    assert "holds more values" in refuse(archive)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 6 * most


def test_a_manifest_longer_than_its_members_ask_for(packed, refuse):
    long = json.dumps({"format": "x" * 5 * 2**20}).encode()
    assert "manifest.json has more than 4 MB" in refuse(zipped({**members(packed), "manifest.json": long}, manifest=False))


def test_too_many_members(packed, refuse, monkeypatch):
    monkeypatch.setattr(reading, "MOST_MEMBERS", 3)
    assert "more than 3 members" in refuse(packed)


@pytest.mark.parametrize(
    "spelled",
    [
        b"[1, 2]",
        b"not json",
        b"\xff\xfe",
        b'{"foods": NaN}',
        b'{"foods": [{"name": "x", "refuse_pct": 1e999}]}',
        b'{"foods": [{"name": "x", "refuse_pct": Infinity}]}',
        b'{"foods": [{"name": "x\\u0000"}]}',
        b'{"foods": [{"name": "\\ud800"}]}',
        b'{"foods": ' + b"[" * 100_000 + b"]" * 100_000 + b"}",
        b'{"foods": [{"name": "x", "sr_number": ' + b"9" * 5000 + b"}]}",
        b'{"foods": [{"name": "x", "sr_number": 99999999999999999999999}]}',
        b'{"foods": "many"}',
        b'{"foods": [{}]}',
        b'{"foods": [{"name": 5}]}',
        b'{"foods": [{"name": "x", "g_per_ml": "nan"}]}',
        b'{"foods": [{"name": "x", "g_per_ml": -3}]}',
        b'{"foods": [{"name": "x", "refuse_pct": 400}]}',
        b'{"foods": [{"name": "x", "sr_number": -1}]}',
        b'{"foods": [{"name": "' + b"x" * 500 + b'"}]}',
        b'{"foods": [{"name": "x", "aliases": [{}]}]}',
        b'{"foods": [{"name": "x", "weights": [{"unit": "cup"}]}]}',
    ],
)
def test_hostile_json(packed, refuse, spelled):
    refuse(zipped({**members(packed), "foods.json": spelled}))


def at(document, *steps):
    for step in steps:
        document = document[step]
    return document


@pytest.mark.parametrize(
    ("where", "value", "said"),
    [
        (("uid",), "00000000-0000-4000-8000-000000000000", "another recipe than its name says"),
        (("slug",), "../../etc", "slug"),
        (("drawing",), "rocket", "drawing"),
        (("home_url",), "javascript:alert(1)", "home_url"),
        (("title",), "x" * 500, "title"),
        (("created_at",), "2026-10-14T12:00:00", "created_at"),
        (("created_at",), "yesterday", "created_at"),
        (("created_at",), "0001-01-01T00:00:00+14:00", "created_at"),
        (("revisions", 0, "servings"), 0, "servings"),
        (("revisions", 0, "servings"), 10**9, "servings"),
        (("revisions", 0, "number"), -1, "number"),
        (("revisions", 0, "parts", 0, "lines", 0, "low"), "1e999999999", "low"),
        (("revisions", 0, "parts", 0, "lines", 0, "low"), "1/0", "low"),
        (("revisions", 0, "parts", 0, "lines", 0, "low"), "1" + "0" * 60 + "/1", ""),
        (("revisions", 0, "parts", 0, "lines", 0, "rule"), "double", "rule"),
        (("revisions", 0, "parts", 0, "lines", 0, "text"), None, "text"),
        (("revisions", 0, "steps", 0, "stage"), "explode", "stage"),
        (("revisions", 0, "steps", 0, "minutes"), "1e400000", "minutes"),
        (("revisions", 0, "steps", 0, "minutes"), "-5", ""),
        (("photos", 0, "focal_x"), 7, ""),
        (("photos", 0, "wide"), "../../secret.jpg", "files that are not its own"),
        (("photos", 0, "digest"), "short", "files that are not its own"),
        (("editions", 0, "digest"), "0" * 64, "do not fit their digest"),
        (("editions", 0, "revision"), 44, "revision 44, which is not there"),
        (("editions", 0, "facts", "recipe", "servings"), 0, "digest"),
        (("editions", 0, "headlines"), [{"key": 1}], "Headline"),
        (("editions", 0, "plate"), {"title": ["x"]}, "Plate.title"),
        (("sides", 0, "portions"), "-1", ""),
    ],
)
def test_values_that_make_no_sense(packed, refuse, where, value, said):
    def change(document):
        at(document, *where[:-1])[where[-1]] = value

    sentence = refuse(with_document(packed, recipe_name(packed), change))
    assert said in sentence


@pytest.mark.parametrize(
    ("where", "value"),
    [
        (("recipe", "servings"), 0),
        (("recipe", "title"), None),
        (("recipe", "home_url"), "javascript:alert(1)"),
        (("recipe", "parts", 0, "lines", 0, "low"), "1e99999999"),
        (("cards",), []),
        (("cards", "cost"), 5),
        (("recipe",), {}),
    ],
)
def test_facts_that_no_page_can_show(packed, refuse, where, value):
    """The digest fits, so only showing them once can tell; a page that failed for every reader would be worse."""
    from kitchen.operations.publishing import digest_of

    def change(document):
        edition = document["editions"][0]
        at(edition["facts"], *where[:-1])[where[-1]] = value
        edition["digest"] = digest_of(edition["facts"])

    assert "edition 1" in refuse(with_document(packed, recipe_name(packed), change))


def test_twice_the_same_number(packed, refuse):
    name = recipe_name(packed)
    twice = with_document(packed, name, lambda document: document["revisions"].append(document["revisions"][0]))
    assert "do not fit together" in refuse(twice)


@pytest.mark.parametrize(
    ("app", "where", "value"),
    [
        ("energy", ("appliances", 0, "rated_w"), -5),
        ("energy", ("appliances", 0, "kind"), "reactor"),
        ("energy", ("sources", 0, "tariff"), "none of ours"),
        ("energy", ("meters", 0, "name"), ""),
        ("costing", ("quotes", 0, "shop"), "none of ours"),
        ("costing", ("quotes", 0, "price"), "-1"),
        ("costing", ("yields", 0, "percent"), "900"),
        ("costing", ("quotes",), 5),
    ],
)
def test_apps_documents_that_make_no_sense(packed, refuse, app, where, value):
    def change(document):
        at(document, *where[:-1])[where[-1]] = value

    refuse(with_document(packed, f"apps/{app}.json", change))


@pytest.mark.parametrize(
    ("where", "value"),
    [
        (("runs", 0, "revision"), 9),
        (("runs", 0, "meter"), "none of ours"),
        (("runs", 0, "readings", 0, "energy_wh"), -1),
        (("runs", 0, "readings", 0, "at"), "then"),
        (("runs", 0, "stages", 0, "kind"), "explode"),
        (("runs", 0, "verdict"), "perfect"),
        (("schema",), 9),
    ],
)
def test_runs_that_make_no_sense(packed, refuse, where, value):
    name = next(name for name in members(packed) if name.startswith("apps/energy/"))

    def change(document):
        at(document, *where[:-1])[where[-1]] = value

    refuse(with_document(packed, name, change))


def test_a_photo_that_is_none_or_tells_a_place(packed, refuse):
    held = members(packed)
    name = next(name for name in held if name.endswith("-wide.jpg"))
    for content in (b"<script>alert(1)</script>", telling_jpeg(), held[name][:50]):
        assert f"{name} is not a photo as this program makes them" in refuse(zipped({**held, name: content}))


def test_what_an_unknown_app_packed_is_left_out_and_told(packed, owner, noon):
    account = unpack(zipped({**members(packed), "apps/garden.json": b"{}"}), owner, noon)
    assert any("no app called “garden”" in sentence for sentence in account.said)


def test_folders_that_another_zip_program_added_do_no_harm(packed, owner, noon):
    out = io.BytesIO(packed)
    with zipfile.ZipFile(out, "a") as archive:
        archive.writestr(zipfile.ZipInfo("recipes/"), b"")
    assert Archive(io.BytesIO(out.getvalue())).names("recipes/")
    assert unpack(out.getvalue(), owner, noon).added["recipes"] == 2
