"""Faces: what stands on which side of which card, and how large its type is, from measured words. Pure.

The content of a card is a row of **units** that are never parted inside. A front and a back hold it where type of the least size
allows; else as few cards as can be, each face filled about as much as the others, so that none holds only a tail. Type is then as
large as fits: each side by itself where there are two, the same on all where there are more.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any

PT_A_MM = 72 / 25.4
_RUN_LINES = 2.0  # the line at the foot of a face that is not the last, and the space above it
_STEP_PT = 0.5
_TWO = 2
_MOST_TOGETHER = 0.5  # of a face
_METHOD_BONUS, _LONE_COST = 0.3, 0.6
_ENOUGH_PT = 11.0  # type that is easy to read: a side with more than that needs no other order


@dataclass(frozen=True)
class CardSize:
    """A sheet that a card is printed on; ``key`` is what an address says, and a class on the root element (``paper--a6``).

    Type is between ``least_pt`` and ``most_pt``; one side alone holds everything where its type is then ``whole_pt`` at least
    (never where that is 0). ``slip`` says that it is narrow, ``strip`` which drawing suits it; ingredients stand in so many
    ``columns``.
    """

    key: str
    label: str
    width_mm: float
    height_mm: float
    margin_mm: float = 6.0
    least_pt: float = 9.5
    most_pt: float = 13.0
    whole_pt: float = 0.0
    slip: bool = False
    strip: str = "card"
    columns: int = 1
    foot_type_pt: float = 8.2

    @property
    def width_pt(self) -> float:
        """How wide a line can be. [pt]"""
        return (self.width_mm - 2 * self.margin_mm) * PT_A_MM

    @property
    def height_pt(self) -> float:
        """How high a face is within its margins. [pt]"""
        return (self.height_mm - 2 * self.margin_mm) * PT_A_MM


@dataclass(frozen=True)
class Unit:
    """What is never parted: how high it is in type of a size, and ``again_pt``, how much higher where a face begins with it.

    ``together`` keeps it with the next one; ``part`` is ``list`` or ``method``; ``lone`` says that it looks lost by itself.
    """

    kind: str
    part: str
    height_pt: Callable[[float], float]
    payload: Any = None
    together: bool = False
    lone: bool = False
    again_em: float = 0.0


@dataclass(frozen=True)
class Face:
    """One side of one card: the units on it, in type of a size."""

    units: tuple[Unit, ...]
    type_pt: float
    number: int
    of: int

    @property
    def last(self) -> bool:
        """Whether it is the last side of the last card."""
        return self.number == self.of

    @property
    def card(self) -> int:
        """Which card this is a side of."""
        return (self.number + 1) // 2

    @property
    def cards(self) -> int:
        """How many cards there are."""
        return (self.of + 1) // 2

    @property
    def front(self) -> bool:
        """Whether it is the front of its card."""
        return self.number % 2 == 1


@dataclass(frozen=True)
class _Bench:
    """What is packed: units, what they are packed on, how high the last face's foot is, and by how much paper is taller."""

    units: Sequence[Unit]
    size: CardSize
    foot_pt: float
    taller: float
    heights: dict[float, list[float]] = field(default_factory=dict)

    def room_pt(self, *, last: bool) -> float:
        return self.size.height_pt - (self.foot_pt if last else _RUN_LINES * self.size.foot_type_pt)

    def sizes_pt(self) -> list[float]:
        steps = int((self.size.most_pt - self.size.least_pt) / _STEP_PT)
        return [self.size.least_pt + _STEP_PT * step for step in range(steps + 1)]

    def heights_pt(self, type_pt: float) -> list[float]:
        if type_pt not in self.heights:
            self.heights[type_pt] = [self.taller * unit.height_pt(type_pt) for unit in self.units]
        return self.heights[type_pt]

    def high_pt(self, start: int, end: int, type_pt: float) -> float:
        return sum(self.heights_pt(type_pt)[start:end]) + self.units[start].again_em * type_pt


def plan_faces(units: Sequence[Unit], size: CardSize, foot_pt: float, *, taller: float = 1.0) -> list[Face]:
    """Return the faces of a recipe.

    Parameters
    ----------
    units : sequence of Unit
        In reading order.
    size : CardSize
        What they stand on.
    foot_pt : float
        How high the foot of the last face is, with the space above it. [pt]
    taller : float
        How many times as high as measured everything came out, where it was laid out before. [-]

    Returns
    -------
    list of Face
        One, or an even number: paper has two sides.
    """
    bench = _Bench(_loosened(units, size, foot_pt), size, foot_pt, taller)
    least_pt = size.whole_pt if any(unit.part == "method" for unit in units) else size.least_pt
    whole_pt = _largest(bench, 0, len(units), last=True) if least_pt else None
    if whole_pt is not None and whole_pt >= least_pt:
        return [Face(tuple(units), whole_pt, 1, 1)]
    halves = _two_sides(bench)
    if halves:
        return halves
    faces = 2 * math.ceil(_fewest(bench) / 2)
    while faces <= len(units):
        packed = _largest_packing(bench, faces)
        if packed:
            return packed
        faces += 2
    return _as_it_comes(bench)


def _loosened(units: Sequence[Unit], size: CardSize, foot_pt: float) -> list[Unit]:
    """Return units of which no more stay together than a face can well hold."""
    most_pt, high_pt, loose = _MOST_TOGETHER * (size.height_pt - foot_pt), 0.0, []
    for unit in units:
        high_pt += unit.height_pt(size.least_pt)
        together = unit.together and high_pt <= most_pt
        loose.append(unit if together == unit.together else replace(unit, together=False))
        high_pt = high_pt if together else 0.0
    return loose


def best_plan(ways: Sequence[Sequence[Unit]], size: CardSize, foot_pt: float, *, taller: float = 1.0) -> list[Face]:
    """Return the fewest faces of any way: of the first whose type is easy to read, else of the one with the largest."""
    planned = [plan_faces(units, size, foot_pt, taller=taller) for units in ways]
    fewest = min(map(len, planned))
    few = [faces for faces in planned if len(faces) == fewest]
    easy = [faces for faces in few if min(face.type_pt for face in faces) >= _ENOUGH_PT]
    return easy[0] if easy else max(few, key=lambda faces: min(face.type_pt for face in faces))


def _largest(bench: _Bench, start: int, end: int, *, last: bool) -> float | None:
    """Return the largest type in which these units fit one face; None where not even the least does. [pt]"""
    sizes, fits = bench.sizes_pt(), None
    low, high = 0, len(sizes) - 1
    while low <= high:
        middle = (low + high) // 2
        if bench.high_pt(start, end, sizes[middle]) <= bench.room_pt(last=last):
            fits, low = sizes[middle], middle + 1
        else:
            high = middle - 1
    return fits


def _two_sides(bench: _Bench) -> list[Face]:
    """Return a front with the list and a back with the method; the cautions change sides where that makes type larger."""
    units = bench.units
    first = next((n for n, unit in enumerate(units) if unit.part == "method"), 0)
    after = next((n for n, unit in enumerate(units) if n > first and unit.kind != "caution"), first)
    best: tuple[float, list[Face]] = (0.0, [])
    for split in dict.fromkeys((first, after)):
        if not 0 < split < len(units):
            continue
        front_pt, back_pt = _largest(bench, 0, split, last=False), _largest(bench, split, len(units), last=True)
        if front_pt is None or back_pt is None:
            continue
        least_pt = min(front_pt, back_pt, _ENOUGH_PT)
        if least_pt > best[0]:
            best = least_pt, [Face(tuple(units[:split]), front_pt, 1, 2), Face(tuple(units[split:]), back_pt, 2, 2)]
    return best[1]


def _fewest(bench: _Bench) -> int:
    """Return on how few faces everything fits in the least type, the foot left aside."""
    return len(_cuts(bench, last=False)) - 1


def _cuts(bench: _Bench, *, last: bool) -> list[int]:
    """Return where faces begin and end in the least type, each filled as far as the next unit still fits."""
    cuts = [0]
    for end in range(1, len(bench.units) + 1):
        if end - cuts[-1] > 1 and bench.high_pt(cuts[-1], end, bench.size.least_pt) > bench.room_pt(last=last):
            cuts.append(end - 1)
    return [*cuts, len(bench.units)]


def _as_it_comes(bench: _Bench) -> list[Face]:
    """Return faces for what cannot be filled alike, since a unit alone is higher than a face."""
    return _faces(bench, _cuts(bench, last=True), bench.size.least_pt)


def _largest_packing(bench: _Bench, faces: int) -> list[Face]:
    """Return so many faces in the largest type that allows them; empty where none does."""
    sizes = bench.sizes_pt()
    low, high, best = 0, len(sizes) - 1, None
    while low <= high:
        middle = (low + high) // 2
        cuts = _packed(bench, faces, sizes[middle])
        if cuts:
            best, low = (cuts, sizes[middle]), middle + 1
        else:
            high = middle - 1
    if best is None:
        return []
    return _faces(bench, *best)


def _faces(bench: _Bench, cuts: Sequence[int], type_pt: float) -> list[Face]:
    pairs = list(pairwise(cuts))
    return [
        Face(tuple(bench.units[start:end]), type_pt, number, len(pairs)) for number, (start, end) in enumerate(pairs, start=1)
    ]


def _packed(bench: _Bench, faces: int, type_pt: float) -> list[int]:
    """Return where the faces begin and end so that they are filled alike; empty where the units do not fit so many."""
    units, count = bench.units, len(bench.units)
    best: list[dict[int, tuple[float, int]]] = [{0: (0.0, -1)}]
    for face in range(1, faces + 1):
        room_pt, reached = bench.room_pt(last=face == faces), dict[int, tuple[float, int]]()
        for start, (cost, _) in best[-1].items():
            if start == count:
                continue
            high_pt = units[start].again_em * type_pt
            for end in range(start + 1, count + 1):
                high_pt += bench.heights_pt(type_pt)[end - 1]
                if high_pt > room_pt:
                    break
                if (units[end - 1].together and end < count) or (face == faces) != (end == count):
                    continue
                total = cost + _cost(units, start, end, high_pt / room_pt)
                if end not in reached or total < reached[end][0]:
                    reached[end] = total, start
        best.append(reached)
    if count not in best[-1]:
        return []
    cuts = [count]
    for reached in reversed(best[1:]):
        cuts.append(reached[cuts[-1]][1])
    return cuts[::-1]


def _cost(units: Sequence[Unit], start: int, end: int, full: float) -> float:
    """Return how much a face that begins and ends there spoils: empty space, a lone piece; less where the method begins."""
    begins = units[start].part == "method" and start > 0 and units[start - 1].part == "list"
    lone = all(unit.lone for unit in units[start:end]) and end - start < 2
    return (1 - full) ** 2 + (_LONE_COST if lone else 0.0) - (_METHOD_BONUS if begins else 0.0)
