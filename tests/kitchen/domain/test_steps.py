from fractions import Fraction

import pytest

from kitchen.domain.steps import FORCES, SCHOOL, SMALL, STYLES


@pytest.mark.parametrize(
    ("ounces", "step"), [(2, "1/4"), (10, "1/4"), (11, "1/2"), (40, "1/2"), (41, "1"), (80, "1"), (81, "4"), (5000, "4")]
)
def test_school_steps_by_weight(ounces, step):
    assert SCHOOL.ounce_step(Fraction(ounces)) == Fraction(step)


@pytest.mark.parametrize(
    ("teaspoons", "step"),
    [(1, "1/8"), (4, "1/4"), (10, "1/2"), (30, "1"), (50, "3"), (100, "12"), (500, "24"), (1000, "48"), (5000, "192")],
)
def test_school_steps_by_volume(teaspoons, step):
    assert SCHOOL.teaspoon_step(Fraction(teaspoons)) == Fraction(step)


def test_the_forces_round_to_quarters_everywhere():
    assert FORCES.ounce_step(Fraction(1000)) == FORCES.teaspoon_step(Fraction(10000)) == Fraction(1, 4)


def test_small_batches_keep_eighths_up_to_a_quarter_cup():
    assert SMALL.teaspoon_step(Fraction(9)) == Fraction(1, 8)
    assert SMALL.teaspoon_step(Fraction(13)) == Fraction(1, 2)


def test_steps_grow_with_the_amount():
    for style in STYLES.values():
        for table in (style.ounces, style.teaspoons):
            assert [step for _, step in table] == sorted(step for _, step in table)
            assert table[-1][0] is None
