"""Leaves: recipes as cards, one face a page or several to a sheet that is cut, and the styles that go by their sizes. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from typing import Any

from django.template.loader import render_to_string

from kitchen.page import Page, PageFrame
from kitchen.publish.card_type import type_style
from kitchen.publish.card_words import Foot, edition_words
from kitchen.publish.contents import contents_of
from kitchen.publish.faces import CardSize, Face, best_plan
from kitchen.publish.pieces import Pieces
from kitchen.publish.qr import qr_code
from kitchen.publish.sides import side_of

_LARGE: dict[str, Any] = {
    "margin_mm": 13,
    "least_pt": 11,
    "most_pt": 18,
    "whole_pt": 11.5,
    "columns": 2,
    "strip": "sheet",
    "foot_type_pt": 11,
}

CARD_SIZES: dict[str, CardSize] = {
    size.key: size
    for size in (
        CardSize("a7", "A7", 74, 105, margin_mm=5, least_pt=8, most_pt=11, slip=True, strip="slip", foot_type_pt=8),
        CardSize("3x5", "3 × 5 in", 76.2, 127, margin_mm=5, least_pt=8, most_pt=11.5, slip=True, strip="slip", foot_type_pt=8),
        CardSize("a6", "A6", 105, 148, margin_mm=5.5),
        CardSize("4x6", "4 × 6 in", 101.6, 152.4, margin_mm=5.5),
        CardSize("a5", "A5", 148, 210, margin_mm=9, least_pt=10.5, most_pt=17, whole_pt=12, foot_type_pt=10),
        CardSize("a4", "A4", 210, 297, **_LARGE),
        CardSize("letter", "Letter", 215.9, 279.4, **_LARGE),
    )
}
SHEETS: dict[str, CardSize] = {key: CARD_SIZES[key] for key in ("a4", "letter")}
"""The sheets that several cards are printed on, to be cut."""

_FACE, _CONTENTS = "kitchen/paper/face.html", "kitchen/paper/contents.html"
_BLANK = ("kitchen/paper/blank.html", None, None)
_LEAVES_A_PART = 12
"""So many leaves of a deck are laid out at once: few enough to tell how far it is, enough to be quick."""

_COLOUR = re.compile(r"#(?!ffffff)[0-9a-f]{6}\b")
_TINT, _EMBER, _EMBER_ON_PAPER = "#ffebdf", "#a63f00", "#8f3600"

_TICK_MM, _TICK_IN_MM, _TICK_WIDE_MM = 4.0, 2.5, 0.15


@dataclass(frozen=True)
class Wish:
    """How cards are printed: on what, in which ink, and what their owner writes at their foot."""

    size: CardSize
    sheet: CardSize | None = None
    ink: str = "colour"
    name: str = ""
    note: str = ""


@dataclass(frozen=True)
class Cell:
    """A face where it stands on a leaf; ``number`` is its place in the file."""

    template: str
    number: int
    place: str = ""
    face: Any = None
    pieces: Any = None


@dataclass(frozen=True)
class Leaf:
    """One page of the file; ``ticks`` are where it is cut."""

    cells: tuple[Cell, ...]
    ticks: tuple[str, ...] = ()

    @property
    def cut(self) -> bool:
        """Whether it holds several cards."""
        return bool(self.ticks)


@dataclass(frozen=True)
class Grid:
    """How cards stand on a sheet: so many beside and below each other, from the upper left corner. [mm]"""

    columns: int
    rows: int
    sheet_mm: tuple[float, float]
    card_mm: tuple[float, float]

    @property
    def many(self) -> int:
        """How many cards a sheet holds."""
        return self.columns * self.rows

    @property
    def corner_mm(self) -> tuple[float, float]:
        """Where the first card begins: the cards stand in the middle of the sheet."""
        (wide, high), (card_wide, card_high) = self.sheet_mm, self.card_mm
        return (wide - self.columns * card_wide) / 2, (high - self.rows * card_high) / 2

    @property
    def ticks(self) -> tuple[str, ...]:
        """The names of the ticks."""
        return (*_numbered("x", self.columns), *_numbered("y", self.rows))


def grid_of(size: CardSize, sheet: CardSize) -> Grid:
    """Return how cards stand on a sheet, upright or lying, whichever holds more of them; raises ValueError where none fits.

    Examples
    --------
    >>> grid = grid_of(CARD_SIZES["a7"], SHEETS["a4"])
    >>> grid.columns, grid.rows, grid.sheet_mm
    (4, 2, (297, 210))
    """
    ways = [(sheet.width_mm, sheet.height_mm), (sheet.height_mm, sheet.width_mm)]
    grids = [
        Grid(int(wide / size.width_mm), int(high / size.height_mm), (wide, high), (size.width_mm, size.height_mm))
        for wide, high in ways
    ]
    best = max(grids, key=lambda grid: grid.many)
    if not best.many:
        raise ValueError(f"{size.label} does not go on {sheet.label}")
    return best


@dataclass(frozen=True)
class CardSet:
    """Recipes to be printed as cards; ``sheet`` of the wish sets several on each. ``called`` names a deck, which has contents."""

    pages: tuple[tuple[Page, PageFrame], ...]
    wish: Wish
    called: str = ""

    @cached_property
    def pieces(self) -> tuple[Pieces, ...]:
        """What each recipe shows."""
        return tuple(_pieces(page, frame, self.wish) for page, frame in self.pages)

    @cached_property
    def _units(self) -> tuple[Any, ...]:
        return tuple((pieces.ways(), pieces.foot_pt()) for pieces in self.pieces)

    def faces(self, taller: Mapping[int, float]) -> list[list[Face]]:
        """Return the faces of each recipe; ``taller`` are the places that came out so many times as high as measured."""
        return [
            best_plan(ways, self.wish.size, foot_pt, taller=taller.get(place, 1.0))
            for place, (ways, foot_pt) in enumerate(self._units)
        ]

    def places(self, taller: Mapping[int, float]) -> dict[int, int]:
        """Return of which recipe each face of the file is, by its number; those of the contents are of none."""
        of = {id(pieces): place for place, pieces in enumerate(self.pieces)}
        cells = (cell for leaf in self._leaves(taller) for cell in leaf.cells if cell.pieces is not None)
        return {cell.number: of[id(cell.pieces)] for cell in cells}

    def markup(self, taller: Mapping[int, float] | None = None) -> str:
        """Return the HTML of the whole file."""
        return self._drawn(self._leaves(taller)) if taller else self._as_measured

    def parts(self, taller: Mapping[int, float]) -> list[str]:
        """Return the HTML of the file in parts of a few leaves, each laid out by itself; numbers go on from part to part."""
        leaves = self._leaves(taller)
        return [self._drawn(some) for some in _by(leaves, _LEAVES_A_PART)] if self.called else [self.markup(taller)]

    @cached_property
    def _as_measured(self) -> str:
        return self._drawn(self._leaves({}))

    def _drawn(self, leaves: Sequence[Leaf]) -> str:
        page, frame = self.pages[0]
        alone = len(self.pages) == 1
        context = {
            "size": self.wish.size,
            "title": self.pieces[0].title_for if alone else self.called or frame.site_name,
            "author": page.recipe.author if alone else "",
            "summary": page.recipe.summary if alone else "",
            "leaves": leaves,
        }
        return in_ink(render_to_string("kitchen/paper/cards.html", context), self.wish.ink)

    def _leaves(self, taller: Mapping[int, float] | None) -> list[Leaf]:
        """Return the leaves, planned once for each way in which recipes came out taller."""
        key = tuple(sorted((taller or {}).items()))
        if key not in self._planned:
            self._planned[key] = self._plan(taller or {})
        return self._planned[key]

    @cached_property
    def _planned(self) -> dict[tuple[tuple[int, float], ...], list[Leaf]]:
        return {}

    def _plan(self, taller: Mapping[int, float]) -> list[Leaf]:
        cards = list(self._cards(taller))
        if not self.called:
            return list(self._dealt(cards))
        listed = contents_of(self.called, [page for page, _ in self.pages], self.wish.size)
        blank = [(_CONTENTS, face, None) for face in listed]
        leaves = list(self._dealt([*_by(blank, 2), *cards]))
        found = self._found(leaves)
        told = iter([(_CONTENTS, face.with_pages(found, sheets=self.wish.sheet is not None), None) for face in listed])
        return list(self._dealt([*_by(list(told), 2), *cards]))

    def _found(self, leaves: Sequence[Leaf]) -> list[tuple[int, int]]:
        """Return for each recipe the page on which it begins, from 1, and the number of its first face."""
        first: dict[int, tuple[int, int]] = {}
        for page, leaf in enumerate(leaves, start=1):
            for cell in leaf.cells:
                if cell.pieces is not None:
                    first.setdefault(id(cell.pieces), (page, cell.number))
        return [first[id(pieces)] for pieces in self.pieces]

    def _dealt(self, cards: Sequence[Sequence[Any]]) -> Iterator[Leaf]:
        """Yield the leaves on which cards stand, each given as its sides: of a deck of two-sided ones each begins on a front."""
        if self.wish.sheet is not None:
            grid = grid_of(self.wish.size, self.wish.sheet)
            alike = max(1, grid.many // len(cards)) if len(self.pages) == 1 else 1
            yield from _imposed([*cards] * alike, grid)
            return
        two_sided = bool(self.called) and any(len(sides) > 1 for sides in cards)
        filled = ([*sides, _BLANK] if two_sided and len(sides) == 1 else sides for sides in cards)
        for number, (template, face, pieces) in enumerate(chain.from_iterable(filled)):
            yield Leaf((Cell(template, number, "", face, pieces),))

    def _cards(self, taller: Mapping[int, float]) -> Iterator[list[Any]]:
        """Yield each card as its sides: its template, a face and the pieces that it shows."""
        for pieces, faces in zip(self.pieces, self.faces(taller), strict=True):
            for sides in _by(faces, 2):
                yield [(_FACE, side_of(pieces, face), pieces) for face in sides]


def _by(items: Sequence[Any], many: int) -> Iterator[Sequence[Any]]:
    return (items[start : start + many] for start in range(0, len(items), many))


def _imposed(cards: Sequence[Sequence[Any]], grid: Grid) -> Iterator[Leaf]:
    """Yield leaves with cards on them: all fronts, then behind them their backs, mirrored left to right."""
    number = 0
    for dealt in _by(cards, grid.many):
        for behind in (False, True):
            cells = []
            for at, sides in enumerate(dealt):
                row, column = divmod(at, grid.columns)
                if behind >= len(sides):
                    continue
                place = f"r{row}c{grid.columns - 1 - column if behind else column}"
                template, face, pieces = sides[behind]
                cells.append(Cell(template, number, place, face, pieces))
                number += 1
            if cells:
                yield Leaf(tuple(cells), grid.ticks)


def _pieces(page: Page, frame: PageFrame, wish: Wish) -> Pieces:
    address = _address(page, frame)
    lines = [edition_words(page, frame), *filter(None, (wish.name, wish.note))]
    said = [plate.paper_words for plate in page.cards if plate.paper_words]
    said = said[:1] if wish.size.slip else said  # of what is cooked where; what it costs stands on the page
    qr = qr_code(frame.asked_address or address) if address else None
    return Pieces(
        page, frame, wish.size, Foot(qr, address.removeprefix("https://").removeprefix("http://"), tuple(said), tuple(lines))
    )


def _address(page: Page, frame: PageFrame) -> str:
    """Return the address that is printed: short enough to be typed, so without a query."""
    return f"{frame.address}for-{page.request.servings}/" if frame.address and page.scaled else frame.address


def in_ink(text: str, ink: str) -> str:
    """Return a document or a style sheet in an ink: in black alone, without a tint; else with ember that a red lamp shows."""
    if ink != "black":
        return text.replace(_EMBER, _EMBER_ON_PAPER)
    return _COLOUR.sub("#000000", text.replace(_TINT, "#ffffff"))


def measures_style() -> str:
    """Return the rules that are the same on every size: of type, and of how wide columns and amounts are."""
    rules = [
        *(type_style(half / 2) for half in range(16, 38)),
        *(f".w{share}{{width:{share / 10}%}}" for share in range(50, 1001)),
        *(
            f".m{m} li,.m{m}.heads{{padding-left:{m / 2}em}}.m{m} .amount{{width:{m / 2}em}}"
            f".n{m} li,.n{m}.heads{{margin-left:{m / 2}em}}.n{m} .whole{{width:{m / 2}em;left:-{m / 2}em}}"
            for m in range(5, 18)
        ),
    ]
    return "".join(rules)


def set_style(size: CardSize, sheet: CardSize | None) -> str:
    """Return the rules that go by the size of a card and its sheet: of the page, the face and the cuts."""
    wide, high, margin = size.width_mm, size.height_mm, size.margin_mm
    rules = [
        f".face{{width:{wide}mm;height:{high}mm}}",
        f".flow{{padding:{margin}mm {margin}mm 0}}",
        f".drawn{{bottom:{margin + 9}mm}}",
        f".foot,.run{{font-size:{size.foot_type_pt}pt;left:{margin}mm;right:{margin}mm;bottom:{margin}mm}}",
    ]
    if sheet is None:
        return "".join([f"@page{{size:{wide}mm {high}mm}}", *rules])
    grid = grid_of(size, sheet)
    return "".join([f"@page{{size:{grid.sheet_mm[0]}mm {grid.sheet_mm[1]}mm}}", *rules, *_grid_style(grid)])


def _grid_style(grid: Grid) -> Iterator[str]:
    (left, top), (wide, high), (sheet_wide, sheet_high) = grid.corner_mm, grid.card_mm, grid.sheet_mm
    yield f".leaf{{width:{sheet_wide}mm;height:{sheet_high}mm}}.cell{{width:{wide}mm;height:{high}mm}}"
    for row in range(grid.rows):
        for column in range(grid.columns):
            yield f".r{row}c{column}{{left:{left + column * wide:.2f}mm;top:{top + row * high:.2f}mm}}"
    for axis, many, step, corner, other, room in (
        ("x", grid.columns, wide, left, top, sheet_high),
        ("y", grid.rows, high, top, left, sheet_wide),
    ):
        along, across, thin, long = ("left", "top", "width", "height") if axis == "x" else ("top", "left", "height", "width")
        begin = max(0.0, other - _TICK_MM)
        for number, name in enumerate(_numbered(axis, many)):
            at = corner + number // 2 * step
            start = begin if number % 2 == 0 else room - other - _TICK_IN_MM
            yield f".{name}{{{along}:{at - _TICK_WIDE_MM / 2:.2f}mm;{across}:{start:.2f}mm;{thin}:{_TICK_WIDE_MM}mm;"
            yield f"{long}:{other - begin + _TICK_IN_MM:.2f}mm}}"


def _numbered(axis: str, many: int) -> tuple[str, ...]:
    """Return the names of the ticks at both ends of each cut."""
    return tuple(f"{axis}{cut}{end}" for cut in range(many + 1) for end in ("a", "b"))
