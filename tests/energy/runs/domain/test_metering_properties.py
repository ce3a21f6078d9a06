"""What must hold of any run's energy, whatever was read; and how often its ± holds the truth (simulated, fixed seeds)."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.runs.domain.metering import MeterSpec, Sample, StageSpan, summarise

CLIMBS = st.lists(st.tuples(st.integers(1, 300), st.floats(0, 60, allow_nan=False)), min_size=2, max_size=25)


def counted(climbs, start_wh=0.0):
    """Return samples of a counter that climbs by so much after so many seconds, each time."""
    at_s, wh, samples = 0.0, start_wh, [Sample(0.0, start_wh)]
    for span_s, step_wh in climbs:
        at_s, wh = at_s + span_s, wh + step_wh
        samples.append(Sample(at_s, wh))
    return samples


def energy(samples, stages=()):
    return summarise(samples, stages, MeterSpec(0.001, 0)).energy_wh


@given(CLIMBS, st.floats(0.01, 0.99))
def test_energy_is_additive_over_any_cut(climbs, share):
    samples = counted(climbs)
    end_s = samples[-1].at_s
    cut_s = end_s * share
    cook = summarise(samples, [StageSpan("come_up", "", 0, cut_s), StageSpan("hold", "", cut_s, end_s)], MeterSpec(0.001, 0))
    assert sum(stage.energy_wh for stage in cook.stages) == pytest.approx(cook.energy_wh, abs=1e-6)


@given(CLIMBS, st.randoms(use_true_random=False))
def test_the_order_of_arrival_never_matters(climbs, chance):
    samples = counted(climbs)
    mixed = [*samples]
    chance.shuffle(mixed)
    assert summarise(mixed, (), MeterSpec(1, 1)) == summarise(samples, (), MeterSpec(1, 1))


@given(CLIMBS, st.integers(1, 25))
def test_replaying_a_prefix_changes_nothing(climbs, many):
    samples = counted(climbs)
    assert energy([*samples, *samples[:many]]) == pytest.approx(energy(samples))


@given(st.lists(CLIMBS, min_size=1, max_size=4))
def test_resets_never_give_negative_energy(parts):
    samples, at_s = [], 0.0
    for climbs in parts:
        for sample in counted(climbs):
            samples.append(Sample(at_s + sample.at_s, sample.energy_wh))
        at_s = samples[-1].at_s + 1
    cook = summarise(samples, (), MeterSpec(1, 1))
    assert cook.energy_wh >= 0
    assert all(later[1] >= earlier[1] for earlier, later in zip(cook.ladder, cook.ladder[1:], strict=False))


def shown(true_wh, step_wh, gain, offset):
    return int((true_wh * gain + offset) / step_wh + 0.5) * step_wh


@pytest.mark.parametrize(("step_wh", "class_pct"), [(1.0, 2.0), (10.0, 1.0), (0.1, 5.0)])
def test_the_stated_uncertainty_holds_the_truth_as_often_as_it_says(step_wh, class_pct):
    """As JCGM 101 does it: a display of this step and a gain spread evenly over the class, 2,000 times; k = 2 is about 95 %."""
    chance = random.Random(7)
    inside = 0
    for _ in range(2000):
        true_wh, gain, offset = (
            chance.uniform(150, 350),
            1 + chance.uniform(-1, 1) * class_pct / 100,
            chance.uniform(0, 10 * step_wh),
        )
        samples = [Sample(0, shown(0, step_wh, gain, offset)), Sample(1800, shown(true_wh, step_wh, gain, offset))]
        cook = summarise(samples, [StageSpan("come_up", "", 0, 1800)], MeterSpec(step_wh, class_pct))
        inside += abs(cook.energy_wh - true_wh) <= cook.uncertainty_wh
    assert 0.94 <= inside / 2000 <= 1.0
