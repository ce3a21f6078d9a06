"""Paper: the one door to WeasyPrint.

The template ``kitchen/paper/card.html`` is given ``page`` (kitchen.page.Page), ``frame`` (kitchen.page.PageFrame), ``size``
(CardSize), ``qr`` (kitchen.publish.qr.QrCode, or None where there is no address yet) and ``address`` (the one in words).
``static/css/paper.css`` styles it; the sheet's size and the type families are put in here. A photo is named
``photo:<its file below the photo folder>``.
"""

from __future__ import annotations

import hashlib
import mimetypes
import re
import threading
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from functools import lru_cache
from importlib.util import find_spec
from itertools import pairwise
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.staticfiles import finders
from django.template.loader import render_to_string
from weasyprint import CSS, HTML
from weasyprint.document import Document
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher, URLFetcherResponse

from kitchen.page import Page, PageFrame
from kitchen.publish.last_few import LastFew
from kitchen.publish.qr import qr_code

_FACES = [
    ("Enamel Serif", 600, "normal", "SourceSerifPro-Semibold.ttf"),
    ("Enamel Sans", 400, "normal", "SourceSansPro-Regular.ttf"),
    ("Enamel Sans", 400, "italic", "SourceSansPro-It.ttf"),
    ("Enamel Sans", 600, "normal", "SourceSansPro-Semibold.ttf"),
]
_FONT_PACKAGES = {"SourceSerifPro": "font_source_serif_pro", "SourceSansPro": "font_source_sans_pro"}
_VARIANT = "pdf/ua-1"
_FRONT_AND_BACK = 2
_FULL_CARD = 1640  # letters: cards with more of them mostly needed the tight setting, those with fewer mostly did not
_PHOTO_TYPES = {"image/jpeg", "image/png", "image/webp"}

_SPARE = re.compile(r'<p class="[^"]*\bspare">.*?</p>', re.DOTALL)  # what the tight setting leaves out
_TAGS = re.compile(r"<svg.*?</svg>|<[^>]+>", re.DOTALL)
_SPACE = re.compile(r"\s+")

# Emoji, their joiners and their colours: the type families hold none, and an empty box helps nobody.
_PICTURES_IN_WORDS = re.compile("[\U0001f000-\U0001faff\u2600-\u27bf\u2b50\u2b55][\ufe0e\ufe0f\u200d\u20e3]*")

# Fontconfig and Pango are not safe to use from several threads at once.
_one_at_a_time = threading.Lock()
_kept = LastFew(32)

Turn = Callable[[], AbstractContextManager[None]]


@dataclass(frozen=True)
class CardSize:
    """A sheet that a card is printed on; ``key`` is what an address says, and a class on the root element (``paper--a6``)."""

    key: str
    label: str
    width_mm: float
    height_mm: float


CARD_SIZES: dict[str, CardSize] = {
    size.key: size for size in (CardSize("a6", "A6", 105, 148), CardSize("4x6", "4 × 6 in", 101.6, 152.4))
}


FORM_SIZES: dict[str, CardSize] = {
    size.key: size
    for size in (CardSize("a5", "A5", 148, 210), CardSize("letter", "Letter", 215.9, 279.4), CardSize("a4", "A4", 210, 297))
}
"""The sheets that a form to be filled in by hand is printed on."""

_FORM_MARGIN_MM = (9.0, 11.0)  # around a form, and below it where its page number stands
_FEWEST_EMPTY = 2  # rows: how far apart they stand says how many more fit
_PX_PER_MM = 96 / 25.4


class RefusedAddress(ValueError):
    """A document asked for something that paper never fetches."""


class PaperFetcher(URLFetcher):  # type: ignore[misc]  # its package brings no types
    """Serves the packaged fonts (``font:NAME.ttf``) and the site's own photos (``photo:NAME``), and nothing else at all."""

    def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
        """Return what was asked for; raises RefusedAddress for every other address."""
        scheme, _, name = url.partition(":")
        if scheme == "font":
            return URLFetcherResponse(url, _font_file(name).read_bytes(), {"Content-Type": "font/ttf"})
        if scheme == "photo":
            return _photo(url, name)
        raise RefusedAddress(f"paper does not fetch {url!r}")


def card_pdf(page: Page, size: CardSize, frame: PageFrame) -> bytes:
    """Return the card as a PDF that follows PDF/UA-1 (ISO 14289-1)."""
    return print_markup(card_markup(page, size, frame), size)


def card_markup(page: Page, size: CardSize, frame: PageFrame) -> str:
    """Return the card's HTML, before it is laid out; its QR code leads to the page as it was asked for."""
    address = _address(page, frame)
    qr = qr_code(frame.asked_address or address) if address else None
    context = {"page": page, "frame": frame, "size": size, "qr": qr, "address": address}
    return _PICTURES_IN_WORDS.sub("", render_to_string("kitchen/paper/card.html", context))


def markup_digest(markup: str, style: str = "css/paper.css") -> str:
    """Return what tells two cards apart without laying them out: their HTML and the style sheet it is printed with."""
    return hashlib.sha256(markup.encode() + _style_path(style).read_bytes()).hexdigest()


def print_markup(markup: str, size: CardSize, *, turn: Turn = nullcontext) -> bytes:
    """Return the HTML of a card laid out on its sheet; the last few cards are kept, for readers who ask for the same one.

    ``turn`` is entered while one is printed, and not for one that is kept.
    """
    key = (markup, size, _style_path().stat().st_mtime_ns)
    return _kept.get(key) or _print_once(key, turn)


def _print_once(key: tuple[str, CardSize, int], turn: Turn) -> bytes:
    with turn(), _one_at_a_time:
        return _kept.get(key) or _kept.keep(key, _printed(*key))


def _printed(markup: str, size: CardSize, style_changed_ns: int) -> bytes:
    """Print a card; one that needs more than a front and a back is set tighter, and a wordy one is set so at once."""
    press = _press(size, style_changed_ns)
    card = HTML(string=markup, base_url="paper:", url_fetcher=PaperFetcher())
    wordy = len(_words_of(markup)) > _FULL_CARD
    laid_out = press.lay_out(card, tight=wordy)
    if len(laid_out.pages) > _FRONT_AND_BACK and not wordy:
        laid_out = min(laid_out, press.lay_out(card, tight=True), key=lambda document: len(document.pages))
    return bytes(laid_out.write_pdf(pdf_variant=_VARIANT))


def print_form(markup_of: Callable[[int], str], size: CardSize, style: str) -> bytes:
    """Return a form to be filled in by hand as a PDF, its last page filled up with empty rows.

    ``markup_of`` returns the HTML with so many empty rows more. Each row has an id ``row-<n>``; ``rows-end`` stands behind the
    last one, and ``foot`` may stand below it.
    """
    with _one_at_a_time:
        press = _form_press(size, style)
        room = _rows_to_fill(press.lay_out(_form(markup_of(_FEWEST_EMPTY))))
        return bytes(press.lay_out(_form(markup_of(_FEWEST_EMPTY + room))).write_pdf(pdf_variant=_VARIANT))


def print_frame(markup: str, width_px: int, height_px: int, style: str) -> bytes:
    """Return HTML as a PDF of one page, so many CSS pixels wide and high, to be made a picture of; what runs over is cut off."""
    with _one_at_a_time:
        fonts, faces = _fonts()
        page = CSS(string=f"@page{{size:{width_px}px {height_px}px;margin:0}}", font_config=fonts)
        press = _Press(fonts, (faces, page, _style(style, fonts)), page)
        laid_out = press.lay_out(_form(markup))
        return bytes(laid_out.copy(laid_out.pages[:1]).write_pdf(pdf_variant=_VARIANT))


def _form_press(size: CardSize, style: str) -> _Press:
    fonts, faces = _fonts()
    side, foot = _FORM_MARGIN_MM
    sheet = CSS(string=f"@page{{size:{size.width_mm}mm {size.height_mm}mm;margin:{side}mm {side}mm {foot}mm}}", font_config=fonts)
    return _Press(fonts, (faces, sheet, _style(style, fonts)), sheet)


def _form(markup: str) -> HTML:
    return HTML(string=_PICTURES_IN_WORDS.sub("", markup), base_url="paper:", url_fetcher=PaperFetcher())


def _rows_to_fill(laid_out: Document) -> int:
    """Return how many empty rows fit below the last one, by where a form's anchors came to lie. [px from the top of the page]"""
    anchors = [page.anchors for page in laid_out.pages]
    tops = [[box[1] for name, box in page.items() if name.startswith("row-")] for page in anchors]
    row_px = min(after - before for page in tops for before, after in pairwise(sorted(page)))
    floor_px = laid_out.pages[-1].height - _FORM_MARGIN_MM[1] * _PX_PER_MM
    bottom_px = anchors[-1]["foot"][1] if "foot" in anchors[-1] else floor_px
    return max(0, int((bottom_px - anchors[-1]["rows-end"][1]) // row_px))


def _words_of(markup: str) -> str:
    """Return what is read on any card: its HTML without tags, drawings, doubled space and what can be spared."""
    return _SPACE.sub(" ", _TAGS.sub("", _SPARE.sub("", markup)))


def _address(page: Page, frame: PageFrame) -> str:
    """Return the address that is printed: short enough to be typed, so without a query."""
    return f"{frame.address}for-{page.request.servings}/" if frame.address and page.scaled else frame.address


@lru_cache(maxsize=1)
def _fonts() -> tuple[FontConfiguration, CSS]:
    """Return the loaded type families: the slow part, done once in a process."""
    fonts = FontConfiguration()
    faces = "".join(
        f'@font-face{{font-family:"{family}";font-weight:{weight};font-style:{style};src:url("font:{name}")}}'
        for family, weight, style, name in _FACES
    )
    return fonts, CSS(string=faces, font_config=fonts, url_fetcher=PaperFetcher())


@dataclass(frozen=True)
class _Press:
    """What prints one size of card."""

    fonts: FontConfiguration
    sheets: tuple[CSS, ...]
    tight: CSS

    def lay_out(self, card: HTML, *, tight: bool = False) -> Document:
        sheets = [*self.sheets, self.tight] if tight else list(self.sheets)
        return card.render(stylesheets=sheets, font_config=self.fonts, pdf_variant=_VARIANT)


@lru_cache(maxsize=8)
def _press(size: CardSize, _style_changed_ns: int) -> _Press:
    """Return what prints this size; the second argument makes a changed style sheet be read again."""
    fonts, faces = _fonts()
    sheet = CSS(string=f"@page{{size:{size.width_mm}mm {size.height_mm}mm}}", font_config=fonts)
    return _Press(fonts, (faces, sheet, _style("css/paper.css", fonts)), _style("css/paper-tight.css", fonts))


def _style(name: str, fonts: FontConfiguration) -> CSS:
    return CSS(string=_style_path(name).read_text("utf-8"), font_config=fonts, url_fetcher=PaperFetcher(), base_url="paper:")


def _style_path(name: str = "css/paper.css") -> Path:
    found = finders.find(name)
    if found is None:
        raise FileNotFoundError(f"{name} is missing from the static files")
    return Path(found)


def missing_faces() -> list[str]:
    """Return the files of the type families that are not there; without them cards are set in whatever the system has."""
    missing = []
    for *_, file in _FACES:
        try:
            there = _font_file(file).exists()
        except RefusedAddress:
            there = False
        missing += [] if there else [file]
    return missing


def _font_file(name: str) -> Path:
    package = _FONT_PACKAGES.get(name.partition("-")[0])
    spec = find_spec(package) if package and name in {face[3] for face in _FACES} else None
    if spec is None or spec.origin is None:
        raise RefusedAddress(f"paper has no font {name!r}")
    return Path(spec.origin).parent / "files" / name


def _photo(url: str, name: str) -> URLFetcherResponse:
    folder = Path(settings.MEDIA_ROOT).resolve()
    path = (folder / name).resolve()
    kind = mimetypes.guess_type(path.name)[0]
    if folder not in path.parents or kind not in _PHOTO_TYPES:
        raise RefusedAddress(f"paper does not fetch {url!r}")
    return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": kind})
