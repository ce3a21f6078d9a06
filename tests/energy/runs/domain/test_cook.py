"""The window of a run and what its readings leave open in it."""

from energy.runs.domain.cook import Cook, holes, steps
from energy.runs.domain.method import choose
from energy.runs.domain.rhythm import Came
from energy.runs.domain.samples import Limits, MeterSpec, Sample, StageSpan

METER = MeterSpec()


def cook(samples, stages=()):
    return Cook(tuple(samples), tuple(stages), METER, Limits())


def test_the_stages_make_the_window_else_the_readings():
    samples = [Sample(900, 5), Sample(-60, 1)]
    assert (cook(samples).start_s, cook(samples).end_s) == (-60, 900)
    staged = cook(samples, [StageSpan("brown", "", 0, 300), StageSpan("hold", "", 300, 600)])
    assert (staged.start_s, staged.end_s) == (0, 600)
    assert (staged.covers(0), staged.covers(600), staged.covers(601)) == (True, True, False)
    assert (cook([]).start_s, cook([]).end_s) == (0, 0)


def test_steps_run_from_reading_to_reading():
    measure = choose([Sample(60, 12), Sample(0, 10), Sample(120, 3)], METER)
    assert steps(measure) == [(0, 60, 2), (60, 120, 3)]


def test_a_silence_is_a_hole_unless_nothing_was_drawn():
    log = [Sample(float(at_s), None, 100.0) for at_s in (*range(0, 100, 5), *range(400, 500, 5))]
    assert holes(cook(log), choose(log, METER, came=Came(False))) == [(95, 400)]
    assert holes(cook(log), choose(log, METER, came=Came(True))) == [(95, 400)]
    switched = [Sample(float(at_s), None, 700.0 * (at_s % 40 < 20)) for at_s in (*range(0, 400, 20), 4000)]
    assert holes(cook(switched), choose(switched, METER, came=Came(True))) == []
    counted = [Sample(0, 0), Sample(4000, 90)]
    assert holes(cook(counted), choose(counted, METER)) == []
