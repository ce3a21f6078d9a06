"""What a reader finds on printed cards: letters with their boxes and sizes by PDFium, codes by ZXing, tags by pypdf."""

from __future__ import annotations

import ctypes
import io
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import zxingcpp
from pypdf import PdfReader

_NEIGHBOURS = 3  # letters of a word may lean over each other, and one box stands for those that are set as one
TOUCH_PT = 0.45  # how far the ink of two letters may lie in each other: a hanging accent, a tight pair
PT_A_MM = 72 / 25.4


@dataclass(frozen=True)
class Letter:
    """A printed letter: its box from the lower left of the page, and how large its type is. [pt]"""

    letter: str
    left: float
    bottom: float
    right: float
    top: float
    size: float
    hidden: bool


@dataclass(frozen=True)
class Sheet:
    """A printed page."""

    width: float
    height: float
    letters: tuple[Letter, ...]

    @property
    def words(self) -> str:
        """Return its text as it was drawn, without what is only heard."""
        return " ".join("".join(one.letter for one in self.letters if not one.hidden).split())


def sheets_of(pdf: bytes) -> list[Sheet]:
    """Return the pages of a file."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [Sheet(*page.get_size(), tuple(_letters(page))) for page in document]
    finally:
        document.close()


def _letters(page: pypdfium2.PdfPage) -> Iterator[Letter]:
    text = page.get_textpage()
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    matrix = pdfium.FS_MATRIX()
    for index in range(text.count_chars()):
        letter = chr(pdfium.FPDFText_GetUnicode(text, index))
        pdfium.FPDFText_GetMatrix(text, index, matrix)
        pdfium.FPDFText_GetFillColor(text, index, red, green, blue, alpha)
        hidden = (red.value, green.value, blue.value) == (255, 255, 255)
        size = pdfium.FPDFText_GetFontSize(text, index) * abs(matrix.d)
        yield Letter(letter, *text.get_charbox(index), size, hidden)


def smallest_pt(sheet: Sheet) -> float:
    """Return the size of the smallest type on a page."""
    return min(one.size for one in sheet.letters if one.letter.strip())


def collisions(sheet: Sheet) -> list[str]:
    """Return the pairs of letters that are printed over each other."""
    shown = [one for one in sheet.letters if one.letter.strip() and not one.hidden]
    box = np.array([(one.left, one.bottom, one.right, one.top) for one in shown])
    wide = np.minimum(box[:, None, 2], box[None, :, 2]) - np.maximum(box[:, None, 0], box[None, :, 0])
    high = np.minimum(box[:, None, 3], box[None, :, 3]) - np.maximum(box[:, None, 1], box[None, :, 1])
    first, second = np.nonzero(np.triu((wide > TOUCH_PT) & (high > TOUCH_PT), k=1))
    return [
        f"{shown[a].letter}{shown[b].letter} at {shown[a].left:.0f}, {shown[a].top:.0f}"
        for a, b in zip(first, second, strict=True)
        if b - a > _NEIGHBOURS
    ]


def outside(sheet: Sheet, margin_mm: float) -> list[str]:
    """Return the letters that reach into the margin."""
    edge = margin_mm * PT_A_MM
    return [
        one.letter
        for one in sheet.letters
        if one.letter.strip() and not one.hidden
        if one.left < edge or one.bottom < edge or one.right > sheet.width - edge or one.top > sheet.height - edge
    ]


def codes(pdf: bytes, dots_per_inch: float = 200) -> list[tuple[int, str]]:
    """Return each QR code with its page, as a camera would read the print."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        pictures = [page.render(scale=dots_per_inch / 72).to_pil() for page in document]
    finally:
        document.close()
    return [(number, code.text) for number, picture in enumerate(pictures) for code in zxingcpp.read_barcodes(picture)]


@dataclass(frozen=True)
class Tag:
    """One structure element of a tagged file, in reading order."""

    kind: str
    depth: int
    alt: str
    scope: str
    parent: str


def tags_of(pdf: bytes) -> list[Tag]:
    """Return the structure elements in reading order."""
    root = PdfReader(io.BytesIO(pdf)).trailer["/Root"]["/StructTreeRoot"]
    return list(_tags(root, 0, ""))


def _tags(node: Any, depth: int, parent: str) -> Iterator[Tag]:
    node = node.get_object()
    if isinstance(node, list):
        for kid in node:
            yield from _tags(kid, depth, parent)
    elif isinstance(node, dict):
        kind = str(node.get("/S", ""))[1:]
        if kind:
            layout = node.get("/A", {})
            scope = str(layout.get_object().get("/Scope", "")) if layout else ""
            yield Tag(kind, depth, str(node.get("/Alt", "")), scope, parent)
        if "/K" in node:
            yield from _tags(node["/K"], depth + 1, kind or parent)
