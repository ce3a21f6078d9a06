"""What cooks at both ends teach about an inverter."""

import random

import pytest

from energy.domain.learned import BothEnds, learned_efficiency

STATION = {"capacity_wh": 1024.0, "idle_w": 9.0, "step_pct": 1.0}


def cook(load_wh, efficiency=0.88, span_s=2400, step=1.0):
    fall = (load_wh / efficiency + 9 * span_s / 3600) / 10.24
    return BothEnds(load_wh, 3.0, round(fall / step) * step, span_s)


def test_a_true_efficiency_lies_inside_what_is_learned_nineteen_times_of_twenty():
    chance = random.Random(4)
    inside = 0
    for _ in range(300):
        told = learned_efficiency([cook(chance.uniform(150, 500)) for _ in range(4)], **STATION)
        inside += abs(told.value - 0.88) <= told.uncertainty
    assert inside >= 0.94 * 300


def test_more_cooks_make_it_surer():
    few, many = ([cook(200 + 7 * n) for n in range(count)] for count in (1, 9))
    assert learned_efficiency(many, **STATION).uncertainty < learned_efficiency(few, **STATION).uncertainty


def test_cooks_that_contradict_each_other_widen_it():
    apart = learned_efficiency([cook(300, 0.95), cook(300, 0.75)], **STATION)
    alike = learned_efficiency([cook(300, 0.85), cook(300, 0.85)], **STATION)
    assert apart.uncertainty > 2 * alike.uncertainty


@pytest.mark.parametrize("cooks", [[], [BothEnds(30, 3, 3, 600)], [BothEnds(300, 3, 10, 600)], [BothEnds(0, 3, 20, 600)]])
def test_what_says_too_little_or_cannot_be_teaches_nothing(cooks):
    assert learned_efficiency(cooks, **STATION) is None
