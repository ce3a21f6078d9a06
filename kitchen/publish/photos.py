"""Photos: from whatever a cook sends to two plain JPEG files without a word about where or with what they were taken."""

from __future__ import annotations

import hashlib
import io
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

FORMATS = ("JPEG", "PNG", "WEBP", "GIF")  # JPEG reads the two-picture files of some phones too
MOST_BYTES = 15 * 1024 * 1024
MOST_PIXELS = 24_000_000
WIDE_PX = 1600
SMALL_PX = 640
QUALITY = 82


class PhotoRefused(ValueError):
    """The file cannot become a photo here; the message says why and what to do."""


@dataclass(frozen=True)
class Derivatives:
    """The two files made from a photo; width and height are those of the wide one. ``digest`` is the SHA-256 of what was sent."""

    wide: bytes
    small: bytes
    width_px: int
    height_px: int
    digest: str


def make_derivatives(sent: bytes) -> Derivatives:
    """Return a photo's wide (1600 px) and small (640 px) JPEG, turned upright, without any metadata.

    Of an animation the first frame is taken. Nothing is enlarged. Transparent places become white.

    Raises
    ------
    PhotoRefused
        If it is not a photo, has more than 24 megapixels or more than 15 MB, or breaks off in the middle.
    """
    if len(sent) > MOST_BYTES:
        raise PhotoRefused(
            f"This file has {len(sent) / 2**20:.0f} MB; {MOST_BYTES // 2**20} MB fit. Save it smaller and try again."
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            image = Image.open(io.BytesIO(sent), formats=FORMATS)
    except Image.DecompressionBombError:
        raise PhotoRefused(_too_many("far more than 24")) from None
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError):
        raise PhotoRefused(_what_is_wrong(sent)) from None
    pixels = image.width * image.height
    if pixels > MOST_PIXELS:
        raise PhotoRefused(_too_many(f"{pixels / 1e6:.0f}" if pixels >= 24_500_000 else f"{pixels / 1e6:.1f}"))
    upright = _upright(image)
    wide, small = _fitted(upright, WIDE_PX), _fitted(upright, SMALL_PX)
    return Derivatives(_jpeg(wide), _jpeg(small), wide.width, wide.height, hashlib.sha256(sent).hexdigest())


def too_heavy(size: int) -> str:
    """Return the sentence about a file of so many bytes."""
    return f"This file has {size / 2**20:.0f} MB; {MOST_BYTES // 2**20} MB fit. Save it smaller and try again."


def _too_many(megapixels: str) -> str:
    return f"This photo has {megapixels} megapixels; 24 fit. Save it smaller (4,000 pixels wide is plenty) and try again."


def _what_is_wrong(sent: bytes) -> str:
    start = sent[:2000].lstrip().lower()
    if start.startswith((b"<svg", b"<?xml", b"<!doctype svg")) or b"<svg" in start:
        return "This is a drawing (SVG), not a photo, and drawings can carry programs. Save it as a JPEG or PNG and try again."
    return "This is not a photo that can be read here. JPEG, PNG, WebP and GIF can."


def _upright(image: Image.Image) -> Image.Image:
    """Return the first frame turned the way it was taken, in plain red, green and blue, decoded whole."""
    try:
        image.seek(0)
        with _whole_photos_only():
            image.load()
        turned = ImageOps.exif_transpose(image)
        if turned.mode in ("RGBA", "LA", "PA") or "transparency" in turned.info:
            over = turned.convert("RGBA")
            ground = Image.new("RGBA", over.size, "white")
            return Image.alpha_composite(ground, over).convert("RGB")
        return turned.convert("RGB")
    except (OSError, ValueError, SyntaxError, EOFError, MemoryError):
        raise PhotoRefused("This photo breaks off in the middle. Copy it again from where it came, and try once more.") from None


@contextmanager
def _whole_photos_only() -> Iterator[None]:
    """Let a photo that breaks off fail: the printing library tells Pillow, for the whole process, to be content with half."""
    content_with_half = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        yield
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = content_with_half


def _fitted(image: Image.Image, width_px: int) -> Image.Image:
    """Return the photo at most so wide, and at most twice as high as that."""
    fitted = image.copy()
    fitted.thumbnail((width_px, 2 * width_px), Image.Resampling.LANCZOS)
    return fitted


def _jpeg(image: Image.Image) -> bytes:
    """Return the pixels alone as a JPEG: a fresh picture, so that no EXIF, XMP, comment or colour profile comes along."""
    bare = Image.new("RGB", image.size)
    bare.paste(image)
    out = io.BytesIO()
    bare.save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return out.getvalue()
