"""The row of large figures at the head of a card: as large as one line holds."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from kitchen.publish.card_type import CAPTION, FIGURES_EM, small_pt
from kitchen.publish.typefaces import SANS, SERIF, count_lines, width_pt

_SAME_UNIT = re.compile(r"\u00a0(min|h) to (?=.*\u00a0\1$)")
_NARROW = 0.62  # how much of its longest line a figure may be wide, before the leading one is set smaller


@dataclass(frozen=True)
class Told:
    """A large figure as it is told: in ``words``, or in a ``brief`` of a few words a line."""

    value: str
    unit: str
    words: str
    standing: str
    tone: str
    brief: tuple[str, ...] = ()


@dataclass(frozen=True)
class Figure:
    """One of the large figures: its value, its unit, the lines beneath it, and how many thousandths of the row it takes."""

    value: str
    unit: str
    lines: tuple[str, ...]
    standing: str
    tone: str
    share: int


def figures_of(told: Sequence[Told], type_pt: float, room_pt: float) -> tuple[int, tuple[Figure, ...]]:
    """Return which sizes the figures have, as large as leaves the row on one line, and all of them with their shares.

    Each has the room of its value; what is left goes to those whose lines beneath want more.
    """
    shown = _led(told)
    beneath = [_beneath_pt(one, type_pt) for one in shown]
    level, values = 0, list[float]()
    for level, (lead_em, other_em) in enumerate(FIGURES_EM):  # noqa: B007 - the last one stays where none fits
        values = [_value_pt(one, type_pt, other_em if place else lead_em) for place, one in enumerate(shown)]
        if sum(max(value, _NARROW * under) for value, under in zip(values, beneath, strict=True)) <= room_pt:
            break
    wanted = [max(under - value, 0.0) for value, under in zip(values, beneath, strict=True)]
    spare_pt = room_pt - sum(values)
    share = min(max(spare_pt, 0.0) / (sum(wanted) or 1.0), 1.0)
    even_pt = max(spare_pt - sum(wanted), 0.0) / max(len(shown), 1)
    return level, tuple(
        Figure(
            dashed(one.value),
            one.unit,
            _briefly(one),
            one.standing,
            one.tone,
            int(1000 * (value + share * more + even_pt) / room_pt),
        )
        for one, value, more in zip(shown, values, wanted, strict=True)
    )


def row_pt(told: Sequence[Told], type_pt: float, room_pt: float) -> float:
    """Return how high the row is, with its rule and the space around it; 0 without figures. [pt]"""
    level, figures = figures_of(told, type_pt, room_pt)
    caption = small_pt(type_pt)
    lines = [
        sum(count_lines([(words, SANS, caption)], room_pt * one.share / 1000 - 0.5 * type_pt) for words in one.lines)
        for one in figures
    ]
    return (FIGURES_EM[level][0] + 1.0) * type_pt + CAPTION * caption * max(lines) if figures else 0.0


def _led(shown: Sequence[Told]) -> list[Told]:
    """Return the figures with the unit of the first among the words beneath it, so that it can be set large."""
    first = [
        replace(one, unit="", brief=(f"{one.unit} {one.brief[0]}".strip(), *one.brief[1:])) if one.brief else one
        for one in shown[:1]
    ]
    return [*first, *shown[1:]]


def _value_pt(one: Told, type_pt: float, value_em: float) -> float:
    """Return how wide a figure is with its unit and the space behind it. [pt]"""
    unit = width_pt(f" {one.unit}", SANS, small_pt(type_pt)) if one.unit else 0.0
    return width_pt(dashed(one.value), SERIF, value_em * type_pt) + unit + 0.8 * type_pt


def _beneath_pt(one: Told, type_pt: float) -> float:
    """Return how wide the longest line beneath a figure is, a long sentence less. [pt]"""
    lines = [width_pt(words, SANS, small_pt(type_pt)) for words in _briefly(one)]
    return (max(lines) if one.brief else min(max(lines), 9 * type_pt)) + 0.8 * type_pt


def _briefly(one: Told) -> tuple[str, ...]:
    return tuple(map(dashed, one.brief)) or (one.words,)


def dashed(value: str) -> str:
    """Return a range with a dash, as a figure is set."""
    return _SAME_UNIT.sub("–", value).replace(" to ", "–")
