"""The strip: a run's stages side by side, each as wide as its watt-hours."""

from __future__ import annotations

from collections.abc import Sequence

from energy.charts.lettering import grouped, stage_name, text_width
from energy.charts.shapes import Label, Segment, Strip
from energy.domain.facts import StageEnergy
from energy.domain.words import NOTHING_WH, about_wh

_SIZES = {"wide": (660.0, 14.5), "narrow": (340.0, 14.0), "paper": (480.0, 15.0)}
"""Width of the view box and size of the type."""

_BAR_Y, _BAR_HEIGHT = 24.0, 34.0
_EDGE = 1.0
"""Room for the outline of the first and the last segment."""

_GAP = 3.0
_LEAST_WIDTH = 8.0
_LEADER_REACH = 60.0
_BETWEEN = 8.0


def strip(stages: Sequence[StageEnergy], *, narrow: bool = False, paper: bool = False, step_wh: float = 1.0) -> Strip | None:
    """Return the strip of a run's stages, or None where none of them drew anything.

    Parameters
    ----------
    stages : sequence of StageEnergy
        In the order of the cook. Stages that drew nothing have no width and stand only in the table.
    narrow : bool
        The variant for a phone: half as wide a view box, so that its type stays readable.
    paper : bool
        The variant for a card that is 84 mm wide inside: its type prints at 7.5 pt.
    step_wh : float
        What the watt-hours of its title are rounded to: an estimate knows no single ones. [Wh]

    Returns
    -------
    Strip or None

    Notes
    -----
    A segment is at least 8 wide. Labels are placed from the largest stage to the smallest: over the segment's start, else its
    end, else in the nearest free place with a short leader; where that is too far away, the label is left out and its stage
    listed.
    """
    drawn = [stage for stage in stages if stage.energy_wh >= NOTHING_WH]
    if not drawn:
        return None
    width, font = _SIZES["paper" if paper else "narrow" if narrow else "wide"]
    spots = _spots([stage.energy_wh for stage in drawn], width)
    places = _place_labels(drawn, spots, width, font)
    segments = tuple(_segment(stage, spot, place) for stage, spot, place in zip(drawn, spots, places, strict=True))
    return Strip(
        width=width,
        height=_BAR_Y + _BAR_HEIGHT + 20,
        bar_y=_BAR_Y,
        bar_height=_BAR_HEIGHT,
        radius=6.0,
        font_size=font,
        segments=segments,
        title=_strip_title(drawn, step_wh),
        omitted=tuple(stage_name(stage) for stage, place in zip(drawn, places, strict=True) if place is None),
    )


def _spots(energies_wh: Sequence[float], width: float) -> list[tuple[float, float]]:
    """Return start and width of each segment: by energy, none narrower than the least."""
    room = width - 2 * _EDGE - _GAP * (len(energies_wh) - 1)
    least = min(_LEAST_WIDTH, room / len(energies_wh))
    narrow: set[int] = set()
    while True:
        wide_wh = sum(wh for index, wh in enumerate(energies_wh) if index not in narrow)
        per_wh = (room - least * len(narrow)) / wide_wh if wide_wh else 0.0
        more = {index for index, wh in enumerate(energies_wh) if index not in narrow and wh * per_wh < least}
        if not more:
            break
        narrow |= more
    spots, x = [], _EDGE
    for index, wh in enumerate(energies_wh):
        span = least if index in narrow else wh * per_wh
        spots.append((round(x, 1), round(span, 1)))
        x += span + _GAP
    return spots


def _place_labels(
    stages: Sequence[StageEnergy], spots: Sequence[tuple[float, float]], width: float, font: float
) -> list[tuple[float, str] | None]:
    """Return for each segment where its label stands and its anchor, None where there is no room for it."""
    taken: list[tuple[float, float]] = []
    places: list[tuple[float, str] | None] = [None] * len(stages)
    needs = [_need(stage, font) for stage in stages]
    for index in sorted(range(len(stages)), key=lambda one: -spots[one][1]):
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


def _need(stage: StageEnergy, font: float) -> float:
    """Return how wide a stage's label is: its name or its watt-hours."""
    return max(text_width(stage_name(stage), font), text_width(_value(stage), font))


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


def _segment(stage: StageEnergy, spot: tuple[float, float], place: tuple[float, str] | None) -> Segment:
    start, span = spot
    name = value = leader = None
    if place is not None:
        x, anchor = place
        name = Label(stage_name(stage), x, _BAR_Y - 8, anchor)
        value = Label(_value(stage), x, _BAR_Y + _BAR_HEIGHT + 16, anchor)
        if anchor == "middle":
            leader = (x, _BAR_Y - 6, round(start + span / 2, 1), _BAR_Y)
    return Segment(stage.kind, "cycling" if stage.cycling else "on", start, span, name, value, leader)


def _value(stage: StageEnergy) -> str:
    return about_wh(stage.energy_wh, stage.uncertainty_wh)


def _strip_title(stages: Sequence[StageEnergy], step_wh: float) -> str:
    """Return the result in a sentence: the few stages that take most of the energy."""
    total_wh = sum(stage.energy_wh for stage in stages)
    by_size = sorted(stages, key=lambda one: -one.energy_wh)
    most = next(by_size[:count] for count in range(1, len(stages) + 1) if _sum_wh(by_size[:count]) >= 0.8 * total_wh)
    if len(most) > 3:
        return (
            f"{grouped(total_wh, step_wh)} watt-hours over {len(stages)} stages, the most of them in one: "
            f"{stage_name(by_size[0])}, {grouped(by_size[0].energy_wh, step_wh)}."
        )
    names = [stage_name(stage) for stage in stages if stage in most]
    words = " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
    take = "takes" if len(names) == 1 else "take"
    total = grouped(total_wh, step_wh)
    part = f"{grouped(_sum_wh(most), step_wh)} of {total}" if len(most) < len(stages) else f"all {total}"
    return f"{words[:1].upper()}{words[1:]} {take} {part} watt-hours."


def _sum_wh(stages: Sequence[StageEnergy]) -> float:
    return sum(stage.energy_wh for stage in stages)
