"""The strip: a run's stages side by side, each as wide as its watt-hours, or as its minutes."""

from __future__ import annotations

from collections.abc import Sequence

from energy.charts.lettering import text_width
from energy.charts.shapes import Label, Segment, Strip
from energy.facts import StageEnergy
from energy.words import Language
from energy.words.figures import NOTHING_WH, format_minutes
from energy.words.titles import Fineness, stage_name, strip_title

_SIZES = {
    "wide": (660.0, 14.5, 34.0),
    "narrow": (340.0, 14.0, 34.0),
    "card": (264.0, 9.5, 20.0),
    "slip": (176.0, 8.2, 11.0),
    "sheet": (520.0, 11.0, 24.0),
}
"""Width of the view box, size of the type, and how high the bar is. On paper they are points."""

_NAME_EM, _VALUE_EM = 0.55, 1.1  # the names' baseline above the bar, and the values' below it
_EDGE = 1.0
"""Room for the outline of the first and the last segment."""

_GAP = 3.0
_LEAST_WIDTH = 8.0
_LEADER_REACH = 60.0
_BETWEEN = 8.0


def strip(
    stages: Sequence[StageEnergy],
    *,
    language: Language,
    narrow: bool = False,
    paper: str = "",
    fine: Fineness = Fineness(),  # noqa: B008 - frozen
    by: str = "energy",
    whole: float | None = None,
) -> Strip | None:
    """Return the strip of a run's stages, or None where there is nothing to draw.

    Parameters
    ----------
    stages : sequence of StageEnergy
        In the order of the cook. Stages that drew nothing have no width by energy, and a bare outline by minutes.
    language : str
        That of its title.
    narrow : bool
        The variant for a phone: half as wide a view box, so that its type stays readable.
    paper : str
        The variant for paper: ``card`` where it is 90 mm wide inside and more, ``slip`` where it is 62 mm, ``sheet`` from
        180 mm on.
    fine : Fineness
        How fine its figures are: an estimate knows no single watt-hours, and its stages are ranges.
    by : str
        What widths stand for: ``energy`` or ``minutes``.
    whole : float, optional
        What the whole width stands for, so that several strips share a scale; by default what this run took. [Wh, or s]

    Returns
    -------
    Strip or None

    Notes
    -----
    A segment is at least 8 wide. Labels are placed from the largest stage to the smallest: over the segment's start, else its
    end, else in the nearest free place with a short leader; where that is too far away, the label is left out and its stage
    listed.
    """
    drawn = [stage for stage in stages if (stage.energy_wh >= NOTHING_WH if by == "energy" else stage.span_s > 0)]
    if not drawn:
        return None
    width, font, bar_height = _SIZES[paper or ("narrow" if narrow else "wide")]
    bar_y = round(1.65 * font)
    sizes = [stage.energy_wh if by == "energy" else stage.span_s for stage in drawn]
    share = min(sum(sizes) / whole, 1.0) if whole else 1.0
    spots = _spots(sizes, width, share)
    values = [fine.stage_wh(one) if by == "energy" else format_minutes(fine.rounded_s(one.span_s)) for one in drawn]
    places = _place_labels(drawn, values, spots, width, font)
    rows = (bar_y - round(_NAME_EM * font, 1), bar_y, bar_y + bar_height + round(_VALUE_EM * font, 1))
    segments = tuple(
        _segment(stage, words, spot, place, rows) for stage, words, spot, place in zip(drawn, values, spots, places, strict=True)
    )
    return Strip(
        width=width,
        height=bar_y + bar_height + round(1.4 * font),
        bar_y=bar_y,
        bar_height=bar_height,
        radius=min(6.0, bar_height / 4),
        font_size=font,
        segments=segments,
        title=strip_title(drawn, by, fine, language),
        omitted=tuple(
            f"{stage_name(one)} {words}" for one, words, place in zip(drawn, values, places, strict=True) if place is None
        ),
    )


def _spots(sizes: Sequence[float], width: float, share: float = 1.0) -> list[tuple[float, float]]:
    """Return start and width of each segment: by its size, none narrower than the least; together a share of the width."""
    gaps = _GAP * (len(sizes) - 1)
    room = max((width - 2 * _EDGE) * share - gaps, float(len(sizes)))
    least = min(_LEAST_WIDTH, room / len(sizes))
    narrow: set[int] = set()
    while True:
        wide = sum(size for index, size in enumerate(sizes) if index not in narrow)
        per_unit = (room - least * len(narrow)) / wide if wide else 0.0
        more = {index for index, size in enumerate(sizes) if index not in narrow and size * per_unit < least}
        if not more:
            break
        narrow |= more
    spots, x = [], _EDGE
    for index, size in enumerate(sizes):
        span = least if index in narrow else size * per_unit
        spots.append((round(x, 1), round(span, 1)))
        x += span + _GAP
    return spots


def _place_labels(
    stages: Sequence[StageEnergy], values: Sequence[str], spots: Sequence[tuple[float, float]], width: float, font: float
) -> list[tuple[float, str] | None]:
    """Return for each segment where its label stands and its anchor, None where there is no room for it.

    The largest first; where that leaves some out, from the right and from the left, if more find a place so.
    """
    needs = [max(text_width(stage_name(one), font), text_width(words, font)) for one, words in zip(stages, values, strict=True)]
    by_size = sorted(range(len(stages)), key=lambda one: -spots[one][1])
    orders = (by_size, list(reversed(range(len(stages)))), list(range(len(stages))))
    tried = [_placed(order, needs, spots, width) for order in orders]
    return max(tried, key=lambda places: sum(place is not None for place in places))


def _placed(
    order: Sequence[int], needs: Sequence[float], spots: Sequence[tuple[float, float]], width: float
) -> list[tuple[float, str] | None]:
    taken: list[tuple[float, float]] = []
    places: list[tuple[float, str] | None] = [None] * len(spots)
    for index in order:
        need, (start, span) = needs[index], spots[index]
        for left, x, anchor in (
            *_after_a_narrow_one(index, needs, spots),
            (start + 1.5, start + 1.5, "start"),
            (start + span - 1.5 - need, start + span - 1.5, "end"),
            *_free_places(taken, start + span / 2, need, width),
        ):
            if left >= -0.01 and left + need <= width + 0.01 and _is_free(taken, left, need):
                taken.append((left, left + need))
                places[index] = (round(x, 1), anchor)
                break
    return places


def _after_a_narrow_one(
    index: int, needs: Sequence[float], spots: Sequence[tuple[float, float]]
) -> list[tuple[float, float, str]]:
    """Return a place that leaves room for the label of the segment before, where that is wider than its segment."""
    if index == 0 or needs[index - 1] <= spots[index - 1][1]:
        return []
    start, span = spots[index]
    left = spots[index - 1][0] + needs[index - 1] + _BETWEEN + 1.5
    return [(left, left, "start")] if left + needs[index] <= start + span else []


def _free_places(
    taken: Sequence[tuple[float, float]], centre: float, need: float, width: float
) -> list[tuple[float, float, str]]:
    """Return places beside what is taken, the nearest to a segment's centre first, as far as a leader reaches."""
    beside = [left for begin, end in taken for left in (end + _BETWEEN, begin - _BETWEEN - need)]
    lefts = [0.0, width - need, *beside]
    near = sorted((abs(left + need / 2 - centre), left) for left in lefts)
    return [
        (left, left + need / 2, "middle")
        for away, left in near
        if away <= _LEADER_REACH and not _crosses(taken, left + need / 2, centre)
    ]


def _crosses(taken: Sequence[tuple[float, float]], label_x: float, centre: float) -> bool:
    """Return whether a leader would run below another label."""
    low, high = sorted((label_x, centre))
    return any(begin < high and end > low for begin, end in taken)


def _is_free(taken: Sequence[tuple[float, float]], left: float, need: float) -> bool:
    return all(left >= end + _BETWEEN - 0.01 or left + need <= begin - _BETWEEN + 0.01 for begin, end in taken)


def _segment(
    stage: StageEnergy,
    words: str,
    spot: tuple[float, float],
    place: tuple[float, str] | None,
    rows: tuple[float, float, float],
) -> Segment:
    """Return a segment with its labels; ``rows`` are where its name, its bar and its value stand."""
    start, span = spot
    name_y, bar_y, value_y = rows
    name = value = leader = None
    if place is not None:
        x, anchor = place
        name = Label(stage_name(stage), x, name_y, anchor)
        value = Label(words, x, value_y, anchor)
        if anchor == "middle":
            leader = (x, name_y + 2, round(start + span / 2, 1), bar_y)
    heat = "off" if stage.energy_wh < NOTHING_WH else "cycling" if stage.cycling else "on"
    return Segment(stage.kind, heat, start, span, name, value, leader)
