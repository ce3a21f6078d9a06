"""A tariff's week as a drawing: seven days below each other, the dearer the hour the fuller its box."""

from __future__ import annotations

from dataclasses import dataclass

from energy.charts.lettering import text_width
from energy.charts.shapes import Label
from energy.tariffs.domain.hours import DAY_MIN, WEEKDAYS, Band, Hours
from energy.words import Language
from energy.words.titles import week_title

_ROW, _GAP, _LEFT, _TOP = 26.0, 6.0, 44.0, 22.0
_WIDTH, _NARROW = 640.0, 320.0
_FONT = 13.0
_TICKS_H = (0, 6, 12, 18, 24)


@dataclass(frozen=True)
class Box:
    """One run of a band on one day; ``level`` is 0 for the cheapest price of the tariff and 3 for the dearest."""

    x: float
    y: float
    width: float
    level: int
    label: Label | None


@dataclass(frozen=True)
class WeekDrawing:
    """Boxes, the names of days and hours, and the sentence that the drawing says."""

    width: float
    height: float
    font_size: float
    box_height: float
    title: str
    boxes: tuple[Box, ...]
    days: tuple[Label, ...]
    hours: tuple[Label, ...]


def week_drawing(hours: Hours, month: int, *, language: Language, narrow: bool = False) -> WeekDrawing:
    """Return the drawing of an ordinary week of a month."""
    width = _NARROW if narrow else _WIDTH
    scale = (width - _LEFT - 8) / DAY_MIN
    boxes = [
        _box(hours, band, x=_LEFT + start * scale, y=_row_y(number), width=(end - start) * scale)
        for number, runs in enumerate(hours.week(month))
        for start, end, band in runs
        if band is not None
    ]
    days = tuple(Label(WEEKDAYS[number][:3], 0, round(_row_y(number) + _ROW * 0.68, 1), "start") for number in range(7))
    ticks = tuple(Label(f"{hour}", round(_LEFT + hour * 60 * scale, 1), _TOP - 8, "middle") for hour in _TICKS_H)
    return WeekDrawing(width, _row_y(7), _FONT, _ROW, week_title(hours, month, language), tuple(boxes), days, ticks)


def _row_y(number: int) -> float:
    return _TOP + number * (_ROW + _GAP)


def _box(hours: Hours, band: Band, *, x: float, y: float, width: float) -> Box:
    prices = sorted({one.price_per_kwh for one in hours.bands})
    level = _level(prices.index(band.price_per_kwh), len(prices))
    fits = text_width(band.name, _FONT) < width - 8
    label = Label(band.name, round(x + width / 2, 1), round(y + _ROW * 0.68, 1), "middle") if fits else None
    return Box(round(x, 1), y, round(width, 1), level, label)


def _level(rank: int, count: int) -> int:
    """Return 0 to 3 for a price's rank among all."""
    return 0 if count == 1 else round(3 * rank / (count - 1))
