"""What looks wrong in a run, each as a sentence for a person. An empty string says that nothing does."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from energy.domain.counter import Fall
from energy.domain.samples import StageSpan
from energy.domain.words import format_minutes, format_moment, format_percent, format_watts, format_wh

RATED_MARGIN = 1.10
"""How far above its rated power an appliance may seem to draw before it is called wrong."""

EFFICIENCY_WRONG = 1.0
EFFICIENCY_DOUBTFUL = 0.9
EFFICIENCY_LOSSY = 0.5

END_GAP_S = 60.0
"""How long the start or the end of a run may go unread. [s]"""


def counter_fell(falls: Sequence[Fall]) -> str:
    """Return what a falling counter means.

    Examples
    --------
    >>> counter_fell([Fall(720, 118, 4)]).replace(chr(160), " ")
    'The counter fell from 118 to 4 Wh at minute 12: taken as a reset, with 4 Wh drawn since. Check that reading.'
    """
    if not falls:
        return ""
    first = falls[0]
    more = {1: "", 2: ", and once more"}.get(len(falls), f", and {len(falls) - 1} more times")
    return (
        f"The counter fell from {first.before_wh:g} to {format_wh(first.after_wh)} at {format_moment(first.at_s)}{more}: "
        f"taken as a reset, with {format_wh(first.after_wh)} drawn since. Check that reading."
    )


def above_rated(climbs: Iterable[tuple[float, float, float]], rated_w: float | None, step_wh: float = 0.0) -> str:
    """Return a sentence where the energy is more than the appliance can draw.

    Parameters
    ----------
    climbs : iterable of (float, float, float)
        Start, end and energy of the stretches to look at. [s, s, Wh]
    rated_w : float or None
        The appliance's rated power; None finds nothing. [W]
    step_wh : float
        The meter's display step, which a difference may be off by. [Wh]

    Returns
    -------
    str
        The worst stretch in words, or empty.

    Notes
    -----
    Rated power x time, plus 10 %, plus one display step.

    Examples
    --------
    >>> above_rated([(0, 300, 56), (300, 600, 149)], 700).replace(chr(160), " ")
    'From minute 5 to minute 10 the meter shows 149 Wh, but 700 W can draw at most 58 Wh in that time: check the readings.'
    >>> above_rated([(0, 300, 56)], 700)
    ''
    """
    if not rated_w:
        return ""
    over = [
        (energy_wh - rated_w * (end_s - start_s) / 3600, start_s, end_s, energy_wh)
        for start_s, end_s, energy_wh in climbs
        if energy_wh - step_wh > rated_w * RATED_MARGIN * (end_s - start_s) / 3600 + 1e-9
    ]
    if not over:
        return ""
    excess_wh, start_s, end_s, energy_wh = max(over)
    return (
        f"From {format_moment(start_s)} to {format_moment(end_s)} the meter shows {format_wh(energy_wh)}, "
        f"but {format_watts(rated_w)} can draw at most {format_wh(energy_wh - excess_wh)} in that time: check the readings."
    )


def peak_above_rated(peak_w: float | None, rated_w: float | None) -> str:
    """Return a sentence where the watts read lie more than 10 % above the appliance's rated power.

    Examples
    --------
    >>> peak_above_rated(1510, 700).replace(chr(160), " ")
    'A reading shows 1,510 W, but the cooker is rated 700 W: check the reading, the cooker and what else hung on the meter.'
    """
    if peak_w is None or not rated_w or peak_w <= rated_w * RATED_MARGIN:
        return ""
    return (
        f"A reading shows {format_watts(peak_w)}, but the cooker is rated {format_watts(rated_w)}: check the reading, the cooker "
        "and what else hung on the meter."
    )


def peak_above_source(peak_w: float | None, name: str, continuous_w: float | None, surge_w: float | None = None) -> str:
    """Return a sentence where the peak is more than the source can give, for seconds where it has a surge rating.

    Examples
    --------
    >>> peak_above_source(690, "the small station", 600).replace(chr(160), " ")
    'The peak of 690 W is more than the small station gives (600 W): check the reading and the rating.'
    >>> peak_above_source(690, "the small station", 600, surge_w=1200)
    ''
    """
    limit_w = max(continuous_w or 0.0, surge_w or 0.0)
    if peak_w is None or not limit_w or peak_w <= limit_w:
        return ""
    return (
        f"The peak of {format_watts(peak_w)} is more than {name} gives ({format_watts(limit_w)}): "
        "check the reading and the rating."
    )


def backward_rows(moments_s: Sequence[float], first_row: int = 1) -> str:
    """Return a sentence where time runs backward from one row of a log to the next.

    Examples
    --------
    >>> backward_rows([0, 60, 50, 120], first_row=2)
    'Row 4 is earlier than the row before it: the rows were put in the order of time.'
    """
    back = [row for row in range(1, len(moments_s)) if moments_s[row] < moments_s[row - 1]]
    if not back:
        return ""
    if len(back) == 1:
        return f"Row {back[0] + first_row} is earlier than the row before it: the rows were put in the order of time."
    return (
        f"In {len(back)} places, first at row {back[0] + first_row}, a row is earlier than the one before it: "
        "the rows were put in the order of time."
    )


def stages_backward(stages: Sequence[StageSpan]) -> str:
    """Return a sentence where a stage ends before it starts, or starts before the stage before it.

    Examples
    --------
    >>> stages_backward([StageSpan("brown", "", 0, 600), StageSpan("hold", "", 600, 540)])
    'Time goes backward: stage 2 starts at minute 10 and ends at minute 9. Correct its mark.'
    """
    for number, stage in enumerate(stages, start=1):
        if stage.end_s < stage.start_s:
            return (
                f"Time goes backward: stage {number} starts at {format_moment(stage.start_s)} and ends at "
                f"{format_moment(stage.end_s)}. Correct its mark."
            )
    for number, (before, after) in enumerate(pairwise(stages), start=2):
        if after.start_s < before.end_s:
            return f"Time goes backward: stage {number} starts before stage {number - 1} has ended. Correct its mark."
    return ""


def start_unread(unread_s: float, at_least_wh: float) -> str:
    """Return a sentence where the first reading came long after the start.

    Examples
    --------
    >>> start_unread(240, 101).replace(chr(160), " ")
    'Nothing was read in the first 4 min: what was drawn then is missing, so the energy is at least 101 Wh.'
    """
    if unread_s <= END_GAP_S:
        return ""
    return (
        f"Nothing was read in the first {format_minutes(unread_s)}: what was drawn then is missing, so the energy is at least "
        f"{format_wh(at_least_wh)}."
    )


def end_unread(unread_s: float, at_least_wh: float) -> str:
    """Return a sentence where the last reading came long before the end, while something may still have drawn.

    Examples
    --------
    >>> end_unread(30, 101)
    ''
    """
    if unread_s <= END_GAP_S:
        return ""
    return (
        f"Nothing was read in the last {format_minutes(unread_s)}: what was drawn then is missing, so the energy is at least "
        f"{format_wh(at_least_wh)}."
    )


def gap(from_s: float, to_s: float) -> str:
    """Return a sentence about a hole in a log of watts.

    Examples
    --------
    >>> gap(600, 1080).replace(chr(160), " ")
    'The log has a gap of 8 min from minute 10 on: what was drawn there is a guess.'
    """
    return (
        f"The log has a gap of {format_minutes(to_s - from_s)} from {format_moment(from_s)} on: what was drawn there is a guess."
    )


def charge_rose(rises: Sequence[tuple[float, float]]) -> str:
    """Return a sentence where the battery was charging while it cooked.

    Examples
    --------
    >>> charge_rose([(900, 3)]).replace(chr(160), " ")
    'The charge rose by 3 % until minute 15 while cooking: something was charging the battery, so its fall says too little.'
    """
    if not rises:
        return ""
    return (
        f"The charge rose by {format_percent(sum(rise for _, rise in rises))} until {format_moment(rises[-1][0])} while cooking: "
        "something was charging the battery, so its fall says too little."
    )


def coarse_log(interval_s: float) -> str:
    """Return a sentence about a cycling load sampled too seldom.

    Examples
    --------
    >>> coarse_log(60).replace(chr(160), " ")
    'The element ticks on and off, but the log has a value only every 60 s: the energy may be far off. Log every 10 s or faster.'
    """
    return (
        f"The element ticks on and off, but the log has a value only every {interval_s:g}\u00a0s: the energy may be far off. "
        "Log every 10\u00a0s or faster."
    )


def counter_against_watts(counter_wh: float, integral_wh: float, limit_wh: float) -> str:
    """Return a sentence where the counter and the watts tell different energies.

    Examples
    --------
    >>> counter_against_watts(213, 260, 9).replace(chr(160), " ")
    'The counter says 213 Wh and the watts add up to 260 Wh: more apart than both can be off. One of them is wrong.'
    >>> counter_against_watts(213, 216, 9)
    ''
    """
    if abs(counter_wh - integral_wh) <= limit_wh:
        return ""
    return (
        f"The counter says {format_wh(counter_wh)} and the watts add up to {format_wh(integral_wh)}: "
        "more apart than both can be off. One of them is wrong."
    )


def efficiency(needed_wh: float, measured_wh: float, *, at_least: bool = False) -> str:
    """Return a sentence where food and pot seem to have taken more heat than any cooker of its energy can give.

    Parameters
    ----------
    needed_wh : float
        Heat into food and pot. [Wh]
    measured_wh : float, >= 0
        Energy by the time they had taken it; nothing measured finds nothing. [Wh]
    at_least : bool
        Whether they may have taken more than that.

    Returns
    -------
    str
        Empty below 0.9.

    Examples
    --------
    >>> efficiency(240, 213).replace(chr(160), " ")
    'Food and pot took about 240 Wh, more than the 213 Wh measured: wrong meter side or end temperature, or a missed stage.'
    >>> efficiency(200, 213).replace(chr(160), " ")
    'The heat that food and pot took is 94 % of the energy measured: doubtful, hardly any cooker is that good.'
    >>> efficiency(150, 213)
    ''
    """
    if measured_wh <= 0:
        return ""
    ratio = needed_wh / measured_wh
    if ratio > EFFICIENCY_WRONG:
        return (
            f"Food and pot took {'at least' if at_least else 'about'} {format_wh(needed_wh)}, more than the "
            f"{format_wh(measured_wh)} measured: wrong meter side or end temperature, or a missed stage."
        )
    if ratio < EFFICIENCY_DOUBTFUL:
        return ""
    share = f"{'at least ' if at_least else ''}{format_percent(ratio * 100)}"
    return f"The heat that food and pot took is {share} of the energy measured: doubtful, hardly any cooker is that good."


def much_lost(needed_wh: float, measured_wh: float) -> str:
    """Return a note where less than half of the energy went into food and pot. It is no flag: slow cookers are honestly there.

    Examples
    --------
    >>> much_lost(90, 213).replace(chr(160), " ")
    'The heat that food and pot took is only 42 % of the energy measured: a slow or open pot, or did it vent?'
    >>> much_lost(150, 213)
    ''
    """
    if measured_wh <= 0 or needed_wh / measured_wh >= EFFICIENCY_LOSSY:
        return ""
    share = format_percent(needed_wh / measured_wh * 100)
    return f"The heat that food and pot took is only {share} of the energy measured: a slow or open pot, or did it vent?"


def outside_the_run(count: int, energy_wh: float) -> str:
    """Return a note about readings before the first or after the last stage, and the energy they show there.

    Examples
    --------
    >>> outside_the_run(2, 14).replace(chr(160), " ")
    '2 readings lie outside the stages; the 14 Wh they show there do not count.'
    """
    if not count:
        return ""
    subject = "1 reading lies" if count == 1 else f"{count} readings lie"
    shows = "it shows" if count == 1 else "they show"
    return f"{subject} outside the stages; the {format_wh(energy_wh)} {shows} there do not count."


def rare_watts(interval_s: float) -> str:
    """Return a sentence about watts that were read so seldom that their energy is a guess.

    Examples
    --------
    >>> rare_watts(300).replace(chr(160), " ")
    'The watts were read only about every 5 min: the energy between them is a guess. Read the counter too.'
    """
    often = format_minutes(interval_s)
    return f"The watts were read only about every {often}: the energy between them is a guess. Read the counter too."
