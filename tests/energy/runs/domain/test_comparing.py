"""Two energies beside each other: more than the meters can explain, or the same."""

from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.runs.domain.comparing import difference, in_rows, minutes_apart

figures = st.tuples(st.floats(0, 5000), st.floats(0.01, 100))


def test_independent_uncertainties_add_in_quadrature():
    """JCGM 100:2008, 5.1.2 (10): for y = a - b, u(y)^2 = u(a)^2 + u(b)^2."""
    assert difference(225, 3, 213, 4).limit_wh == pytest.approx(5)


def test_what_both_meters_allow_is_not_told():
    assert not difference(216, 3, 213, 4).told
    assert difference(225, 3, 213, 4).told
    assert difference(201, 3, 213, 4).told


@given(figures, figures)
def test_the_other_way_round_only_the_sign_turns(one, other):
    there, back = difference(*one, *other), difference(*other, *one)
    assert there.size_wh == -back.size_wh
    assert there.told == back.told


@given(figures)
def test_a_run_is_the_same_as_itself(figure):
    assert not difference(*figure, *figure).told


def test_minutes_are_told_as_they_are_shown():
    assert minutes_apart(2100, 2280) == -3
    assert minutes_apart(2100, 2080) == 0


kinds = st.lists(st.sampled_from(["brown", "come_up", "hold", "rest"]), max_size=6)


@given(st.lists(kinds, min_size=1, max_size=6))
def test_every_stage_stands_in_exactly_one_row_beside_its_own_kind(runs):
    stages = [[SimpleNamespace(kind=kind) for kind in run] for run in runs]
    rows = in_rows(stages)
    for number, run in enumerate(stages):
        assert sorted(row[number] for row in rows if row[number] is not None) == list(range(len(run)))
    for row in rows:
        assert len({runs[number][place] for number, place in enumerate(row) if place is not None}) == 1


def test_alike_runs_stand_row_by_row():
    run = [SimpleNamespace(kind=kind) for kind in ("brown", "hold", "hold")]
    assert in_rows([run, run]) == [(0, 0), (1, 1), (2, 2)]
