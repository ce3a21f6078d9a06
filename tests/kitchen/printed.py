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
from PIL.Image import Image
from pypdf import PageObject, PdfReader

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
    colour: tuple[int, int, int]

    @property
    def hidden(self) -> bool:
        """Whether it is only heard."""
        return self.colour == (255, 255, 255)


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
        size = pdfium.FPDFText_GetFontSize(text, index) * abs(matrix.d)
        yield Letter(letter, *text.get_charbox(index), size, (red.value, green.value, blue.value))


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
    pictures = enumerate(pictures_of(pdf, dots_per_inch))
    return [(number, code.text) for number, picture in pictures for code in zxingcpp.read_barcodes(picture)]


def pictures_of(pdf: bytes, dots_per_inch: float = 100) -> list[Image]:
    """Return the pages as they look."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [page.render(scale=dots_per_inch / 72).to_pil().convert("RGB") for page in document]
    finally:
        document.close()


def hues_of(picture: Image) -> set[tuple[int, ...]]:
    """Return the colours of a picture that are no grey."""
    pixels = np.asarray(picture).reshape(-1, 3).astype(int)
    return set(map(tuple, pixels[np.ptp(pixels, axis=1) > 12].tolist()))


def red_contrast(colour: tuple[int, int, int]) -> float:
    """Return the contrast of an ink on white paper by red light alone, which leaves the red channel (WCAG 2.2, 1.4.3)."""
    share = colour[0] / 255
    return 1.05 / ((share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4) + 0.05)


def lost_by_red_light(sheet: Sheet) -> list[Letter]:
    """Return the letters with less than 4.5:1 by red light, or 3:1 where they are large (WCAG 2.2, 1.4.3)."""
    shown = [one for one in sheet.letters if one.letter.strip() and not one.hidden]
    return [one for one in shown if red_contrast(one.colour) < (3.0 if one.size >= 14 else 4.5)]


def read_aloud(pdf: bytes) -> str:
    """Return the text in the order of its tags."""
    reader = PdfReader(io.BytesIO(pdf))
    marked = {page.indirect_reference.idnum: _marked(page) for page in reader.pages}
    return " ".join(_heard(reader.trailer["/Root"]["/StructTreeRoot"], marked, 0))


def _marked(page: PageObject) -> dict[int, str]:
    """Return the text of each marked piece of a page's content by its number."""
    said, stack = dict[int, list[str]](), [-1]

    def before(operator: bytes, operands: list[Any], *_: Any) -> None:
        if operator in (b"BDC", b"BMC"):
            held = operands[1] if len(operands) > 1 else {}
            stack.append(int(held["/MCID"]) if isinstance(held, dict) and "/MCID" in held else -1)
        elif operator == b"EMC":
            stack.pop()

    def text(words: str, *_: Any) -> None:
        said.setdefault(stack[-1], []).append(words)

    page.extract_text(visitor_operand_before=before, visitor_text=text)
    return {number: "".join(words) for number, words in said.items()}


def _heard(node: Any, marked: dict[int, dict[int, str]], page: int) -> Iterator[str]:
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, int):
        yield marked.get(page, {}).get(node, "")
    elif isinstance(node, list):
        for kid in node:
            yield from _heard(kid, marked, page)
    elif isinstance(node, dict) and "/K" in node:
        here = node.raw_get("/Pg").idnum if "/Pg" in node else page
        yield from _heard(node["/K"], marked, here)


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
