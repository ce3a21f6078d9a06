"""What cooks that were read at both ends show of a battery."""

import random

import pytest

from energy.gear.domain.learned import BothEnds, given_per_pct

STATION = {"inverter_efficiency": 0.88, "idle_w": 9.0, "step_pct": 1.0}


def cook(load_wh, truly_wh=1024.0, full=97.3, span_s=2400, efficiency=0.88):
    """A cook on a battery that truly holds so much: the display rounds its charge at both ends."""
    left = full - (load_wh / efficiency + 9 * span_s / 3600) / truly_wh * 100
    return BothEnds(load_wh, 3.0, round(full) - round(left), span_s)


def test_the_truth_lies_inside_nineteen_times_of_twenty_whatever_the_label_says():
    chance = random.Random(4)
    inside = 0
    for _ in range(300):
        held_wh = chance.uniform(700, 1100)
        told = given_per_pct([cook(chance.uniform(150, 500), held_wh, chance.uniform(80, 100)) for _ in range(4)], **STATION)
        inside += abs(told.wh - held_wh * 0.88 / 100) <= told.uncertainty_wh
    assert inside >= 0.94 * 300


def test_more_cooks_make_it_surer():
    few, many = ([cook(200 + 7 * n) for n in range(count)] for count in (1, 9))
    assert given_per_pct(many, **STATION).uncertainty_wh < given_per_pct(few, **STATION).uncertainty_wh


def test_cooks_that_contradict_each_other_widen_it():
    apart = given_per_pct([cook(300, 1100), cook(300, 800)], **STATION)
    alike = given_per_pct([cook(300, 950), cook(300, 950)], **STATION)
    assert apart.uncertainty_wh > 2 * alike.uncertainty_wh


@pytest.mark.parametrize("cooks", [[], [BothEnds(30, 3, 3, 600)], [BothEnds(0, 3, 20, 600)]])
def test_what_says_too_little_shows_nothing(cooks):
    assert given_per_pct(cooks, **STATION) is None
