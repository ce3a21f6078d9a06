"""Photos: what is made of them, what is refused, what is kept and for how long."""

import hashlib
import io
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from kitchen.domain.draft import DraftStep
from kitchen.domain.pictures import search_pictures
from kitchen.models import Edition, Photo
from kitchen.operations import add_photo, change_photo, delete_recipe, lead_with, publish_recipe, remove_photo, save_draft
from kitchen.publish.opening import PhotoRefused
from kitchen.publish.photos import make_derivatives
from kitchen.queries import newest_revision, photo_facts
from tests.kitchen.desk import POT, write_pot
from tests.kitchen.pictures import halves, opened, picture, telling_jpeg

STEM = "0" * 24
SMALL = (600, 450)  # where only names, rows and files are asked for


def made(sent, **point):
    return make_derivatives(sent, stem=STEM, **point)


def part(derivatives, name):
    return opened(derivatives.files[f"{STEM}-{name}"])


# --- sizes and crops --------------------------------------------------------------------------------------------------------


def test_the_whole_picture_in_two_sizes_and_two_formats():
    photo = made(picture((4000, 3000)))
    assert (photo.width_px, photo.height_px) == (1600, 1200)
    for name, kind, size in (("wide", "JPEG", (1600, 1200)), ("small", "JPEG", (640, 480))):
        assert (part(photo, f"{name}.jpg").format, part(photo, f"{name}.jpg").size) == (kind, size)
        assert (part(photo, f"{name}.webp").format, part(photo, f"{name}.webp").size) == ("WEBP", size)
    assert part(photo, "deep.webp").size == (1800, 1350)


def test_search_engines_get_three_shapes_twelve_hundred_pixels_wide():
    for size in ((6000, 4000), (3000, 4000), (4000, 3000), (8000, 2000)):
        photo = made(picture(size))
        found = {name.removeprefix(STEM): size for name, size in photo.sizes.items() if "1200" in name and name.endswith("jpg")}
        assert found == {
            "-1x1-1200-500-500.jpg": (1200, 1200),
            "-4x3-1200-500-500.jpg": (1200, 900),
            "-16x9-1200-500-500.jpg": (1200, 675),
        }


def test_the_sizes_said_are_those_of_the_files():
    photo = made(picture((1801, 1207)))
    assert {name: opened(photo.files[name]).size for name in photo.sizes} == photo.sizes
    assert set(photo.files) == {*photo.sizes, photo.wide, photo.small}


def test_nothing_is_enlarged_and_a_tower_is_not_kept_tall():
    photo = made(picture((300, 200)))
    assert part(photo, "wide.jpg").size == (300, 200)
    assert max(size[0] for size in photo.sizes.values()) == 300
    assert part(made(picture((1000, 9000))), "wide.jpg").height == 3200
    assert made(picture((1, 1))).width_px == 1


def test_crops_are_cut_around_the_point():
    """The left half is red, the right half blue: a point far to one side keeps that side."""
    left, right = (made(halves((3200, 1600)), focal_x=x, focal_y=0.5) for x in (0.1, 0.9))
    red, blue = (
        part(left, "1x1-1200-100-500.jpg").getpixel((1100, 600)),
        part(right, "1x1-1200-900-500.jpg").getpixel((100, 600)),
    )
    assert red[0] > 200 > 60 > red[2]
    assert blue[2] > 200 > 60 > blue[0]


# --- what it can be ---------------------------------------------------------------------------------------------------------


def test_transparent_places_become_white():
    for kind, mode, color in (("PNG", "RGBA", (0, 0, 0, 0)), ("PNG", "LA", (0, 0)), ("WEBP", "RGBA", (0, 0, 0, 0))):
        assert part(made(picture((40, 40), kind, mode, color)), "wide.jpg").getpixel((5, 5)) == (255, 255, 255)
    clear = picture((40, 40), "PNG", "P", 0, transparency=0)
    assert part(made(clear), "wide.jpg").getpixel((5, 5)) == (255, 255, 255)


def test_of_an_animation_the_first_frame_is_taken():
    for kind in ("GIF", "WEBP", "PNG"):
        out = io.BytesIO()
        frames = [Image.new("RGB", (60, 40), color) for color in ("red", "blue")]
        frames[0].save(out, kind, save_all=True, append_images=frames[1:])
        red, _, blue = part(made(out.getvalue()), "wide.jpg").getpixel((5, 5))
        assert red > 200 > 60 > blue, kind


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "GIF", "AVIF"])
def test_other_kinds_are_taken(kind):
    assert made(picture((50, 50), kind)).width_px == 50


@pytest.mark.parametrize(
    ("kind", "mode", "color", "expected"),
    [
        ("JPEG", "CMYK", (0, 255, 255, 0), (255, 0, 0)),
        ("JPEG", "L", 128, (128, 128, 128)),
        ("PNG", "I;16", 128 * 256, (128, 128, 128)),
        ("PNG", "1", 1, (255, 255, 255)),
        ("PNG", "P", 0, (0, 0, 0)),
    ],
)
def test_other_ways_to_say_a_colour(kind, mode, color, expected):
    shown = part(made(picture((40, 40), kind, mode, color)), "wide.jpg").getpixel((5, 5))
    assert all(abs(have - want) <= 6 for have, want in zip(shown, expected, strict=True)), shown


def test_a_large_transparent_picture_is_shrunk_in_bands_without_seams():
    sent = Image.new("RGBA", (5000, 2900), (0, 128, 0, 255))
    sent.paste((0, 0, 0, 0), (0, 0, 5000, 1450))
    out = io.BytesIO()
    sent.save(out, "PNG")
    photo = part(made(out.getvalue()), "deep.webp").convert("RGB")
    column = [photo.getpixel((700, y)) for y in range(photo.height)]
    half = photo.height // 2
    assert set(column[: half - 3]) == {(255, 255, 255)}
    assert all(abs(pixel[1] - 128) <= 4 for pixel in column[half + 3 :])


# --- what is refused --------------------------------------------------------------------------------------------------------

HEIC = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(200)


@pytest.mark.parametrize(
    ("sent", "sentence"),
    [
        (b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>', "This is a drawing"),
        (b'<?xml version="1.0"?>\n<svg></svg>', "This is a drawing"),
        (b"%PDF-1.7 not a photo", "This is not a photo"),
        (b"", "This is not a photo"),
        (HEIC, "This is an HEIC photo, which cannot be read here. Export or send it as a JPEG"),
        (b"\0\0\0\x18ftypavif\0\0\0\0avif" + bytes(50), "This AVIF photo cannot be read here"),
        (b"II*\0" + bytes(100), "TIFF, raw or bitmap"),
        (b"x" * (25 * 1024 * 1024 + 1), "This file has 25 MB; 25 MB fit"),
    ],
)
def test_what_is_no_photo_is_refused_in_words(sent, sentence):
    with pytest.raises(PhotoRefused, match=sentence):
        made(sent)


def test_too_many_pixels_are_refused_before_they_are_unpacked():
    for kind, mode, sentence in (
        ("PNG", "1", "This photo has 40 megapixels; 25 fit in a PNG file"),
        ("GIF", "1", "This photo has 40 megapixels; 12.5 fit in a GIF file"),
    ):
        with pytest.raises(PhotoRefused, match=sentence):
            made(picture((8000, 5000), kind, mode, 0))
    with pytest.raises(PhotoRefused, match="40 megapixels; 25 fit in a JPEG file"):
        made(picture((8000, 5000), mode="L", color=0, progressive=True))
    assert made(picture((8000, 5000), mode="L", color=0)).width_px == 1600


def test_a_bomb_is_refused():
    for side in (60_000, 2**31 - 1):
        bomb = bytearray(picture((8, 8), "PNG"))
        bomb[16:24] = side.to_bytes(4, "big") * 2
        with pytest.raises(PhotoRefused):
            made(bytes(bomb))


def test_a_photo_that_breaks_off_is_refused():
    for kind in ("JPEG", "PNG", "WEBP", "AVIF"):
        noisy = io.BytesIO()
        Image.effect_noise((600, 600), 80).convert("RGB").save(noisy, kind)
        for share in (2, 8, 100):
            with pytest.raises(PhotoRefused, match=r"breaks off|not a photo|cannot be read"):
                made(noisy.getvalue()[: len(noisy.getvalue()) // share])


def test_notes_that_are_nonsense_do_not_harm_the_pixels():
    photo = made(picture((50, 40), exif=b"Exif\0\0II*\0\xff\xff\xff\xff nonsense"))
    assert (photo.width_px, photo.height_px) == (50, 40)
    photo = made(picture((50, 40), icc_profile=b"nonsense" * 50))
    assert part(photo, "wide.jpg").getpixel((5, 5))[0] < 20


# --- kept and shown ---------------------------------------------------------------------------------------------------------


@pytest.fixture
def folder(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "photos"
    return settings.MEDIA_ROOT


@pytest.fixture
def pot(owner, noon, folder):
    return write_pot(owner, noon)


def add(recipe, at, data=None, alt="A pot"):
    return add_photo(recipe=recipe, picture=io.BytesIO(data or picture(SMALL)), alt=alt, at=at)


def files(folder):
    return {path.name for path in Path(folder).iterdir()}


def all_files(*photos):
    return {name for photo in photos for name in (photo.wide, photo.small, *photo.crops)}


@pytest.mark.django_db
def test_only_the_derivatives_are_kept_and_the_first_leads(pot, noon, folder):
    first, second = add(pot, noon), add(pot, noon, picture(SMALL, color="navy"), alt="Two mugs")
    assert files(folder) == all_files(first, second)
    assert first.digest == hashlib.sha256(picture(SMALL)).hexdigest()
    assert (first.leads, second.leads) == (True, False)
    lead_with(photo=second)
    assert pot.photos.get(leads=True) == second
    with pytest.raises(PhotoRefused, match="has this photo already"):
        add(pot, noon)


@pytest.mark.django_db
def test_files_go_with_the_photo_and_the_next_one_leads(pot, noon, folder, django_capture_on_commit_callbacks):
    first, second = add(pot, noon), add(pot, noon, picture(SMALL, color="navy"))
    with django_capture_on_commit_callbacks(execute=True):
        remove_photo(photo=first)
    second.refresh_from_db()
    assert second.leads
    assert files(folder) == all_files(second)


@pytest.mark.django_db
def test_a_published_photo_s_files_stay(no_cards, pot, noon, owner, folder, django_capture_on_commit_callbacks):
    lead, stepping = add(pot, noon), add(pot, noon, picture(SMALL, color="navy"))
    revision = newest_revision(pot)
    draft = POT.__class__(**{**POT.__dict__, "steps": (DraftStep("Look.", photo=stepping.pk),)})
    save_draft(revision=revision, draft=draft, expected_version=revision.draft_version, at=noon)
    publish_recipe(recipe=pot, revision=newest_revision(pot), by=owner, at=noon)
    shown = {name for name in files(folder) if "deep" not in name}
    with django_capture_on_commit_callbacks(execute=True):
        change_photo(photo=lead, alt="A pot", focal_x=0.2, focal_y=0.5)
    with django_capture_on_commit_callbacks(execute=True):
        remove_photo(photo=lead)
        remove_photo(photo=stepping)
    assert shown <= files(folder)
    assert not [name for name in files(folder) if "-200-500" in name]
    assert Edition.objects.count() == 1
    assert not Photo.objects.exists()


@pytest.mark.django_db
def test_another_recipe_with_the_same_photo_keeps_its_files(pot, owner, noon, folder, django_capture_on_commit_callbacks):
    other = write_pot(owner, noon)
    photo = add(pot, noon)
    kept = add(other, noon)
    with django_capture_on_commit_callbacks(execute=True):
        remove_photo(photo=photo)
    assert files(folder) == all_files(kept)
    with django_capture_on_commit_callbacks(execute=True):
        delete_recipe(recipe=other)
    assert files(folder) == set()


@pytest.mark.any_engine
@pytest.mark.django_db
def test_another_point_cuts_the_crops_anew_and_their_names_change(pot, noon, folder, django_capture_on_commit_callbacks):
    photo = add(pot, noon, halves((3200, 1600)))
    before = search_pictures(photo_facts(photo))
    with django_capture_on_commit_callbacks(execute=True):
        change_photo(photo=photo, alt="Right", focal_x=0.9, focal_y=0.5)
    photo.refresh_from_db()
    after = search_pictures(photo_facts(photo))
    assert not set(before) & set(after)
    assert files(folder) == all_files(photo)
    square = Image.open(folder / after[0])
    assert (square.size, square.getpixel((100, 600))[2] > 200) == ((1200, 1200), True)


@pytest.mark.any_engine
@pytest.mark.django_db
def test_cutting_ten_times_is_as_sharp_as_cutting_once(pot, noon, folder):
    """Crops come from the deep file each time, so that a change of mind costs nothing."""
    noise = Image.effect_noise((800, 600), 60).convert("RGB")
    out = io.BytesIO()
    noise.save(out, "JPEG", quality=95)
    photo = add(pot, noon, out.getvalue())
    once = (folder / search_pictures(photo_facts(photo))[1]).read_bytes()
    for turn in range(10):
        change_photo(photo=photo, alt="A pot", focal_x=turn / 10, focal_y=0.5)
    change_photo(photo=photo, alt="A pot", focal_x=0.5, focal_y=0.5)
    again = (folder / search_pictures(photo_facts(photo))[1]).read_bytes()
    assert abs(len(again) - len(once)) < len(once) * 0.05


@pytest.mark.django_db
def test_a_photo_from_before_there_were_crops_works_and_is_cut_when_its_point_changes(pot, noon, folder):
    photo = add(pot, noon)
    for name in photo.crops:
        (folder / name).unlink()
    Photo.objects.filter(pk=photo.pk).update(crops={})
    photo.refresh_from_db()
    assert search_pictures(photo_facts(photo)) == [photo.wide]
    change_photo(photo=photo, alt="A pot", focal_x=0.25, focal_y=0.5)
    assert len(search_pictures(photo_facts(photo))) == 3
    (folder / photo.wide).unlink()
    change_photo(photo=photo, alt="A lid", focal_x=0.75, focal_y=0.5)  # nothing left to cut from: the words are kept
    photo.refresh_from_db()
    assert (photo.alt, photo.focal_x) == ("A lid", 0.75)


def upload(client, recipe, data, name="pot.jpg", **words):
    said = {"alt": "Red stew in a mug", **words}
    address = reverse("kitchen:photos", args=[recipe.slug])
    return client.post(address, {**said, "picture": SimpleUploadedFile(name, data, content_type="image/jpeg")})


@pytest.mark.django_db
def test_a_photo_is_sent_and_shown_with_a_long_memory(owner_client, pot, stranger_client, noon):
    answer = upload(owner_client, pot, telling_jpeg())
    photo = Photo.objects.get()
    assert answer.headers["Location"] == reverse("kitchen:photo-edit", args=[pot.slug, photo.pk])
    publish_recipe(recipe=pot, revision=newest_revision(pot), by=pot.owner, at=noon)
    for name in all_files(photo):
        answer = stranger_client.get(f"/photos/{name}")
        assert answer.headers["Content-Type"] == ("image/webp" if name.endswith("webp") else "image/jpeg")
        assert answer.headers["Cache-Control"] == "public, max-age=31536000, immutable"
        size = photo.crops.get(name, [photo.width_px, photo.height_px])
        assert name == photo.small or opened(answer.getvalue()).size == tuple(size)
    assert "Red stew in a mug" in owner_client.get(reverse("kitchen:photos", args=[pot.slug])).content.decode()


@pytest.mark.django_db
@pytest.mark.parametrize("name", ["../secret.jpg", "a" * 24 + "-wide.jpg", "x.svg", ".coming-abc", "a" * 24 + "-wide.png"])
def test_no_other_file_is_shown(client, folder, name):
    assert client.get(f"/photos/{name}").status_code == 404


@pytest.mark.django_db
def test_refused_photos_are_said_beside_the_field_and_the_words_stay(owner_client, pot, folder):
    html = upload(owner_client, pot, b"<svg></svg>", "pot.svg").content.decode()
    assert "This is a drawing" in html
    assert "Red stew in a mug" in html
    large = picture((8000, 5000), "PNG", "1", 0)
    assert "This photo has 40 megapixels" in upload(owner_client, pot, large).content.decode()
    assert "This file has 25 MB" in upload(owner_client, pot, b"x" * (25 * 1024 * 1024 + 1)).content.decode()
    assert "Say in a few words" in upload(owner_client, pot, picture(), alt="").content.decode()
    assert not Photo.objects.exists()
    assert not Path(folder).exists()


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("sent", "point"),
    [
        ({"focal_x": "30", "focal_y": "70,5"}, (0.3, 0.705)),
        ({"focal_x": "50", "focal_y": "50", "spot": "17-83"}, (0.17, 0.83)),
        ({"focal_x": "40", "focal_y": "50", "spot": "17-83"}, (0.4, 0.5)),
        ({"focal_x": "", "focal_y": "10"}, (0.5, 0.1)),
    ],
)
def test_the_point_is_one_of_nine_places_or_two_numbers(owner_client, pot, noon, sent, point):
    photo = add(pot, noon)
    edit = reverse("kitchen:photo-edit", args=[pot.slug, photo.pk])
    assert "How it is cropped" in owner_client.get(edit).content.decode()
    assert owner_client.post(edit, {"alt": "A pot lid", **sent}).status_code == 302
    photo.refresh_from_db()
    assert (photo.focal_x, photo.focal_y) == point


@pytest.mark.django_db
def test_a_point_outside_the_picture_is_refused(owner_client, pot, noon):
    edit = reverse("kitchen:photo-edit", args=[pot.slug, add(pot, noon).pk])
    assert "A number from 0 to 100" in owner_client.post(edit, {"alt": "A lid", "focal_x": "101"}).content.decode()
    assert "one of the nine places" in owner_client.post(edit, {"alt": "A lid", "spot": "9-9"}).content.decode()


@pytest.mark.django_db
def test_words_head_and_removal(owner_client, pot, noon):
    first, second = add(pot, noon), add(pot, noon, picture(SMALL, color="navy"))
    edit = reverse("kitchen:photo-edit", args=[pot.slug, second.pk])
    owner_client.post(edit, {"alt": "A pot lid", "focal_x": "", "focal_y": "10"})
    owner_client.post(reverse("kitchen:photo-lead", args=[pot.slug, second.pk]))
    second.refresh_from_db()
    assert (second.alt, second.focal_x, second.focal_y, second.leads) == ("A pot lid", 0.5, 0.1, True)
    remove = reverse("kitchen:photo-remove", args=[pot.slug, first.pk])
    assert "Remove this photo?" in owner_client.get(remove).content.decode()
    owner_client.post(remove)
    assert list(pot.photos.all()) == [second]
