"""Photos: what is made of them, what is refused, what is kept and for how long."""

import io
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image, TiffImagePlugin

from kitchen.domain.draft import DraftStep
from kitchen.models import Edition, Photo
from kitchen.operations import add_photo, delete_recipe, lead_with, publish_recipe, remove_photo, save_draft
from kitchen.publish.photos import PhotoRefused, make_derivatives
from kitchen.queries import newest_revision
from tests.kitchen.desk import POT, write_pot


def picture(size=(2000, 1500), kind="JPEG", mode="RGB", color="teal", **options):
    out = io.BytesIO()
    Image.new(mode, size, color).save(out, kind, **options)
    return out.getvalue()


def with_gps():
    exif = Image.Exif()
    exif[0x0112] = 6  # lies on its side: to be turned a quarter
    exif[0x010F] = "Invented camera"
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2] = "N", tuple(TiffImagePlugin.IFDRational(n) for n in (52, 30, 15))
    gps[3], gps[4] = "E", tuple(TiffImagePlugin.IFDRational(n) for n in (13, 22, 40))
    return picture(size=(800, 400), exif=exif.tobytes(), comment=b"taken at the dark site")


def opened(data):
    return Image.open(io.BytesIO(data))


def test_two_sizes_of_jpeg():
    made = make_derivatives(picture())
    assert (opened(made.wide).size, opened(made.small).size) == ((1600, 1200), (640, 480))
    assert (made.width_px, made.height_px) == (1600, 1200)
    assert opened(made.wide).format == opened(made.small).format == "JPEG"


def test_nothing_is_enlarged_and_a_tower_is_not_kept_tall():
    assert opened(make_derivatives(picture(size=(300, 200))).wide).size == (300, 200)
    assert opened(make_derivatives(picture(size=(1000, 9000))).wide).height == 3200


def test_where_and_with_what_it_was_taken_is_gone_and_it_stands_upright():
    sent = with_gps()
    assert opened(sent).getexif().get_ifd(0x8825)
    made = make_derivatives(sent)
    assert opened(made.wide).size == (400, 800)
    for data in (made.wide, made.small):
        assert not dict(opened(data).getexif())
        assert not opened(data).getexif().get_ifd(0x8825)
        assert not {"exif", "xmp", "comment", "icc_profile", "photoshop"} & opened(data).info.keys()
        assert b"Invented" not in data
        assert b"dark site" not in data
        assert b"Exif" not in data


def test_transparent_places_become_white():
    made = make_derivatives(picture(size=(40, 40), kind="PNG", mode="RGBA", color=(0, 0, 0, 0)))
    assert opened(made.wide).getpixel((5, 5)) == (255, 255, 255)


def test_of_an_animation_the_first_frame_is_taken():
    out = io.BytesIO()
    frames = [Image.new("RGB", (60, 40), color) for color in ("red", "blue")]
    frames[0].save(out, "GIF", save_all=True, append_images=frames[1:])
    red, _, blue = opened(make_derivatives(out.getvalue()).wide).getpixel((5, 5))
    assert red > 200 > 60 > blue


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "GIF"])
def test_other_kinds_are_taken(kind):
    assert make_derivatives(picture(size=(50, 50), kind=kind)).width_px == 50


@pytest.mark.parametrize(
    ("sent", "sentence"),
    [
        (b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>', "This is a drawing"),
        (b'<?xml version="1.0"?>\n<svg></svg>', "This is a drawing"),
        (b"%PDF-1.7 not a photo", "This is not a photo"),
        (b"", "This is not a photo"),
        (b"x" * (15 * 1024 * 1024 + 1), "This file has 15 MB; 15 MB fit"),
    ],
)
def test_what_is_no_photo_is_refused_in_words(sent, sentence):
    with pytest.raises(PhotoRefused, match=sentence):
        make_derivatives(sent)


def test_forty_megapixels_are_refused_before_they_are_unpacked():
    with pytest.raises(PhotoRefused, match="This photo has 40 megapixels; 24 fit"):
        make_derivatives(picture(size=(8000, 5000), mode="1", color=0, kind="PNG"))


def test_a_bomb_is_refused():
    bomb = bytearray(picture(size=(8, 8), kind="PNG"))
    bomb[16:24] = (60_000).to_bytes(4, "big") * 2
    with pytest.raises(PhotoRefused):
        make_derivatives(bytes(bomb))


def test_a_photo_that_breaks_off_is_refused():
    for kind in ("JPEG", "PNG", "WEBP"):
        noisy = io.BytesIO()
        Image.effect_noise((600, 600), 80).save(noisy, kind)
        with pytest.raises(PhotoRefused, match=r"breaks off|not a photo"):
            make_derivatives(noisy.getvalue()[: len(noisy.getvalue()) // 2])


# --- kept and shown ---------------------------------------------------------------------------------------------------------


@pytest.fixture
def folder(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "photos"
    return settings.MEDIA_ROOT


@pytest.fixture
def pot(owner, noon, folder):
    return write_pot(owner, noon)


def add(recipe, at, data=None, alt="A pot"):
    return add_photo(recipe=recipe, picture=io.BytesIO(data or picture()), alt=alt, at=at)


def files(folder):
    return sorted(path.name for path in Path(folder).iterdir())


@pytest.mark.django_db
def test_only_the_derivatives_are_kept_and_the_first_leads(pot, noon, folder):
    first, second = add(pot, noon), add(pot, noon, picture(color="navy"), alt="Two mugs")
    assert files(folder) == sorted([first.wide, first.small, second.wide, second.small])
    assert (first.leads, second.leads) == (True, False)
    lead_with(photo=second)
    assert pot.photos.get(leads=True) == second
    with pytest.raises(PhotoRefused, match="has this photo already"):
        add(pot, noon)


@pytest.mark.django_db
def test_files_go_with_the_photo_and_the_next_one_leads(pot, noon, folder, django_capture_on_commit_callbacks):
    first, second = add(pot, noon), add(pot, noon, picture(color="navy"))
    with django_capture_on_commit_callbacks(execute=True):
        remove_photo(photo=first)
    second.refresh_from_db()
    assert second.leads
    assert files(folder) == sorted([second.wide, second.small])


@pytest.mark.django_db
def test_a_published_photo_s_files_stay(no_cards, pot, noon, owner, folder, django_capture_on_commit_callbacks):
    lead, stepping = add(pot, noon), add(pot, noon, picture(color="navy"))
    revision = newest_revision(pot)
    draft = POT.__class__(**{**POT.__dict__, "steps": (DraftStep("Look.", photo=stepping.pk),)})
    save_draft(revision=revision, draft=draft, expected_version=revision.draft_version, at=noon)
    publish_recipe(recipe=pot, revision=newest_revision(pot), by=owner, at=noon)
    before = files(folder)
    with django_capture_on_commit_callbacks(execute=True):
        remove_photo(photo=lead)
        remove_photo(photo=stepping)
    assert files(folder) == before
    assert Edition.objects.count() == 1
    assert not Photo.objects.exists()


@pytest.mark.django_db
def test_another_recipe_with_the_same_photo_keeps_its_files(pot, owner, noon, folder, django_capture_on_commit_callbacks):
    other = write_pot(owner, noon)
    photo = add(pot, noon)
    add(other, noon)
    with django_capture_on_commit_callbacks(execute=True):
        remove_photo(photo=photo)
    assert len(files(folder)) == 2
    with django_capture_on_commit_callbacks(execute=True):
        delete_recipe(recipe=other)
    assert files(folder) == []


def upload(client, recipe, data, name="pot.jpg", **words):
    said = {"alt": "Red stew in a mug", "focal_x": "30", "focal_y": "70,5", **words}
    address = reverse("kitchen:photos", args=[recipe.slug])
    return client.post(address, {**said, "picture": SimpleUploadedFile(name, data, content_type="image/jpeg")})


@pytest.mark.django_db
def test_a_photo_is_sent_and_shown_with_a_long_memory(owner_client, pot, stranger_client):
    assert upload(owner_client, pot, with_gps()).status_code == 302
    photo = Photo.objects.get()
    assert (photo.alt, photo.focal_x, photo.focal_y) == ("Red stew in a mug", 0.3, 0.705)
    answer = stranger_client.get(f"/photos/{photo.wide}")
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert answer.headers["Cache-Control"] == "public, max-age=31536000, immutable"
    assert opened(answer.getvalue()).size == (photo.width_px, photo.height_px)
    assert "Red stew in a mug" in owner_client.get(reverse("kitchen:photos", args=[pot.slug])).content.decode()


@pytest.mark.django_db
@pytest.mark.parametrize("name", ["../secret.jpg", "a" * 24 + "-wide.jpg", "x.svg", ".coming-abc"])
def test_no_other_file_is_shown(client, folder, name):
    assert client.get(f"/photos/{name}").status_code == 404


@pytest.mark.django_db
def test_refused_photos_are_said_beside_the_field_and_the_words_stay(owner_client, pot, folder):
    html = upload(owner_client, pot, b"<svg></svg>", "pot.svg").content.decode()
    assert "This is a drawing" in html
    assert "Red stew in a mug" in html
    large = picture(size=(8000, 5000), mode="1", color=0, kind="PNG")
    assert "This photo has 40 megapixels" in upload(owner_client, pot, large).content.decode()
    assert "This file has 15 MB" in upload(owner_client, pot, b"x" * (15 * 1024 * 1024 + 1)).content.decode()
    assert "A number from 0 to 100" in upload(owner_client, pot, picture(), focal_x="101").content.decode()
    assert "Say in a few words" in upload(owner_client, pot, picture(), alt="").content.decode()
    assert not Photo.objects.exists()
    assert not Path(folder).exists()


@pytest.mark.django_db
def test_words_head_and_removal(owner_client, pot, noon):
    first, second = add(pot, noon), add(pot, noon, picture(color="navy"))
    edit = reverse("kitchen:photo-edit", args=[pot.slug, second.pk])
    owner_client.post(edit, {"alt": "A pot lid", "focal_x": "", "focal_y": "10"})
    owner_client.post(reverse("kitchen:photo-lead", args=[pot.slug, second.pk]))
    second.refresh_from_db()
    assert (second.alt, second.focal_x, second.focal_y, second.leads) == ("A pot lid", 0.5, 0.1, True)
    remove = reverse("kitchen:photo-remove", args=[pot.slug, first.pk])
    assert "Remove this photo?" in owner_client.get(remove).content.decode()
    owner_client.post(remove)
    assert list(pot.photos.all()) == [second]
