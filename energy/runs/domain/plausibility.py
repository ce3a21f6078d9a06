"""What looks wrong in a run, each as a remark. None says that nothing does."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from energy.runs.domain.counter import Fall
from energy.runs.domain.samples import StageSpan
from kitchen.domain.remark import Remark, remark
from kitchen.domain.stages import STAGE_KINDS

RATED_MARGIN = 1.10
"""How far above its rated power an appliance may seem to draw before it is called wrong."""

EFFICIENCY_WRONG = 1.0
EFFICIENCY_DOUBTFUL = 0.9
EFFICIENCY_LOSSY = 0.5

OFF_STAGE_WH = 10.0
"""What a stage in which nothing heats may draw at most. [Wh]"""

END_GAP_S = 60.0
"""How long the start or the end of a run may go unread. [s]"""


def counter_fell(falls: Sequence[Fall]) -> Remark | None:
    """Return what a falling counter means.

    Examples
    --------
    >>> counter_fell([Fall(720, 118, 4)])
    Remark(code='counter_fell', values={'before_wh': 118.0, 'after_wh': 4.0, 'at_s': 720.0})
    """
    if not falls:
        return None
    first = falls[0]
    figures = {"before_wh": first.before_wh, "after_wh": first.after_wh, "at_s": first.at_s}
    if len(falls) > 2:
        return remark("counter_fell_often", **figures, more=len(falls) - 1)
    return remark("counter_fell" if len(falls) == 1 else "counter_fell_twice", **figures)


def cut_short(cooking_s: float, method_s: float | None) -> Remark | None:
    """Return a remark where a run cooked for less than a third of the method's minutes: a trial, or a mark that is missing.

    Examples
    --------
    >>> cut_short(180, 1800).code, cut_short(700, 1800), cut_short(180, None)
    ('cut_short', None, None)
    """
    if not method_s or cooking_s * 3 >= method_s:
        return None
    return remark("cut_short", cooking_s=cooking_s, method_s=method_s)


def off_stage_draws(
    stages: Iterable[tuple[str, float, float, float]], rated_w: float | None, step_wh: float = 0.0
) -> Remark | None:
    """Return a remark where a release or a rest drew what only a heater draws: a stage typed into the wrong row.

    Parameters
    ----------
    stages : iterable of (str, float, float, float)
        Kind, start, end and energy of each stage. [-, s, s, Wh]
    rated_w : float or None
        The appliance's rated power; None counts as 400 W. [W]
    step_wh : float
        The meter's display step, by which a difference may be off. [Wh]

    Returns
    -------
    Remark or None
        Of the stage that drew most.

    Notes
    -----
    More than 10 Wh, and on average more than a quarter of the rated power: lights, fans and keeping warm draw less (our rule).

    Examples
    --------
    >>> off_stage_draws([("hold", 0, 600, 90), ("release", 600, 1200, 108)], 700)
    Remark(code='off_stage_draws', values={'kind': 'release', 'start_s': 600.0, 'end_s': 1200.0, 'energy_wh': 108.0})
    >>> off_stage_draws([("rest", 0, 1800, 15)], 700)
    """
    least_w = (rated_w or 400.0) / 4
    over = [
        (energy_wh, kind, start_s, end_s)
        for kind, start_s, end_s, energy_wh in stages
        if kind in STAGE_KINDS and STAGE_KINDS[kind].off
        if energy_wh - step_wh > max(OFF_STAGE_WH, least_w * (end_s - start_s) / 3600)
    ]
    if not over:
        return None
    energy_wh, kind, start_s, end_s = max(over)
    return remark("off_stage_draws", kind=STAGE_KINDS[kind].label, start_s=start_s, end_s=end_s, energy_wh=energy_wh)


def above_rated(climbs: Iterable[tuple[float, float, float]], rated_w: float | None, step_wh: float = 0.0) -> Remark | None:
    """Return a remark where the energy is more than the appliance can draw.

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
    Remark or None
        Of the worst stretch.

    Notes
    -----
    Rated power x time, plus 10 %, plus one display step.

    Examples
    --------
    >>> worst = above_rated([(0, 300, 56), (300, 600, 149)], 700)
    >>> worst.values["start_s"], round(worst.values["most_wh"])
    (300.0, 58)
    >>> above_rated([(0, 300, 56)], 700)
    """
    if not rated_w:
        return None
    over = [
        (energy_wh - rated_w * (end_s - start_s) / 3600, start_s, end_s, energy_wh)
        for start_s, end_s, energy_wh in climbs
        if energy_wh - step_wh > rated_w * RATED_MARGIN * (end_s - start_s) / 3600 + 1e-9
    ]
    if not over:
        return None
    excess_wh, start_s, end_s, energy_wh = max(over)
    most_wh = energy_wh - excess_wh
    return remark("above_rated", start_s=start_s, end_s=end_s, energy_wh=energy_wh, rated_w=rated_w, most_wh=most_wh)


def peak_above_rated(peak_w: float | None, rated_w: float | None) -> Remark | None:
    """Return a remark where the watts read lie more than 10 % above the appliance's rated power.

    Examples
    --------
    >>> peak_above_rated(1510, 700)
    Remark(code='peak_above_rated', values={'peak_w': 1510.0, 'rated_w': 700.0})
    """
    if peak_w is None or not rated_w or peak_w <= rated_w * RATED_MARGIN:
        return None
    return remark("peak_above_rated", peak_w=peak_w, rated_w=rated_w)


def peak_above_source(peak_w: float | None, name: str, continuous_w: float | None, surge_w: float | None = None) -> Remark | None:
    """Return a remark where the peak is more than the source can give, for seconds where it has a surge rating.

    Examples
    --------
    >>> peak_above_source(690, "the small station", 600)
    Remark(code='peak_above_source', values={'peak_w': 690.0, 'name': 'the small station', 'limit_w': 600.0})
    >>> peak_above_source(690, "the small station", 600, surge_w=1200)
    """
    limit_w = max(continuous_w or 0.0, surge_w or 0.0)
    if peak_w is None or not limit_w or peak_w <= limit_w:
        return None
    return remark("peak_above_source", peak_w=peak_w, name=name, limit_w=limit_w)


def stages_backward(stages: Sequence[StageSpan]) -> Remark | None:
    """Return a remark where a stage ends before it starts, or starts before the stage before it.

    Examples
    --------
    >>> stages_backward([StageSpan("brown", "", 0, 600), StageSpan("hold", "", 600, 540)])
    Remark(code='stage_backward', values={'stage': 2.0, 'start_s': 600.0, 'end_s': 540.0})
    """
    for number, stage in enumerate(stages, start=1):
        if stage.end_s < stage.start_s:
            return remark("stage_backward", stage=number, start_s=stage.start_s, end_s=stage.end_s)
    for number, (before, after) in enumerate(pairwise(stages), start=2):
        if after.start_s < before.end_s:
            return remark("stages_overlap", stage=number, before=number - 1)
    return None


def start_unread(unread_s: float, at_least_wh: float) -> Remark | None:
    """Return a remark where the first reading came long after the start.

    Examples
    --------
    >>> start_unread(240, 101)
    Remark(code='start_unread', values={'unread_s': 240.0, 'energy_wh': 101.0})
    """
    return remark("start_unread", unread_s=unread_s, energy_wh=at_least_wh) if unread_s > END_GAP_S else None


def end_unread(unread_s: float, at_least_wh: float) -> Remark | None:
    """Return a remark where the last reading came long before the end, while something may still have drawn.

    Examples
    --------
    >>> end_unread(30, 101)
    """
    return remark("end_unread", unread_s=unread_s, energy_wh=at_least_wh) if unread_s > END_GAP_S else None


def counter_faulty(faults: Sequence[Fall], hidden_wh: float) -> Remark | None:
    """Return a remark about a counter that fell although it did not begin again.

    Examples
    --------
    >>> counter_faulty([Fall(720, 7_016_350, 7_016_280, 660, False)], 20).values["hidden_wh"]
    20.0
    """
    if not faults:
        return None
    first = faults[0]
    figures = {"before_wh": first.before_wh, "after_wh": first.after_wh, "at_s": first.at_s, "hidden_wh": hidden_wh}
    return (
        remark("counter_faulty", **figures) if len(faults) == 1 else remark("counter_faulty_often", **figures, places=len(faults))
    )


def hole(from_s: float, to_s: float, counted_wh: float, most_wh: float) -> Remark:
    """Return a remark about a time of which a log tells nothing.

    Examples
    --------
    >>> hole(600, 1080, 0, 157)
    Remark(code='hole', values={'span_s': 480.0, 'from_s': 600.0, 'counted_wh': 0.0, 'most_wh': 157.0})
    """
    return remark("hole", span_s=to_s - from_s, from_s=from_s, counted_wh=counted_wh, most_wh=most_wh)


def more_holes(spans_s: Sequence[float]) -> Remark | None:
    """Return a remark about the shorter holes beside those that are told one by one.

    Examples
    --------
    >>> more_holes([90, 70]).values, more_holes([])
    ({'places': 2.0, 'span_s': 160.0}, None)
    """
    return remark("more_holes", places=len(spans_s), span_s=sum(spans_s)) if spans_s else None


def charge_rose(rises: Sequence[tuple[float, float]]) -> Remark | None:
    """Return a remark where the battery was charging while it cooked.

    Examples
    --------
    >>> charge_rose([(900, 3)])
    Remark(code='charge_rose', values={'rise_pct': 3.0, 'until_s': 900.0})
    """
    return remark("charge_rose", rise_pct=sum(rise for _, rise in rises), until_s=rises[-1][0]) if rises else None


def coarse_log(interval_s: float) -> Remark:
    """Return a remark about a cycling load sampled too seldom."""
    return remark("coarse_log", interval_s=interval_s)


def counter_against_watts(counter_wh: float, integral_wh: float, limit_wh: float) -> Remark | None:
    """Return a remark where the counter and the watts tell different energies.

    Examples
    --------
    >>> counter_against_watts(213, 260, 9)
    Remark(code='counter_against_watts', values={'counter_wh': 213.0, 'watts_wh': 260.0})
    >>> counter_against_watts(213, 216, 9)
    """
    if abs(counter_wh - integral_wh) <= limit_wh:
        return None
    return remark("counter_against_watts", counter_wh=counter_wh, watts_wh=integral_wh)


def efficiency(needed_wh: float, measured_wh: float, *, at_least: bool = False) -> Remark | None:
    """Return a remark where food and pot seem to have taken more heat than any cooker of its energy can give.

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
    Remark or None
        None below 0.9.

    Examples
    --------
    >>> efficiency(240, 213)
    Remark(code='heat_above_energy', values={'needed_wh': 240.0, 'measured_wh': 213.0})
    >>> efficiency(190, 200)
    Remark(code='hardly_lost', values={'share_pct': 95.0})
    >>> efficiency(150, 213)
    """
    if measured_wh <= 0:
        return None
    ratio = needed_wh / measured_wh
    if ratio > EFFICIENCY_WRONG:
        code = "more_heat_above_energy" if at_least else "heat_above_energy"
        return remark(code, needed_wh=needed_wh, measured_wh=measured_wh)
    if ratio < EFFICIENCY_DOUBTFUL:
        return None
    return remark("even_less_lost" if at_least else "hardly_lost", share_pct=ratio * 100)


def much_lost(needed_wh: float, measured_wh: float) -> Remark | None:
    """Return a remark where less than half of the energy went into food and pot. It is no flag: slow cookers are honestly there.

    Examples
    --------
    >>> much_lost(90, 200)
    Remark(code='much_lost', values={'share_pct': 45.0})
    >>> much_lost(150, 213)
    """
    if measured_wh <= 0 or needed_wh / measured_wh >= EFFICIENCY_LOSSY:
        return None
    return remark("much_lost", share_pct=needed_wh / measured_wh * 100)


def outside_the_run(count: int, energy_wh: float) -> Remark | None:
    """Return a remark about readings before the first or after the last stage, and the energy they show there.

    Examples
    --------
    >>> outside_the_run(2, 14)
    Remark(code='readings_outside', values={'readings': 2.0, 'energy_wh': 14.0})
    """
    if count <= 1:
        return remark("reading_outside", energy_wh=energy_wh) if count else None
    return remark("readings_outside", readings=count, energy_wh=energy_wh)


def rare_watts(interval_s: float) -> Remark:
    """Return a remark about watts that were read so seldom that their energy is a guess."""
    return remark("rare_watts", interval_s=interval_s)
