"""A backup that is not whole, not for this program or not for these eyes is refused in a sentence, and nothing is changed."""

import io
import json
import zipfile

import pytest

from deploy.backup import restoring
from deploy.backup.document import open_backup, passphrase_in
from deploy.backup.restoring import restore
from deploy.backup.sealing import PIECE, Sealing, Unsealed, WrongPassphrase
from deploy.backup.writing import make_backup
from kitchen.archivists import ArchiveRefused
from kitchen.models import Recipe
from tests.deploy.backup.places import fill
from tests.kitchen.packed import zipped

pytestmark = pytest.mark.django_db(transaction=True)
SECRET = b"a pot, a lid, a spoon"


@pytest.fixture(autouse=True)
def own_folder(settings, tmp_path):
    settings.MEDIA_ROOT, settings.DATA_DIR = tmp_path / "photos", tmp_path


@pytest.fixture(scope="module")
def made_once():
    """Where the good backups are kept once they were made: each test spoils a copy."""
    return []


@pytest.fixture
def backups(request, made_once):
    """A good backup, and the same one sealed."""
    if not made_once:
        owner, other_cook, noon, folder = map(request.getfixturevalue, ("owner", "other_cook", "noon", "tmp_path"))
        fill(owner, other_cook, noon)
        made = [make_backup(folder=folder, at=noon, passphrase=passphrase) for passphrase in (None, SECRET)]
        made_once.extend(backup.path.read_bytes() for backup in made)
    return made_once


@pytest.fixture
def whole(backups):
    return backups[0]


def members(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def refusal(content: bytes, passphrase: bytes | None = None) -> str:
    """Restore what has to be refused, and return the sentence; everything is as it was."""
    before = list(Recipe.objects.values_list("title", flat=True))
    with pytest.raises(ArchiveRefused) as refused:
        restore(open_backup(io.BytesIO(content), passphrase))
    assert list(Recipe.objects.values_list("title", flat=True)) == before
    return str(refused.value)


def test_one_that_broke_off(whole):
    assert "broke off on the way" in refusal(whole[:-100])


def test_one_with_a_changed_byte(whole):
    spoilt = bytearray(whole)
    spoilt[len(spoilt) // 2] ^= 1
    assert "digest differs" in refusal(bytes(spoilt)) or "damaged" in refusal(bytes(spoilt))


def test_one_of_a_newer_format(whole):
    assert "Update the program, then restore it" in refusal(zipped(members(whole), schema=2))


def test_one_of_a_newer_program(whole):
    held = json.loads(members(whole)["manifest.json"])
    newer = zipped(members(whole), migrations=[*held["migrations"], "kitchen.9999_later"])
    assert "does not know kitchen.9999_later" in refusal(newer)


def test_a_packed_library(owner, noon):
    from tests.kitchen.packed import pack

    assert "has no place in a backup" in refusal(pack(noon))


def test_rows_that_do_not_fit_together(whole):
    held = members(whole)
    held["tables/kitchen_recipe.jsonl"] = b""
    manifest = json.loads(held["manifest.json"])
    for table in manifest["tables"]:
        table["rows"] *= table["model"] != "kitchen.Recipe"
    assert "rows that do not fit together" in refusal(zipped(held, tables=manifest["tables"]))


def test_a_row_with_a_value_that_its_column_cannot_hold(whole):
    held = members(whole)
    rows = held["tables/energy_meter.jsonl"]
    held["tables/energy_meter.jsonl"] = rows.replace(b"[", b'["x",', 1)
    assert "another number of columns" in refusal(zipped(held))
    held["tables/energy_meter.jsonl"] = b'["x"' + rows[rows.index(b",") :]
    assert "a value that its column cannot" in refusal(zipped(held))


def test_a_row_that_comes_out_otherwise(whole, monkeypatch):
    """A database that keeps something else than it was given is found out before it counts."""
    put_rows = restoring.put_rows

    def careless(model, rows, columns):
        place = columns.index("note") if model._meta.label == "energy.Run" else None
        return put_rows(model, (row if place is None else [*row[:place], "x", *row[place + 1 :]] for row in rows), columns)

    monkeypatch.setattr(restoring, "put_rows", careless)
    assert "Row 1 of energy_run came out otherwise than it went in. Nothing was changed." in refusal(whole)


@pytest.mark.any_engine
def test_photos_that_are_none(whole, tmp_path):
    import tarfile

    held, out = members(whole), io.BytesIO()
    with tarfile.open(fileobj=out, mode="w") as tar:
        info = tarfile.TarInfo("../outside")
        info.size = 1
        tar.addfile(info, io.BytesIO(b"x"))
    assert "holds something that is no photo" in refusal(zipped({**held, "photos.tar": out.getvalue()}))
    assert not (tmp_path / "outside").exists()


def test_a_whole_one_is_restored_over_what_is_here(whole, owner, noon):
    Recipe.objects.create(owner=owner, title="Changed since", slug="changed", created_at=noon, updated_at=noon)
    said = []
    restore(open_backup(io.BytesIO(whole), None), said.append)
    assert not Recipe.objects.filter(title="Changed since").exists()
    assert said[0].endswith("tables is as it was.")
    Recipe.objects.create(owner=Recipe.objects.first().owner, title="New", slug="new", created_at=noon, updated_at=noon)


@pytest.mark.any_engine
def test_a_sealed_one_opens_with_its_passphrase_alone(backups):
    sealed = backups[1]
    assert b"kitchen_recipe" not in sealed
    assert "This backup is sealed" in refusal(sealed)
    assert "The passphrase does not open this backup" in refusal(sealed, SECRET[:-1])
    spoilt = bytearray(sealed)
    spoilt[len(spoilt) // 2] ^= 1
    assert refusal(bytes(spoilt), SECRET).startswith(("photos.tar cannot be read", "tables/"))
    assert refusal(sealed[:-1], SECRET)
    restore(open_backup(io.BytesIO(sealed), SECRET))


@pytest.mark.any_engine
@pytest.mark.parametrize("size", [0, 1, PIECE - 1, PIECE, PIECE + 1, 3 * PIECE])
def test_sealing_is_undone_from_any_place(size):
    content, out = bytes(number % 251 for number in range(size)), io.BytesIO()
    with Sealing(out, SECRET) as sealing:
        for start in range(0, size, 10_007):
            sealing.write(content[start : start + 10_007])
        held = out
        sealing.close()
    opened = Unsealed(io.BytesIO(held.getvalue()), SECRET)
    assert opened.read() == content
    opened.seek(-min(size, 7), io.SEEK_END)
    assert opened.read() == content[size - min(size, 7) :]
    with pytest.raises(WrongPassphrase):
        Unsealed(io.BytesIO(held.getvalue()), b"another passphrase")
    if size > PIECE:
        cut = held.getvalue()[: 34 + PIECE + 16]
        with pytest.raises(WrongPassphrase):
            Unsealed(io.BytesIO(cut), SECRET)


@pytest.mark.any_engine
def test_a_passphrase_too_short_is_refused(tmp_path):
    (tmp_path / "pass").write_text("short\n")
    with pytest.raises(ArchiveRefused, match="shorter than 12 characters"):
        passphrase_in(tmp_path / "pass")
    with pytest.raises(ArchiveRefused, match="cannot be read"):
        passphrase_in(tmp_path / "none")
    (tmp_path / "pass").write_text("a pot, a lid, a spoon\nmore\n")
    assert passphrase_in(tmp_path / "pass") == SECRET
