"""Pieces: a page as a row of units, each with how high it is in type of any size, as the style sheet sets it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from math import ceil

from kitchen.cards import Caution
from kitchen.page import NumberedStep, StageBlock
from kitchen.publish.card_type import (
    BODY,
    CAUTION_EM,
    FIGURES_EM,
    FOR_EM,
    LONG_TITLE_EM,
    SMALL,
    STAGE_EM,
    TITLE_EM,
    small_pt,
)
from kitchen.publish.card_words import CardLine, CardWords
from kitchen.publish.faces import PT_A_MM, Unit
from kitchen.publish.figure_row import dashed, row_pt
from kitchen.publish.typefaces import BOLD, SANS, SERIF, Run, count_lines, width_pt
from kitchen.words import ENGLISH, sentence

QR_MM, _BESIDE_QR_MM, _ABOVE_FOOT_PT = 20.0, 3.0, 5.0
_SPINE_EM, _NUMBER_EM, _STAGE_NAME_EM = 1.5, 1.65, 1.25
_ABOVE_CAUTIONS_EM, _CAUTION_SIDES_EM, _CAUTION_EDGES_EM = 0.7, 2.75, 2.15
_WIDE_STEP, _STEP_PIECE = 0.4, 0.15  # of a face: a step above the one is cut into pieces like the other
_FIRST_AND_LAST = 2  # lines or steps that are never left alone
_COLUMN, _ROWS = 0.485, 12  # how wide a column is where there are two, and how many lines it has at most
_AGAIN_EM = 1.9
_VIEW = re.compile(r'viewBox="0\s+[\d.-]+\s+([\d.]+)\s+([\d.]+)"')


def _height_to_width(drawing: str) -> float:
    """Return how high a drawing is for its width; 0 for none. One without a view box could not be planned, and is an error."""
    if not drawing:
        return 0.0
    wide, high = _VIEW.findall(drawing)[0]
    return float(high) / float(wide)


@dataclass(frozen=True)
class ToldStage:
    """A stage as a card heads it; ``place`` tells it from others of its kind."""

    place: int
    title: str
    minutes: str
    words: tuple[str, ...]
    heat: str


@dataclass(frozen=True)
class Pieces(CardWords):
    """A page as units that are measured and packed."""

    def ways(self) -> tuple[list[Unit], ...]:
        """Return everything in reading order: with what a serving holds, without it, and with cautions that save room."""
        held = self.page.nutrition
        told = (
            [self._units(run_in=False, serving=sentence(ENGLISH, "card_serving", holds=held.line))]
            if held and held.counted
            else []
        )
        return (*told, self._units(run_in=False), self._units(run_in=True))

    def _units(self, *, run_in: bool, serving: str = "") -> list[Unit]:
        found = [Unit("head", "list", self._head_pt, together=True)]
        for title, lines in self.lines:
            found += self._list_units(title, lines)
        if self.allergens:
            found.append(Unit("words", "list", partial(self._words_pt, self.allergens), self.allergens, lone=True))
        if serving:
            words = ((serving, False),)
            found.append(Unit("words", "list", partial(self._words_pt, words), words, lone=True))
        found += self._caution_units(run_in=run_in)
        for place, stage in enumerate(self.page.stages):
            found += self._stage_units(stage, place)
        if self.unnamed:
            words = ((self.unnamed, False),)
            found.append(Unit("words", "method", partial(self._words_pt, words), words, lone=True))
        return found

    def _head_pt(self, type_pt: float) -> float:
        width = self.size.width_pt
        title_pt = (LONG_TITLE_EM if self.long_title else TITLE_EM) * type_pt
        small = small_pt(type_pt, FOR_EM)
        high = 1.08 * title_pt * count_lines([(self.title, SERIF, title_pt)], width)
        high += SMALL * small * count_lines([(self.servings, BOLD, small), (self.circumstances, SANS, small)], width)
        each = SMALL * small_pt(type_pt) if self.each_batch else 0.0
        high += 2 * each + 0.3 * type_pt * bool(each)
        high += 0.8 * type_pt + width * _height_to_width(self.strip)
        return high + row_pt(self.told, type_pt, width) + 0.4 * type_pt

    def _list_units(self, title: str, lines: Sequence[CardLine]) -> Iterator[Unit]:
        if title:
            yield Unit(
                "part", "list", lambda t: BODY * t * count_lines([(title, BOLD, t)], self.size.width_pt) + 0.6 * t, title, True
            )
        if self.across > 1:
            for start in range(0, len(lines), _ROWS * self.across):
                some = tuple(lines[start : start + _ROWS * self.across])
                yield Unit("columns", "list", partial(self._columns_pt, some), (title, some), again_em=_AGAIN_EM)
            return
        count = len(lines)
        for number, line in enumerate(lines, start=1):
            apart = number < _FIRST_AND_LAST or number == count - 1
            yield Unit(
                "line",
                "list",
                partial(self._line_pt, line),
                (title, line),
                together=apart and number < count,
                again_em=_AGAIN_EM,
                lone=True,
            )

    def _columns_pt(self, lines: Sequence[CardLine], type_pt: float) -> float:
        return max(sum(self._line_pt(line, type_pt) for line in column) for column in self.columns(lines))

    def _line_pt(self, line: CardLine, type_pt: float) -> float:
        columns = (self.amount_em + self.whole_em) * type_pt
        room_pt = self.size.width_pt * (1.0 if self.across == 1 else _COLUMN)
        food: list[Run] = [(line.words, SANS, type_pt)]
        if line.small:
            food.append((f" {line.small}", SANS, small_pt(type_pt)))
        lines = max(count_lines(food, room_pt - columns), self.rows(line))
        return BODY * type_pt * lines + 0.24 * type_pt

    def _words_pt(self, words: Sequence[tuple[str, bool]], type_pt: float) -> float:
        small = small_pt(type_pt)
        runs = [(text, BOLD if bold else SANS, small) for text, bold in words]
        return SMALL * small * count_lines(runs, self.size.width_pt) + 0.7 * type_pt

    def _caution_units(self, *, run_in: bool) -> list[Unit]:
        """Return the cautions as one unit, or each as its own where no face could hold them all."""
        cautions = self.page.paper_cautions
        if not cautions:
            return []
        room_pt = 0.7 * self.size.height_pt
        heights = [partial(self._cautions_pt, each, run_in=run_in) for each in (cautions, *((one,) for one in cautions))]
        unit = partial(Unit, "caution", "method", again_em=-_ABOVE_CAUTIONS_EM)
        if heights[0](self.size.least_pt) < room_pt:
            return [unit(heights[0], (cautions, run_in), together=True)]
        return [unit(high, ((one,), run_in)) for one, high in zip(cautions, heights[1:], strict=True)]

    def _cautions_pt(self, cautions: Sequence[Caution], type_pt: float, *, run_in: bool) -> float:
        size_pt = small_pt(type_pt, CAUTION_EM)
        room_pt = self.size.width_pt - _CAUTION_SIDES_EM * type_pt
        told = [one.short or one.words for one in cautions] + [self.more_cautions] * bool(self.more_cautions)
        if run_in:
            runs = [(self.before_words, BOLD, size_pt), *((f" • {words}", SANS, size_pt) for words in told)]
            return SMALL * size_pt * count_lines(runs, room_pt) + _CAUTION_EDGES_EM * type_pt
        lines = sum(count_lines([(words, SANS, size_pt)], room_pt) for words in told)
        return SMALL * size_pt * (lines + 1) + 0.12 * type_pt * len(told) + _CAUTION_EDGES_EM * type_pt

    def _stage_units(self, stage: StageBlock, place: int) -> Iterator[Unit]:
        told = _told(stage, place, staged=any(one.label for one in self.page.stages))
        pieces = [piece for step in stage.steps for piece in self._pieces_of(step)]
        count = len(pieces)
        for number, step in enumerate(pieces, start=1):
            apart = number < _FIRST_AND_LAST or number == count - 1
            headed = told if number == 1 and (told.title or told.minutes) else None
            batched = number == 1 and place == 0 and bool(self.each_batch)
            height = partial(self._step_pt, step, head=headed, end=number == count, batched=batched)
            yield Unit(
                "step",
                "method",
                height,
                (told, step, number == 1),
                apart and number < count,
                True,
                0.0 if number == 1 else STAGE_EM,
            )

    def _pieces_of(self, step: NumberedStep) -> list[NumberedStep]:
        """Return a step in one piece, or in several where it would fill most of a face by itself."""
        words, high = step.text.split(" "), self._step_pt(step, self.size.least_pt) / self.size.height_pt
        many = ceil(high / _STEP_PIECE) if high > _WIDE_STEP else 1
        each = ceil(len(words) / many)
        texts = [" ".join(words[start : start + each]) for start in range(0, len(words), each)]
        last = len(texts) - 1
        return [
            NumberedStep(step.number if place == 0 else 0, text, temperature=step.temperature if place == last else "")
            for place, text in enumerate(texts)
        ]

    def _step_pt(
        self, step: NumberedStep, type_pt: float, *, head: ToldStage | None = None, end: bool = False, batched: bool = False
    ) -> float:
        room_pt = self.size.width_pt - (_SPINE_EM + _NUMBER_EM) * type_pt
        words = f"{step.text} {step.temperature}".strip()
        high = BODY * type_pt * count_lines([(words, SANS, type_pt)], room_pt) + 0.14 * type_pt
        high += 1.25 * small_pt(type_pt) + 0.2 * type_pt if batched else 0.0
        return high + (STAGE_EM * type_pt * self.head_rows(head, type_pt) if head else 0.0) + (0.6 * type_pt if end else 0.0)

    def head_rows(self, told: ToldStage, type_pt: float) -> int:
        """Return on how many rows a stage's name and its minutes stand: on one where both go beside each other."""
        small = small_pt(type_pt)
        wide_pt = width_pt(told.title, SERIF, _STAGE_NAME_EM * type_pt) + width_pt(
            told.minutes, SERIF, FIGURES_EM[0][1] * type_pt
        )
        wide_pt += sum(width_pt(f" · {words}", SANS, small) for words in told.words) + type_pt
        return 1 if wide_pt <= self.size.width_pt - _SPINE_EM * type_pt else 2

    def foot_pt(self) -> float:
        """Return how high the foot of the last face is, with the space above it. [pt]"""
        room_pt = self.size.width_pt - ((QR_MM + _BESIDE_QR_MM) * PT_A_MM if self.foot.qr else 0)
        texts = [(self.foot.address, BOLD)] * bool(self.foot.address) + [
            (line, SANS) for line in (*self.foot.said, *self.foot.lines)
        ]
        size_pt = self.size.foot_type_pt
        high_pt = sum(1.22 * size_pt * count_lines([(words, face, size_pt)], room_pt) for words, face in texts)
        return max(high_pt, QR_MM * PT_A_MM if self.foot.qr else 0.0) + _ABOVE_FOOT_PT


def _told(stage: StageBlock, place: int, *, staged: bool) -> ToldStage:
    title = f"{stage.label[:1].upper()}{stage.label[1:]}"
    if not title and staged:
        title = sentence(ENGLISH, "card_then" if place else "card_before")
    return ToldStage(place, title, dashed(stage.minutes), stage.words, stage.heat if stage.mark else "none")
