"""Sides: what the card's template shows of the units on one face."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any

from kitchen.publish.card_type import type_class
from kitchen.publish.card_words import side_words
from kitchen.publish.faces import PT_A_MM, Face, Unit
from kitchen.publish.figure_row import Figure, figures_of
from kitchen.publish.pieces import Pieces
from kitchen.publish.typefaces import SANS, shortened, width_pt
from kitchen.words import ENGLISH, sentence

_FRONT_AND_BACK = 2
_DRAWN_FROM_MM = 52.0  # how much of a front has to be empty for a drawing


@dataclass(frozen=True)
class Shown:
    """What a template shows together: ``kind`` says how; ``title`` stands above it, where it has one.

    A stage has its heat, its minutes and words beside its title, and is perhaps the ``first``; ``tall`` sets them on two
    rows. Cautions are perhaps ``run_in``.
    """

    kind: str
    items: tuple[Any, ...]
    title: str = ""
    heat: str = ""
    minutes: str = ""
    words: tuple[str, ...] = ()
    first: bool = False
    run_in: bool = False
    tall: bool = False


@dataclass(frozen=True)
class Side:
    """One face as its template shows it: the name of its type's size, what stands on it, and what at its foot, left and right."""

    type_class: str
    figures: tuple[Figure, ...]
    figures_class: str
    groups: tuple[Shown, ...]
    last: bool
    run: tuple[str, str]
    drawn: bool


def side_of(pieces: Pieces, face: Face) -> Side:
    """Return a face as its template shows it."""
    groups = tuple(_shown(kind, list(units), pieces, face.type_pt) for kind, units in groupby(face.units, key=_group_of))
    where = sentence(ENGLISH, "card_overleaf") if face.of == _FRONT_AND_BACK else side_words(face)
    foot_pt = pieces.size.foot_type_pt
    level, figures = figures_of(pieces.told, face.type_pt, pieces.size.width_pt)
    return Side(
        type_class(face.type_pt),
        figures,
        f"figures--{level}",
        groups,
        face.last,
        (shortened(pieces.title_for, SANS, foot_pt, pieces.size.width_pt - width_pt(where, SANS, foot_pt) - 2 * foot_pt), where),
        _is_drawn(pieces, face),
    )


def _is_drawn(pieces: Pieces, face: Face) -> bool:
    """Whether a front leaves room for the drawing of its pot."""
    used_pt = sum(unit.height_pt(face.type_pt) for unit in face.units)
    free_pt = pieces.size.height_pt - used_pt - 2 * pieces.size.foot_type_pt
    return face.number == 1 and not face.last and not pieces.size.slip and free_pt > _DRAWN_FROM_MM * PT_A_MM


def _group_of(unit: Unit) -> tuple[str, Any]:
    if unit.kind in ("line", "columns"):
        return "lines", unit.payload[0]
    if unit.kind == "step":
        return "stage", unit.payload[0].place
    return unit.kind, unit.payload if unit.kind == "words" else None


def _shown(group: tuple[str, Any], units: Sequence[Unit], pieces: Pieces, type_pt: float) -> Shown:
    kind, first = group[0], units[0]
    if kind == "lines":
        title, shown = first.payload[0], [unit.payload[1] for unit in units]
        columns = [column for lines in shown for column in pieces.columns(lines)] if first.kind == "columns" else [shown]
        begun = not any(columns[0][0] is one for t, lines in pieces.lines for one in lines[:1] if t == title)
        again = sentence(ENGLISH, "card_continued", title=title or sentence(ENGLISH, "card_ingredients")) if begun else ""
        return Shown(kind, tuple([replace(line, rows=pieces.rows(line)) for line in column] for column in columns), again)
    if kind == "stage":
        told, _, begins = first.payload
        title = told.title or (pieces.method_title if not begins else "")
        title = title if begins else sentence(ENGLISH, "card_continued", title=title)
        steps = tuple(unit.payload[1] for unit in units)
        minutes, words = (told.minutes, told.words) if begins else ("", ())
        return Shown(
            kind,
            steps,
            title,
            told.heat,
            minutes,
            words,
            first=begins and told.place == 0,
            tall=pieces.head_rows(told, type_pt) > 1,
        )
    if kind == "caution":
        cautions = tuple(one for unit in units for one in unit.payload[0])
        return Shown(kind, cautions, run_in=first.payload[1])
    return Shown(kind, (first.payload,))
