"""Paper: the one door to WeasyPrint.

The template ``kitchen/paper/cards.html`` is given the leaves of a file with what stands on each (``kitchen.publish.leaves``).
``static/css/paper.css`` styles it; the type families, the sizes of sheets, type and columns are put in here. A photo is named
``photo:<its file below the photo folder>``.
"""

from __future__ import annotations

import gc
import hashlib
import mimetypes
import re
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pydyf
from django.conf import settings
from django.contrib.staticfiles import finders
from weasyprint import CSS, HTML
from weasyprint.document import Document
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher, URLFetcherResponse

from kitchen.publish.faces import CardSize
from kitchen.publish.last_few import LastFew
from kitchen.publish.leaves import CardSet, in_ink, measures_style, set_style
from kitchen.publish.typefaces import FACES, MissingFace, font_file

_VARIANT = "pdf/ua-1"
_PHOTO_TYPES = {"image/jpeg", "image/png", "image/webp"}

# Emoji, their joiners and their colours: the type families hold none, and an empty box helps nobody.
_PICTURES_IN_WORDS = re.compile("[\U0001f000-\U0001faff\u2600-\u27bf\u2b50\u2b55][\ufe0e\ufe0f\u200d\u20e3]*")

# Fontconfig and Pango are not safe to use from several threads at once.
_one_at_a_time = threading.Lock()
_kept = LastFew(32)

Turn = Callable[[], AbstractContextManager[None]]
Told = Callable[[int, int], None]

FORM_SIZES: dict[str, CardSize] = {
    size.key: size
    for size in (CardSize("a5", "A5", 148, 210), CardSize("letter", "Letter", 215.9, 279.4), CardSize("a4", "A4", 210, 297))
}
"""The sheets that a form to be filled in by hand is printed on."""

_FORM_MARGIN_MM = (9.0, 11.0)  # around a form, and below it where its page number stands
_FEWEST_EMPTY = 2  # rows: how far apart they stand says how many more fit
_PX_PER_MM = 96 / 25.4
_MOST_TRIES = 8
_A_LITTLE = 1.004  # paper's own rounding, beyond what was measured too low


class RefusedAddress(ValueError):
    """A document asked for something that paper never fetches."""


class PaperFetcher(URLFetcher):  # type: ignore[misc]  # its package brings no types
    """Serves the packaged fonts (``font:NAME.ttf``) and the site's own photos (``photo:NAME``), and nothing else at all."""

    def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
        """Return what was asked for; raises RefusedAddress for every other address."""
        scheme, _, name = url.partition(":")
        if scheme == "font":
            return URLFetcherResponse(url, _font_bytes(name), {"Content-Type": "font/ttf"})
        if scheme == "photo":
            return _photo(url, name)
        raise RefusedAddress(f"paper does not fetch {url!r}")


def markup_digest(markup: str, style: str = "css/paper.css") -> str:
    """Return what tells two documents apart without laying them out: their HTML and the style sheet they are printed with."""
    return hashlib.sha256(markup.encode() + _style_path(style).read_bytes()).hexdigest()


def print_cards(cards: CardSet, *, turn: Turn = nullcontext, told: Told = lambda _done, _of: None) -> bytes:
    """Return cards as a PDF that follows PDF/UA-1 (ISO 14289-1); the last few are kept, for readers who ask for the same ones.

    ``turn`` is entered while they are printed, and not for some that are kept; ``told`` hears how many parts of how many are
    done.
    """
    key = (cards.markup(), _style_path().stat().st_mtime_ns)
    return _kept.get(key) or _print_once(key, cards, turn, told)


def _print_once(key: tuple[str, int], cards: CardSet, turn: Turn, told: Told) -> bytes:
    with turn():
        made = _kept.get(key)
        if made is None:
            document = lay_out_cards(cards, key[1], told)
            with _one_at_a_time, _uncollected():
                made = _kept.keep(key, _written(document))
    return made


def lay_out_cards(cards: CardSet, style_changed_ns: int, told: Told = lambda _done, _of: None) -> Document:
    """Return cards laid out. What came out higher than it was measured is planned anew with what it took.

    Other cards have their turn between the parts of a deck; only parts that changed are laid out again.
    """
    taller: dict[int, float] = {}
    done: dict[str, Document] = {}
    for _ in range(_MOST_TRIES):
        parts = cards.parts(taller)
        for number, part in enumerate(parts, start=1):
            if part not in done:
                with _one_at_a_time, _uncollected():
                    done[part] = _press(cards, style_changed_ns).lay_out(_plain(part))
            told(number, len(parts))
        documents = [done[part] for part in parts]
        pages = [page for document in documents for page in document.pages]
        over = _run_over(cards, taller, pages)
        if not over:
            break
        taller = {**taller, **{place: taller.get(place, 1.0) * by * _A_LITTLE for place, by in over.items()}}
    return documents[0].copy(pages) if len(documents) > 1 else documents[0]


@contextmanager
def _uncollected() -> Iterator[None]:
    """Let nothing look for cycles while cards are made: all of it is alive, and looking took a quarter of the time."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _run_over(cards: CardSet, taller: Mapping[int, float], pages: Sequence[Any]) -> dict[int, float]:
    """Return by how much recipes run over a face, by their place; empty where all fit.

    What runs over a page goes on on the next.
    """
    boxes: dict[str, list[tuple[float, ...]]] = {}
    for name, box in ((name, box) for page in pages for name, box in page.anchors.items()):
        boxes.setdefault(name, []).append(box)
    over: dict[int, float] = {}
    for number, place in cards.places(taller).items():
        flow, (foot, *_) = boxes[f"flow-{number}"], boxes[f"foot-{number}"]
        by = sum(box[3] - box[1] for box in flow) / (foot[1] - flow[0][1])
        if by > 1:
            over[place] = max(by, over.get(place, 1.0))
    return over


def print_form(markup_of: Callable[[int], str], size: CardSize, style: str) -> bytes:
    """Return a form to be filled in by hand as a PDF, its last page filled up with empty rows.

    ``markup_of`` returns the HTML with so many empty rows more. Each row has an id ``row-<n>``; ``rows-end`` stands behind the
    last one, and ``foot`` may stand below it.
    """
    with _one_at_a_time:
        press = _form_press(size, style)
        room = _rows_to_fill(press.lay_out(_plain(markup_of(_FEWEST_EMPTY))))
        return _written(press.lay_out(_plain(markup_of(_FEWEST_EMPTY + room))))


def print_frame(markup: str, width_px: int, height_px: int, style: str) -> bytes:
    """Return HTML as a PDF of one page, so many CSS pixels wide and high, to be made a picture of; what runs over is cut off."""
    with _one_at_a_time:
        fonts, faces = _fonts()
        page = CSS(string=f"@page{{size:{width_px}px {height_px}px;margin:0}}", font_config=fonts)
        laid_out = _Press(fonts, (faces, page, _style(style, fonts))).lay_out(_plain(markup))
        return _written(laid_out.copy(laid_out.pages[:1]))


def _form_press(size: CardSize, style: str) -> _Press:
    fonts, faces = _fonts()
    side, foot = _FORM_MARGIN_MM
    sheet = CSS(string=f"@page{{size:{size.width_mm}mm {size.height_mm}mm;margin:{side}mm {side}mm {foot}mm}}", font_config=fonts)
    return _Press(fonts, (faces, sheet, _style(style, fonts)))


def _plain(markup: str) -> HTML:
    return HTML(string=_PICTURES_IN_WORDS.sub("", markup), base_url="paper:", url_fetcher=PaperFetcher())


def _written(document: Document) -> bytes:
    return bytes(document.write_pdf(pdf_variant=_VARIANT, finisher=_say_scopes))


def _say_scopes(_document: Document, pdf: pydyf.PDF) -> None:
    """Give each header cell its scope (ISO 32000-1, 14.8.5.7): of its column in a table's head, else of its row."""
    for cell in pdf.objects:
        if isinstance(cell, pydyf.Dictionary) and cell.get("S") == "/TH":
            row = pdf.objects[int(cell["P"].split()[0])]
            head = pdf.objects[int(row["P"].split()[0])]
            cell["A"]["Scope"] = "/Column" if head["S"] == "/THead" else "/Row"


def _rows_to_fill(laid_out: Document) -> int:
    """Return how many empty rows fit below the last one, by where a form's anchors came to lie. [px from the top of the page]"""
    anchors = [page.anchors for page in laid_out.pages]
    tops = [[box[1] for name, box in page.items() if name.startswith("row-")] for page in anchors]
    row_px = min(after - before for page in tops for before, after in pairwise(sorted(page)))
    floor_px = laid_out.pages[-1].height - _FORM_MARGIN_MM[1] * _PX_PER_MM
    bottom_px = anchors[-1]["foot"][1] if "foot" in anchors[-1] else floor_px
    return max(0, int((bottom_px - anchors[-1]["rows-end"][1]) // row_px))


@lru_cache(maxsize=1)
def _fonts() -> tuple[FontConfiguration, CSS]:
    """Return the loaded type families: the slow part, done once in a process."""
    fonts = FontConfiguration()
    faces = "".join(
        f'@font-face{{font-family:"{family}";font-weight:{weight};font-style:{style};src:url("font:{name}")}}'
        for family, weight, style, name in FACES
    )
    return fonts, CSS(string=faces, font_config=fonts, url_fetcher=PaperFetcher())


@dataclass(frozen=True)
class _Press:
    """What prints one size of paper."""

    fonts: FontConfiguration
    sheets: tuple[CSS, ...]

    def lay_out(self, document: HTML) -> Document:
        return document.render(stylesheets=list(self.sheets), font_config=self.fonts, pdf_variant=_VARIANT)


def _press(cards: CardSet, style_changed_ns: int) -> _Press:
    return _press_for(cards.wish.size, cards.wish.sheet, cards.wish.ink, style_changed_ns)


@lru_cache(maxsize=24)
def _press_for(size: CardSize, sheet: CardSize | None, ink: str, _style_changed_ns: int) -> _Press:
    """Return what prints this size; the last argument makes a changed style sheet be read again."""
    fonts, faces = _fonts()
    sized = CSS(string=set_style(size, sheet), font_config=fonts)
    return _Press(fonts, (faces, _style("css/paper.css", fonts, ink), sized, _measures(fonts)))


@lru_cache(maxsize=1)
def _measures(fonts: FontConfiguration) -> CSS:
    return CSS(string=measures_style(), font_config=fonts)


def _style(name: str, fonts: FontConfiguration, ink: str = "colour") -> CSS:
    path = _style_path(name)
    return _style_as_it_is(path, path.stat().st_mtime_ns, fonts, ink)


@lru_cache(maxsize=12)
def _style_as_it_is(path: Path, _changed_ns: int, fonts: FontConfiguration, ink: str) -> CSS:
    text = in_ink(path.read_text("utf-8"), ink)
    return CSS(string=text, font_config=fonts, url_fetcher=PaperFetcher(), base_url="paper:")


def _style_path(name: str = "css/paper.css") -> Path:
    found = finders.find(name)
    if found is None:
        raise FileNotFoundError(f"{name} is missing from the static files")
    return Path(found)


def _font_bytes(name: str) -> bytes:
    try:
        return font_file(name).read_bytes()
    except MissingFace as why:
        raise RefusedAddress(str(why)) from why


def _photo(url: str, name: str) -> URLFetcherResponse:
    folder = Path(settings.MEDIA_ROOT).resolve()
    path = (folder / name).resolve()
    kind = mimetypes.guess_type(path.name)[0]
    if folder not in path.parents or kind not in _PHOTO_TYPES:
        raise RefusedAddress(f"paper does not fetch {url!r}")
    return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": kind})
