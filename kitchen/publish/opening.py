"""Opening a sent photo without harm: what is refused and in which words, and how its pixels are unpacked in little memory."""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator
from contextlib import contextmanager

from PIL import Image, ImageFile, PngImagePlugin, features

from kitchen.publish.colours import in_srgb, is_plain

FORMATS = ("JPEG", "PNG", "WEBP", "GIF", *(["AVIF"] if features.check("avif") else []))  # JPEG reads two-picture files too
MOST_BYTES = 25 * 1024 * 1024
# What fits into 150 MB of a small computer: a JPEG is unpacked at a fraction of its size, the others whole and some with copies.
MOST_PIXELS = 50_000_000
MOST_PIXELS_WHOLE = 25_000_000
MOST_PIXELS_TWICE = 12_500_000
MOST_PIXELS_THRICE = 8_500_000
_LIMITS = {"PNG": MOST_PIXELS_WHOLE, "WEBP": MOST_PIXELS_THRICE, "GIF": MOST_PIXELS_TWICE, "AVIF": MOST_PIXELS_TWICE}
_WORDS = {"MPO": "JPEG", "WEBP": "WebP"}
_SPARE_JPEG, _SPARE = 1.1, 1.3  # by how much a picture is at least larger than wanted before it is resized with care
_BAND_ROWS = 64
_ORIENTATION = 0x0112
_TURNS = {
    2: (Image.Transpose.FLIP_LEFT_RIGHT,),
    3: (Image.Transpose.ROTATE_180,),
    4: (Image.Transpose.FLIP_TOP_BOTTOM,),
    5: (Image.Transpose.TRANSPOSE,),
    6: (Image.Transpose.ROTATE_270,),
    7: (Image.Transpose.TRANSVERSE,),
    8: (Image.Transpose.ROTATE_90,),
}
_BROKEN = (OSError, ValueError, SyntaxError, EOFError, MemoryError, ArithmeticError, LookupError, TypeError)
PngImagePlugin.MAX_TEXT_MEMORY = 4 * 1024 * 1024  # words in a PNG are thrown away: nobody needs to unpack 64 MB of them


class PhotoRefused(ValueError):
    """The file cannot become a photo here; the message says why and what to do."""


def open_photo(sent: bytes) -> Image.Image:
    """Return the photo, opened and not yet unpacked.

    Raises
    ------
    PhotoRefused
        If it is no photo, or has too many bytes or pixels.
    """
    if len(sent) > MOST_BYTES:
        raise PhotoRefused(too_heavy(len(sent)))
    try:
        with warnings.catch_warnings(), _whole_photos_only():
            warnings.simplefilter("ignore")
            image = Image.open(io.BytesIO(sent), formats=FORMATS)
    except Image.DecompressionBombError:
        raise PhotoRefused("This photo has far more pixels than fit. " + _SMALLER) from None
    except _BROKEN:
        raise PhotoRefused(_what_is_wrong(sent)) from None
    _refuse_too_many(image)
    return image


def too_heavy(size: int) -> str:
    """Return the sentence about a file of so many bytes."""
    return f"This file has {size / 2**20:.0f} MB; {MOST_BYTES // 2**20} MB fit. Save it smaller and try again."


def plain_pixels(image: Image.Image, wanted: tuple[int, int]) -> Image.Image:
    """Return the first frame upright, in plain red, green and blue, at least as large as wanted and not much larger.

    Raises
    ------
    PhotoRefused
        If the photo breaks off in the middle.
    """
    try:
        with _whole_photos_only(), warnings.catch_warnings():
            warnings.simplefilter("ignore")
            image.seek(0)
            image.draft(None, (round(wanted[0] * _SPARE_JPEG), round(wanted[1] * _SPARE_JPEG)))
            image.load()
        turns = _TURNS.get(_orientation(image), ())
        plain = _in_bands(image, wanted)
    except _BROKEN:
        raise PhotoRefused("This photo breaks off in the middle. Copy it again from where it came, and try once more.") from None
    for turn in turns:
        plain = plain.transpose(turn)
    return plain


_SMALLER = "Save it smaller (4,000 pixels wide is plenty) and try again."


def _refuse_too_many(image: Image.Image) -> None:
    pixels, kind = image.width * image.height, image.format or ""
    limit = MOST_PIXELS_WHOLE if "progressive" in image.info else _LIMITS.get(kind, MOST_PIXELS)
    if pixels > limit:
        has = f"{pixels / 1e6:.0f}" if pixels >= limit + 500_000 else f"{pixels / 1e6:.1f}"
        fits = f"{limit / 1e6:g} fit in a {_WORDS.get(kind, kind)} file"
        raise PhotoRefused(f"This photo has {has} megapixels; {fits}. {_SMALLER}")


def _what_is_wrong(sent: bytes) -> str:
    start = sent[:2000].lstrip().lower()
    if start.startswith((b"<svg", b"<?xml", b"<!doctype svg")) or b"<svg" in start:
        return "This is a drawing (SVG), not a photo, and drawings can carry programs. Save it as a JPEG or PNG and try again."
    if sent[4:8] == b"ftyp" and any(brand in sent[8:64] for brand in (b"heic", b"heix", b"hevc", b"heim", b"heis")):
        return "This is an HEIC photo, which cannot be read here. Export or send it as a JPEG and try again."
    if sent[4:8] == b"ftyp" and b"avif" in sent[8:64]:
        return "This AVIF photo cannot be read here. Export it as a JPEG and try again."
    if sent.startswith((b"II*\0", b"MM\0*", b"BM")):
        return "This is a TIFF, raw or bitmap file, which cannot be read here. Export it as a JPEG and try again."
    return "This is not a photo that can be read here. JPEG, PNG, WebP, AVIF and GIF can."


def _orientation(image: Image.Image) -> int:
    """Return how the camera was held (1 upright); broken notes of the camera's count as none."""
    try:
        return int(image.getexif().get(_ORIENTATION, 1))
    except Exception:  # Pillow's readers of notes fail in many ways, none of which concerns the pixels
        return 1


def _in_bands(image: Image.Image, wanted: tuple[int, int]) -> Image.Image:
    """Return the picture in sRGB on white, shrunk by a whole number where it is far too large, a few rows at a time.

    Rows are converted one band after the other, so that a large transparent or four-colour picture needs no second copy.
    """
    if is_plain(image) and image.width < 2 * wanted[0]:
        return image
    times = max(1, int(min(image.width / (wanted[0] * _SPARE), image.height / (wanted[1] * _SPARE))))
    shrunk = Image.new("RGB", (-(-image.width // times), -(-image.height // times)))
    convert = in_srgb(image)
    for top in range(0, image.height, _BAND_ROWS * times):
        band = image.crop((0, top, image.width, min(top + _BAND_ROWS * times, image.height)))
        plain = convert(band)
        shrunk.paste(plain.reduce(times) if times > 1 else plain, (0, top // times))
    return shrunk


@contextmanager
def _whole_photos_only() -> Iterator[None]:
    """Let a photo that breaks off fail: the printing library tells Pillow, for the whole process, to be content with half."""
    content_with_half = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        yield
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = content_with_half
