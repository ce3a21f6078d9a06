"""Photos: from whatever a cook sends to small files without a word about where or with what they were taken.

A photo comes in, is taken down to a **deep** file of at most 1350 px on its short side, and from that every other file is cut:
the whole picture in two widths, and the crops around the point that stays in view. What was sent is not kept; a changed point
cuts the crops anew from the deep file.
"""

from __future__ import annotations

import io
import threading
from dataclasses import dataclass

from PIL import Image

from kitchen.domain.pictures import SHAPES, Box, crop_box, crop_name, wide_name
from kitchen.publish.opening import PhotoRefused, open_photo, plain_pixels, too_heavy

__all__ = ["Derivatives", "PhotoRefused", "make_derivatives", "one_file", "recut", "too_heavy"]

DEEP_SHORT_PX, DEEP_LONG_PX = 1350, 4800
WIDE_PX = 1600
SMALL_PX = 640
JPEG_QUALITY = 82
WEBP_QUALITY = 78
DEEP_QUALITY = 92
PLAIN_QUALITY = 60
NOTES = frozenset({"exif", "xmp", "icc_profile", "comment", "photoshop"})
_one_at_a_time = threading.Lock()

Files = dict[str, bytes]
Sizes = dict[str, tuple[int, int]]


@dataclass(frozen=True)
class Derivatives:
    """The files made from a photo, by name. ``sizes`` has all but ``wide`` and ``small``; width and height are of ``wide``."""

    files: Files
    sizes: Sizes
    wide: str
    small: str
    width_px: int
    height_px: int


def make_derivatives(sent: bytes, *, stem: str, focal_x: float = 0.5, focal_y: float = 0.5) -> Derivatives:
    """Return a photo's files: upright, in sRGB, without any metadata; nothing is enlarged.

    Of an animation the first frame is taken. Transparent places become white. One photo at a time is unpacked, since that
    takes the memory of a small computer.

    Parameters
    ----------
    sent : bytes
        The file as it came.
    stem : str
        What the names of its files begin with.

    Raises
    ------
    PhotoRefused
        If it is not a photo, has too many pixels or bytes, or breaks off in the middle.
    """
    with _one_at_a_time:
        deep = _deep(open_photo(sent))
        return _all_files(deep, stem, focal_x, focal_y)


def one_file(sent: bytes) -> bytes:
    """Return a photo as one WebP file, upright and without any metadata: what only cooks look at needs no crops.

    Raises
    ------
    PhotoRefused
        As for ``make_derivatives``.
    """
    with _one_at_a_time:
        return _webp(_deep(open_photo(sent)), PLAIN_QUALITY)


def recut(deep: bytes, *, stem: str, focal_x: float, focal_y: float) -> tuple[Files, Sizes]:
    """Return the crops around another point, cut from a photo's deep file (or its wide one, for a photo that has no other)."""
    with _one_at_a_time:
        image = Image.open(io.BytesIO(deep), formats=("JPEG", "WEBP")).convert("RGB")
        return _crops(image, stem, focal_x, focal_y)


def _deep(image: Image.Image) -> Image.Image:
    plain = plain_pixels(image, _deep_size(image.size))
    return _fitted(plain, *_deep_size(plain.size))


def _all_files(deep: Image.Image, stem: str, focal_x: float, focal_y: float) -> Derivatives:
    wide = _fitted(deep, WIDE_PX, 2 * WIDE_PX)
    small = _fitted(wide, SMALL_PX, 2 * SMALL_PX)
    files, sizes = _crops(deep, stem, focal_x, focal_y)
    for name, image, quality in (("deep", deep, DEEP_QUALITY), ("wide", wide, WEBP_QUALITY), ("small", small, WEBP_QUALITY)):
        files[f"{stem}-{name}.webp"], sizes[f"{stem}-{name}.webp"] = _webp(image, quality), image.size
    whole, half = wide_name(stem), f"{stem}-small.jpg"
    files |= {whole: _jpeg(wide), half: _jpeg(small)}
    return Derivatives(files, sizes, whole, half, wide.width, wide.height)


def _crops(image: Image.Image, stem: str, focal_x: float, focal_y: float) -> tuple[Files, Sizes]:
    files: Files = {}
    sizes: Sizes = {}
    for shape in SHAPES:
        box = crop_box(image.width, image.height, shape, focal_x, focal_y)
        for width_px in sorted({min(width_px, box.width_px) for width_px in shape.widths_px}):
            cut = _cut(image, box, width_px)
            for kind in shape.kinds:
                name = crop_name(stem, shape, width_px, focal=(focal_x, focal_y), kind=kind)
                files[name] = _jpeg(cut) if kind == "jpg" else _webp(cut, WEBP_QUALITY)
                sizes[name] = cut.size
    return files, sizes


def _cut(image: Image.Image, box: Box, width_px: int) -> Image.Image:
    height_px = max(1, round(width_px * box.height_px / box.width_px))
    corners = (box.left, box.top, box.right, box.bottom)
    return image.resize((width_px, height_px), Image.Resampling.LANCZOS, box=corners)


def _deep_size(size: tuple[int, int]) -> tuple[int, int]:
    """Return the largest width and height that the deep file may have."""
    share = min(1.0, DEEP_SHORT_PX / min(size), DEEP_LONG_PX / max(size))
    return max(1, round(size[0] * share)), max(1, round(size[1] * share))


def _fitted(image: Image.Image, width_px: int, height_px: int) -> Image.Image:
    """Return the picture at most so wide and so high."""
    share = min(1.0, width_px / image.width, height_px / image.height)
    size = (max(1, round(image.width * share)), max(1, round(image.height * share)))
    return image if size == image.size else image.resize(size, Image.Resampling.LANCZOS)


def _bare(image: Image.Image) -> Image.Image:
    """Return the pixels alone: a fresh picture, so that no EXIF, XMP, comment or colour profile comes along."""
    bare = Image.new("RGB", image.size)
    bare.paste(image)
    return bare


def _jpeg(image: Image.Image) -> bytes:
    out = io.BytesIO()
    _bare(image).save(out, "JPEG", quality=JPEG_QUALITY, optimize=True, progressive=True)
    return out.getvalue()


def _webp(image: Image.Image, quality: int) -> bytes:
    out = io.BytesIO()
    _bare(image).save(out, "WEBP", quality=quality, method=3)
    return out.getvalue()


def is_plain_photo(content: bytes, name: str) -> bool:
    """Whether a file is a photo as they are made here: whole, of the kind that its name says, of a sane size, without any notes.

    Its head and its end are looked at; its pixels are left to the browser, since a library has thousands of files.
    """
    webp = name.endswith(".webp")
    whole = int.from_bytes(content[4:8], "little") == len(content) - 8 if webp else content.endswith(b"\xff\xd9")
    try:
        image = Image.open(io.BytesIO(content), formats=("WEBP" if webp else "JPEG",))
    except (OSError, ValueError, SyntaxError, EOFError, Image.DecompressionBombError):
        return False
    return whole and max(image.size) <= DEEP_LONG_PX and not NOTES & image.info.keys()
