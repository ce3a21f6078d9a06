"""Pictures: the one door to PDFium. A page that paper laid out becomes a PNG, a CSS pixel of it a pixel of the picture."""

from __future__ import annotations

import io
import threading
from contextlib import nullcontext
from dataclasses import dataclass

import pypdfium2

from kitchen.publish.last_few import LastFew
from kitchen.publish.paper import Turn, markup_digest, print_frame

_COLOURS = 128
"""How many colours a picture has: two inks, a few tints and the steps between them; it halves what is sent."""

# PDFium is not safe to use from several threads at once.
_one_at_a_time = threading.Lock()
_kept = LastFew(16)


@dataclass(frozen=True)
class PictureSize:
    """A picture; ``key`` is what an address says, and a class on the root element (``picture--share``, ``picture--frame``)."""

    key: str
    name: str
    width_px: int
    height_px: int
    shape: str = ""


PICTURE_SIZES: dict[str, PictureSize] = {
    size.key: size
    for size in (
        PictureSize("1200x630", "share", 1200, 630),
        PictureSize("1920x1080", "frame", 1920, 1080),
        PictureSize("1200x900", "share", 1200, 900, "broad"),
        PictureSize("1200x1200", "share", 1200, 1200, "square"),
        PictureSize("1000x1500", "share", 1000, 1500, "tall"),
    )
}
"""A picture for sharing, one that fills a frame of a video, and the shapes that search engines and pin boards ask for."""


def picture_png(markup: str, size: PictureSize, style: str, *, turn: Turn = nullcontext, has_photo: bool = False) -> bytes:
    """Return HTML as a picture of exactly this size, on light ground; the last few are kept.

    ``has_photo`` keeps every colour. ``turn`` is entered while one is drawn, and not for one that is kept.
    """
    key = (markup, size, style, markup_digest("", style))
    kept = _kept.get(key)
    if kept is not None:
        return kept
    with turn():
        frame = print_frame(markup, size.width_px, size.height_px, style)
        return _kept.keep(key, png_of(frame, size.width_px, size.height_px, has_photo=has_photo))


def png_of(pdf: bytes, width_px: int, height_px: int, *, has_photo: bool = False) -> bytes:
    """Return the first page of a PDF as a PNG of exactly so many pixels."""
    with _one_at_a_time:
        document = pypdfium2.PdfDocument(pdf)
        try:
            page = document[0]
            image = page.render(scale=width_px / page.get_width()).to_pil().convert("RGB")
        finally:
            document.close()
    if image.size != (width_px, height_px):
        image = image.resize((width_px, height_px))
    held = io.BytesIO()
    (image if has_photo else image.quantize(_COLOURS)).save(held, "PNG", optimize=True)
    return held.getvalue()
