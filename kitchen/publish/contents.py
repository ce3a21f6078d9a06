"""The contents of a deck of cards: which recipe begins on which page, on faces of the cards' own size. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from kitchen.page import Page
from kitchen.publish.card_type import BODY, SMALL, TITLE_EM, small_pt, type_class
from kitchen.publish.faces import CardSize
from kitchen.publish.typefaces import BOLD, SANS, SERIF, count_lines
from kitchen.words import ENGLISH, sentence

_NUMBER_EM, _BETWEEN_EM, _MOST_FIGURES = 2.6, 0.5, 3


@dataclass(frozen=True)
class Listed:
    """A recipe in the contents: ``place`` is its place in the deck, ``face`` the number of its first face in the file."""

    place: int
    title: str
    small: str
    page: str = ""
    face: int = 0


@dataclass(frozen=True)
class ContentsFace:
    """One face of the contents; ``title`` is the deck's name on the first, its name and "continued" on others."""

    title: str
    rows: tuple[Listed, ...]
    type_class: str
    pages_words: str = ""

    def with_pages(self, found: Sequence[tuple[int, int]], *, sheets: bool) -> ContentsFace:
        """Return the same with the pages on which its recipes begin; on sheets, fronts and backs, the number of the sheet."""
        rows = tuple(
            replace(row, page=str((found[row.place][0] + 1) // 2 if sheets else found[row.place][0]), face=found[row.place][1])
            for row in self.rows
        )
        return replace(self, rows=rows, pages_words=sentence(ENGLISH, "contents_sheet" if sheets else "contents_page"))


def contents_of(called: str, pages: Sequence[Page], size: CardSize) -> list[ContentsFace]:
    """Return the faces that list these recipes, as many as it takes in type one point above the least."""
    type_pt = size.least_pt + 1
    faces: list[list[Listed]] = [[]]
    left_pt = size.height_pt - _head_pt(called, type_pt, size)
    for place, page in enumerate(pages):
        row = Listed(place, page.recipe.title, _small_words(page))
        high_pt = _row_pt(row, type_pt, size)
        if high_pt > left_pt and faces[-1]:
            faces.append([])
            left_pt = size.height_pt - _head_pt(_continued(called), type_pt, size)
        faces[-1].append(row)
        left_pt -= high_pt
    return [
        ContentsFace(called if number == 0 else _continued(called), tuple(rows), type_class(type_pt))
        for number, rows in enumerate(faces)
    ]


def _continued(called: str) -> str:
    return sentence(ENGLISH, "card_continued", title=called)


def _small_words(page: Page) -> str:
    figures = [f"{line.value} {line.unit}" for line in page.headlines if line.unit][:_MOST_FIGURES]
    return ", ".join([sentence(ENGLISH, "contents_for", servings=page.request.servings), *figures])


def _head_pt(title: str, type_pt: float, size: CardSize) -> float:
    wide_pt = TITLE_EM * type_pt
    return 1.08 * wide_pt * count_lines([(title, SERIF, wide_pt)], size.width_pt) + 2.2 * SMALL * small_pt(type_pt)


def _row_pt(row: Listed, type_pt: float, size: CardSize) -> float:
    room_pt, small = size.width_pt - _NUMBER_EM * type_pt, small_pt(type_pt)
    titles = count_lines([(row.title, BOLD, type_pt)], room_pt)
    lines = count_lines([(row.small, SANS, small)], room_pt)
    return 1.02 * (BODY * type_pt * titles + SMALL * small * lines) + _BETWEEN_EM * type_pt
