"""The kinds of question that are asked of the simulated kitchens, and how well they are answered."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import fmean, median

import numpy as np

from tests.measure.estimates.foretold import Case, Draw, Row
from tests.measure.estimates.kitchens import Day, Pots

ALPHA = 0.05


def _day(**ranges: tuple[float, float]) -> Draw:
    """Return how another day is drawn: each field evenly from a range; the others as they were."""

    def draw(rng: np.random.Generator, pots: Pots, usual: Day) -> Day:
        n = len(pots.loss)
        changed = {name: rng.uniform(*limits, n) for name, limits in ranges.items()}
        if "start_c" in changed and ranges["start_c"][1] < 0:
            changed["frozen"] = np.ones(n) > 0
        return replace(usual, **changed)

    return draw


def _power(low: float, high: float, **ranges: tuple[float, float]) -> Draw:
    return _day(power_share=(low, high), times=(0.7, 1.5), **ranges)


COLD, HIGH = {"air_c": (-15.0, 0.0), "start_c": (1.0, 6.0)}, {"height_m": (2500.0, 4000.0)}

ROWS = (
    Row("same size", _day()),
    Row("food 0.3-0.7", _day(times=(0.3, 0.7))),
    Row("food 1.5-3", _day(times=(1.5, 3.0))),
    Row("frost", _day(**COLD), said=True),
    Row("cold and high", _day(air_c=(-5.0, 10.0), start_c=(2.0, 10.0), **HIGH), said=True),
    Row("2,500-4,000 m", _day(**HIGH), said=True),
    Row("frozen food", _day(start_c=(-20.0, -5.0)), said=True),
    Row("power 50 %", _power(0.45, 0.55), power=0.5),
    Row("power 35 %", _power(0.32, 0.38), power=0.35),
    Row("power 35 %, frost, high", _power(0.32, 0.38, **COLD, **HIGH), said=True, power=0.35),
    Row("fields empty", _day(times=(0.5, 2.0)), empty=True),
    Row("fields empty, power 50 %", _power(0.45, 0.55), empty=True, power=0.5),
    Row("no marks", _day(times=(0.5, 2.0)), marked=False),
    Row("no marks, power 50 %", _power(0.45, 0.55), marked=False, power=0.5),
    Row("power 10-30 %", _power(0.10, 0.30), power=0.2),
)


@dataclass(frozen=True)
class Scored:
    """How well a row is answered: shares [-], bias and median width against the truth [-], interval score over the knowing one's.

    ``false_no``: said "no" of one that gets there; ``failed_yes``: of those told yes, what does not get there; ``missed_no``:
    of all, told yes though it does not get there.
    """

    name: str
    n: int
    covered: float
    bias: float
    width: float
    score: float
    knowing_score: float
    false_no: float
    failed_yes: float
    missed_no: float
    may_not: float

    @property
    def ratio(self) -> float:
        """The interval score over that of a model that knows the split. [-]"""
        return self.score / self.knowing_score


def scored(row: Row, cases: Sequence[Case]) -> Scored:
    """Return how well the questions of a row are answered.

    Notes
    -----
    Covered: the truth lies in the range; an "at least" covers what lies above it, and a "no" or "may not" what never gets there.
    Interval score after Winkler: the width, and 40 times what lies outside; of the cases that are shown a range.
    """
    told = [case for case in cases if case.made.answer != "unknown"]
    yes = [case for case in told if case.made.answer == "yes"]
    ranged = [case for case in yes if math.isfinite(case.truth_wh)]
    compared = [case for case in ranged if math.isfinite(case.known_high)]
    fails = [case for case in yes if not math.isfinite(case.truth_wh)]
    no = [case for case in told if case.made.answer == "no"]
    return Scored(
        name=row.name,
        n=len(told),
        covered=fmean(_covers(case) for case in told),
        bias=fmean((case.made.energy.middle or 0.0) / case.truth_wh - 1 for case in ranged),
        width=median(((case.made.energy.high or 0.0) - case.made.energy.low) / case.truth_wh for case in ranged),
        score=fmean(_winkler(case.made.energy.low, case.made.energy.high or 0.0, case.truth_wh) for case in compared),
        knowing_score=fmean(_winkler(case.known_low, case.known_high, case.truth_wh) for case in compared),
        false_no=sum(math.isfinite(case.truth_wh) for case in no) / len(told),
        failed_yes=len(fails) / max(len(yes), 1),
        missed_no=len(fails) / len(told),
        may_not=sum(case.made.answer == "may_not" for case in told) / len(told),
    )


def _covers(case: Case) -> bool:
    energy = case.made.energy
    if not math.isfinite(case.truth_wh):
        return case.made.answer != "yes"
    if case.made.answer == "no":
        return False
    return energy.low <= case.truth_wh <= (math.inf if energy.high is None or case.made.answer == "may_not" else energy.high)


def _winkler(low: float, high: float, truth: float) -> float:
    return (high - low + 2 / ALPHA * (max(low - truth, 0.0) + max(truth - high, 0.0))) / truth
