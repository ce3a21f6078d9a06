"""The window of a run and what its readings leave open in it."""

from energy.domain.cook import Cook, holes, steps
from energy.domain.method import choose
from energy.domain.samples import Limits, MeterSpec, Sample, StageSpan

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


def test_only_an_even_log_has_holes():
    log = [Sample(float(at_s), None, 100.0) for at_s in (*range(0, 100, 5), *range(400, 500, 5))]
    assert holes(cook(log), choose(log, METER, held=False)) == [(95, 400)]
    assert holes(cook(log), choose(log, METER, held=True)) == []
    counted = [Sample(0, 0), Sample(4000, 90)]
    assert holes(cook(counted), choose(counted, METER)) == []
