"""Nothing of what a photo tells about its maker, its camera or its place is in the files made from it, byte by byte."""

import io

import pytest
from PIL import Image, PngImagePlugin

from kitchen.publish.photos import make_derivatives, recut
from tests.kitchen.pictures import (
    TELLING,
    opened,
    picture,
    swapping_profile,
    telling_exif,
    telling_jpeg,
    with_thumbnail,
    xmp_packet,
)

STEM = "0" * 24
# Start, JFIF, tables, a progressive frame, scans, end (ITU-T T.81, from memory).
PLAIN_JPEG = {0xD8, 0xE0, 0xDB, 0xC2, 0xC4, 0xDA, 0xD9}
PLAIN_WEBP = {b"VP8 "}  # the pixels alone: no VP8X, EXIF, XMP or ICCP chunk (RFC 9649, from memory)
WORDS = (TELLING, "Exif", "http", "GPS", "8BIM", "Photoshop", "xpacket", "rdf", "ICC_PROFILE", "acsp", "Ducky", "Model Nine")


def telling_png():
    words = PngImagePlugin.PngInfo()
    words.add_text("Comment", f"at {TELLING}")
    words.add_text("Author", f"cook of {TELLING}", zip=True)
    words.add_itxt("XML:com.adobe.xmp", xmp_packet().decode())
    words.add_itxt("Title", TELLING, zip=True)
    out = io.BytesIO()
    image = Image.new("RGB", (800, 400), "teal")
    image.save(out, "PNG", pnginfo=words, exif=telling_exif().tobytes(), icc_profile=swapping_profile())
    return out.getvalue()


def telling_webp():
    out = io.BytesIO()
    image = Image.new("RGB", (800, 400), "teal")
    exif = with_thumbnail(telling_exif().tobytes())
    image.save(out, "WEBP", exif=exif, xmp=xmp_packet(), icc_profile=swapping_profile())
    return out.getvalue()


def telling_avif():
    out = io.BytesIO()
    image = Image.new("RGB", (800, 400), "teal")
    image.save(out, "AVIF", exif=telling_exif().tobytes(), xmp=xmp_packet(), icc_profile=swapping_profile())
    return out.getvalue()


def telling_gif():
    return picture((800, 400), "GIF", "P", 0, comment=f"at {TELLING}".encode())


def jpeg_markers(data):
    """Return the markers of a JPEG's segments, and refuse anything between or behind them."""
    found, at = {data[1]}, 2
    assert data[:2] == b"\xff\xd8"
    while data[at + 1] != 0xD9:
        assert data[at] == 0xFF
        found.add(data[at + 1])
        scan = data[at + 1] == 0xDA
        at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        while scan and not (data[at] == 0xFF and data[at + 1] not in (0, *range(0xD0, 0xD8))):
            at += 1
    assert data[at:] == b"\xff\xd9"
    return found | {0xD9}


def webp_chunks(data):
    """Return the names of a WebP's chunks, and refuse anything behind them."""
    assert (data[:4], data[8:12]) == (b"RIFF", b"WEBP")
    assert int.from_bytes(data[4:8], "little") == len(data) - 8
    found, at = set(), 12
    while at < len(data):
        size = int.from_bytes(data[at + 4 : at + 8], "little")
        found.add(data[at : at + 4])
        at += 8 + size + size % 2
    assert at == len(data)
    return found


def all_files(sent):
    made = make_derivatives(sent, stem=STEM)
    again, _ = recut(made.files[f"{STEM}-deep.webp"], stem=STEM, focal_x=0.1, focal_y=0.9)
    return {**made.files, **again}


@pytest.mark.parametrize("make", [telling_jpeg, telling_png, telling_webp, telling_avif, telling_gif])
def test_no_file_tells_anything(make):
    sent = make()
    assert TELLING.encode() in sent
    files = all_files(sent)
    assert len(files) > 14
    for name, data in files.items():
        assert not [word for word in WORDS if word.lower().encode() in data.lower()], name
        assert not [word for word in WORDS if word.encode("utf-16-le") in data or word.encode("utf-16-be") in data], name
        if name.endswith(".jpg"):
            assert jpeg_markers(data) <= PLAIN_JPEG, name
        else:
            assert webp_chunks(data) <= PLAIN_WEBP, name
        shown = opened(data)
        assert not dict(shown.getexif())
        assert not shown.getexif().get_ifd(0x8825)
        assert not {"exif", "xmp", "comment", "icc_profile", "photoshop"} & shown.info.keys()


def test_the_test_s_own_picture_tells_everything():
    """What is looked for above is really there: Pillow finds place, thumbnail, XMP, IPTC, profile and comment."""
    sent = opened(telling_jpeg())
    exif = sent.getexif()
    assert exif.get_ifd(0x8825)[1] == "N"
    assert exif.get_ifd(0x8769)
    assert {"exif", "xmp", "comment", "icc_profile", "photoshop"} <= sent.info.keys()
    assert telling_jpeg().count(TELLING.encode()) >= 10


@pytest.mark.parametrize("make", [telling_jpeg, telling_png, telling_webp, telling_avif])
def test_it_stands_upright(make):
    """Orientation 6 lies on its side: to be turned a quarter, so that 800 by 400 becomes 400 by 800."""
    made = make_derivatives(make(), stem=STEM)
    assert (made.width_px, made.height_px) == (400, 800)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_way_of_holding_a_camera(orientation):
    """The corner that is red as the camera saw it is at the top left (the orientations of EXIF 2.32, from memory)."""
    upright = Image.new("RGB", (80, 40), "white")
    upright.paste((255, 0, 0), (0, 0, 30, 15))
    undo = {2: 0, 3: 3, 4: 1, 5: 5, 6: 2, 7: 6, 8: 4}  # FLIP_LEFT_RIGHT, ROTATE_180, FLIP_TOP_BOTTOM, TRANSPOSE, 90, ...
    lying = upright if orientation == 1 else upright.transpose(Image.Transpose(undo[orientation]))
    exif, out = Image.Exif(), io.BytesIO()
    exif[0x0112] = orientation
    lying.save(out, "JPEG", quality=95, exif=exif.tobytes())
    made = make_derivatives(out.getvalue(), stem=STEM)
    shown = opened(made.files[made.wide])
    assert shown.size == (80, 40)
    assert shown.getpixel((5, 5))[1] < 80
    assert min(shown.getpixel(place)[1] for place in ((75, 5), (5, 35), (75, 35))) > 200


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "AVIF"])
def test_a_colour_profile_is_followed_before_it_is_taken_out(kind):
    """The profile says that the first channel is blue: what the file calls red has to be shown blue."""
    sent = picture((60, 40), kind, "RGB", (255, 0, 0), icc_profile=swapping_profile())
    made = make_derivatives(sent, stem=STEM)
    red, _, blue = opened(made.files[made.wide]).getpixel((20, 20))
    assert blue > 240 > 20 > red
