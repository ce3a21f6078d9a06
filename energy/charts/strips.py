"""The strip: a cook's stages side by side. Wide is minutes, tall is watts, so the ink is the energy."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from energy.charts.ink import stage_part
from energy.charts.lettering import span_of, text_width
from energy.charts.shapes import Label, Limit, Strip
from energy.facts import StageEnergy
from energy.words import Language
from energy.words.figures import NOTHING_WH, format_minutes, format_watts
from energy.words.titles import Fineness, stage_name, strip_title
from kitchen.domain.band import Band, DrawnBand, draw_band

_SIZES = {
    "wide": (660.0, 14.5, 112.0, True),
    "narrow": (340.0, 14.0, 84.0, True),
    "head": (400.0, 14.0, 96.0, True),
    "share": (340.0, 13.0, 60.0, True),
    "card": (264.0, 9.5, 22.0, False),
    "slip": (176.0, 8.2, 13.0, False),
    "sheet": (520.0, 11.0, 48.0, True),
}
"""Width of the view box, size of the type, how high the ink may reach, whether minutes have room. On paper: points."""

_ON_SCREENS = ("wide", "narrow", "head", "share")
"""The sizes with watts inside the ink; on paper they stand in the method, and white on ember is lost by a red lamp."""

_ABOVE_EM, _LIFT_EM, _NAME_EM, _MINUTES_EM, _FOOT_EM, _IN_EM = 1.4, 0.35, 1.25, 2.5, 0.4, 1.25
_BETWEEN, _INSIDE = 7.0, 6.0
_DOUBTFUL = 0.5
"""Of what share of doubt on a block has no watts written into it: they would stand on the hatching."""

_WITH_GAPS = 1.03
_LIMIT_REACH = 3.0
"""Up to how many times the highest power a limit is drawn: further up it would leave the stages flat."""

Places = list[float | None]


@dataclass(frozen=True)
class Scale:
    """What height and width of several strips stand for, so that they compare by eye. [W, s]"""

    top_w: float
    whole_s: float


def scale_of(cooks: Iterable[Sequence[StageEnergy]]) -> Scale:
    """Return the scale on which the longest of several cooks fills the width and the most powerful one the height.

    Its width leaves room for the gaps between stages.
    """
    parts = [[stage_part(stage) for stage in stages] for stages in cooks]
    top_w = max((part.power_w for one in parts for part in one), default=0.0)
    return Scale(top_w or 1.0, max((sum(part.span_s for part in one) for one in parts), default=0.0) * _WITH_GAPS or 1.0)


def strip(
    stages: Sequence[StageEnergy],
    *,
    language: Language,
    size: str = "wide",
    fine: Fineness = Fineness(),  # noqa: B008 - frozen
    measured: bool = True,
    scale: Scale | None = None,
    limit: tuple[float, str] | None = None,
) -> Strip | None:
    """Return the strip of a run's stages, or None where there is nothing to draw.

    Parameters
    ----------
    stages : sequence of StageEnergy
        In the order of the cook.
    language : str
        That of its title.
    size : str
        ``wide``, ``narrow`` for a phone, ``head`` beneath a picture, ``share`` in one; on paper ``card``
        where it is 90 mm wide and more, ``slip`` where it is 62 mm, ``sheet`` from 180 mm on.
    fine : Fineness
        How fine its figures are: an estimate knows no single watt-hours, and its stages are ranges.
    measured : bool
        Whether it is solid, or an outline whose doubt is hatched.
    scale : Scale, optional
        By default it is as wide as its own time, and as tall as its limit or its highest power.
    limit : tuple, optional
        What the source gives, and the words for it. [W, -]

    Returns
    -------
    Strip or None

    Notes
    -----
    A label stands at its stage's start, else at its end, else beside the one before. What has no room loses its unit, then goes
    to ``omitted``, never smaller and never on another.
    """
    shown = [stage for stage in stages if stage.span_s > 0]
    if not any(stage.energy_wh >= NOTHING_WH for stage in shown):
        return None
    width, font, high, roomy = _SIZES[size]
    band = Band("", "", tuple(stage_part(stage, measured=measured) for stage in shown), measured)
    highest_w = max(part.power_w for part in band.parts) or 1.0
    reached = limit if roomy and limit and limit[0] <= _LIMIT_REACH * highest_w else None
    scale = scale or Scale(max(highest_w, reached[0] if reached else 0.0), sum(part.span_s for part in band.parts))
    drawn = draw_band(band, scale.top_w, scale.whole_s, width=width, ground=high)
    energies = _energies(shown, drawn, fine, font)
    names, minutes, unnamed = _below(shown, drawn, fine, font, roomy=roomy)
    return Strip(
        width=width,
        height=round((_ABOVE_EM + (_MINUTES_EM if roomy else _NAME_EM) + _FOOT_EM) * font) + drawn.height,
        top=round(_ABOVE_EM * font),
        font_size=font,
        drawn=drawn,
        energies=energies,
        peaks=_peaks(shown, band, drawn, font) if size in _ON_SCREENS else (),
        names=names,
        minutes=minutes,
        limit=_limit(reached, energies, drawn, scale.top_w, font) if reached else None,
        title=strip_title(shown, fine, language),
        omitted=tuple(
            f"{stage_name(stage)} {format_minutes(fine.rounded_s(stage.span_s))}"
            for stage, left in zip(shown, unnamed, strict=True)
            if left
        ),
    )


def _energies(stages: Sequence[StageEnergy], drawn: DrawnBand, fine: Fineness, font: float) -> tuple[Label, ...]:
    """Return the watt-hours over the stages, each just above the highest ink that it spans."""
    words = [fine.stage_wh(stage) if stage.energy_wh >= NOTHING_WH else "" for stage in stages]
    places = _placed([text_width(one, font) for one in words], drawn)
    tried = [one if place is not None else one.rpartition("\u00a0")[0] for one, place in zip(words, places, strict=True)]
    places = _placed([text_width(one, font) for one in tried], drawn)
    labels = []
    for told, x in zip(tried, places, strict=True):
        if told and x is not None:
            end = x + text_width(told, font)
            top = min((high for left, right, high in drawn.spots if left < end and right > x), default=drawn.ground)
            labels.append(Label(told, round(x, 1), round(top - _LIFT_EM * font, 1)))
    return tuple(labels)


def _peaks(stages: Sequence[StageEnergy], band: Band, drawn: DrawnBand, font: float) -> tuple[Label, ...]:
    """Return the watts inside the blocks that have room for them."""
    labels = []
    for stage, part, (left, right, top) in zip(stages, band.parts, drawn.spots, strict=True):
        words = format_watts(stage.mean_w if stage.peak_w is None else stage.peak_w)
        roomy = drawn.ground - top >= 1.7 * font and right - left >= text_width(words, font) + 2 * _INSIDE
        if part.on >= 1 and part.power_w > 0 and roomy and part.doubt < _DOUBTFUL:
            labels.append(Label(words, round(left + _INSIDE, 1), round(top + _IN_EM * font, 1)))
    return tuple(labels)


def _below(
    stages: Sequence[StageEnergy], drawn: DrawnBand, fine: Fineness, font: float, *, roomy: bool
) -> tuple[tuple[Label, ...], tuple[Label, ...], list[bool]]:
    """Return names and minutes beneath the line, and for each stage whether its name is left out."""
    named = [stage_name(stage) for stage in stages]
    spans = [format_minutes(fine.rounded_s(stage.span_s)) if roomy else "" for stage in stages]
    needs = [max(text_width(name, font), text_width(span, font)) for name, span in zip(named, spans, strict=True)]
    places = _placed(needs, drawn)
    names = [
        Label(name, round(x, 1), _under(drawn, _NAME_EM, font)) for name, x in zip(named, places, strict=True) if x is not None
    ]
    minutes = [
        Label(span, round(x, 1), _under(drawn, _MINUTES_EM, font))
        for span, x in zip(spans, places, strict=True)
        if x is not None and span
    ]
    return tuple(names), tuple(minutes), [x is None for x in places]


def _under(drawn: DrawnBand, rows_em: float, font: float) -> float:
    return round(drawn.height + rows_em * font, 1)


def _placed(needs: Sequence[float], drawn: DrawnBand) -> Places:
    """Return where each label begins, None where it has no room: the widest stages first, else from one end or the other."""
    by_width = sorted(range(len(needs)), key=lambda one: drawn.spots[one][0] - drawn.spots[one][1])
    orders = (by_width, list(range(len(needs))), list(reversed(range(len(needs)))))
    tried = [_in_order(order, needs, drawn) for order in orders]
    return max(tried, key=lambda places: sum(place is not None for place in places))


def _in_order(order: Sequence[int], needs: Sequence[float], drawn: DrawnBand) -> Places:
    taken: list[tuple[float, float]] = []
    places: Places = [None] * len(needs)
    for index in order:
        need, (start, end, _) = needs[index], drawn.spots[index]
        beside = [right + _BETWEEN for _, right in taken if start <= right + _BETWEEN < end]
        for left in (start, end - need, *sorted(beside)):
            if need and 0 <= left <= drawn.width - need + 0.01 and _is_free(taken, left, need):
                taken.append((left, left + need))
                places[index] = left
                break
    return places


def _is_free(taken: Sequence[tuple[float, float]], left: float, need: float) -> bool:
    return all(left >= end + _BETWEEN - 0.01 or left + need <= begin - _BETWEEN + 0.01 for begin, end in taken)


def _limit(limit: tuple[float, str], energies: Sequence[Label], drawn: DrawnBand, top_w: float, font: float) -> Limit | None:
    """Return the line of what the source gives, broken where a label stands on it; None where its words have no room."""
    power_w, words = limit
    y = round(drawn.ground * (1 - power_w / top_w), 1)
    boxes = [(*span_of(label, font), label.y - font, label.y + _LIFT_EM * font) for label in energies]
    boxes += [(left, right, top, drawn.ground) for left, right, top in drawn.spots]
    for told in (words, format_watts(power_w)):
        need = text_width(told, font)
        for x in (drawn.width - need, 0.0):
            met = [left < x + need and right > x and top < y and low > y - 1.3 * font for left, right, top, low in boxes]
            if x >= 0 and not any(met):
                label = Label(told, drawn.width if x else 0.0, round(y - _LIFT_EM * font, 1), "end" if x else "start")
                cuts = [(left - 4, right + 4) for left, right, top, low in boxes[: len(energies)] if top < y < low]
                return Limit(y, _pieces(cuts, drawn.width), label)
    return None


def _pieces(cuts: Sequence[tuple[float, float]], width: float) -> tuple[tuple[float, float], ...]:
    """Return a line of a width without some stretches of it.

    Examples
    --------
    >>> _pieces([(20, 40), (90, 120)], 100)
    ((0.0, 20), (40, 90))
    """
    pieces, start = [], 0.0
    for left, right in sorted(cuts):
        if left > start:
            pieces.append((start, left))
        start = max(start, right)
    return tuple([*pieces, (start, width)] if start < width else pieces)
