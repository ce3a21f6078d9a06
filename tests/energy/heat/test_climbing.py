"""A climb with losses, steam and ice, against scipy's solver; and the root of a function against bisection."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from energy.heat.climbing import LATENT_J_PER_KG, Way, climb_s, root


def solved_s(way, net_w, loss, steam):
    """Return the climb's time by the differential equation, from a start above freezing."""

    def rate(_, temp_c):
        steams = way.boil_c - 14 <= temp_c[0] < way.boil_c
        return [(net_w - loss * (temp_c[0] - way.ambient_c) - (steam * LATENT_J_PER_KG if steams else 0)) / way.heat_j_per_k]

    def there(_, temp_c):
        return temp_c[0] - way.end_c

    there.terminal = True
    return solve_ivp(rate, (0, 1e6), [way.start_c], events=there, max_step=5.0, rtol=1e-8).t_events[0][0]


@pytest.mark.parametrize("end_c", [80.0, 92.0, 100.0, 115.6])
@pytest.mark.parametrize(("loss", "steam"), [(0.0, 0.0), (1.8, 0.0), (0.9, 0.05e-3)])
def test_the_climb_is_the_solvers(end_c, loss, steam):
    way = Way(9000, 12, 22, end_c, 100)
    assert climb_s(way, 800, loss, steam) == pytest.approx(solved_s(way, 800, loss, steam), rel=1e-3)


def test_a_climb_without_end_is_infinite_and_none_is_nothing():
    assert climb_s(Way(4200, 20, 20, 100, 100), 150, 2) == math.inf
    assert climb_s(Way(4200, 20, 20, 100, 100), 160, 0.1, 0.08e-3) == math.inf
    assert climb_s(Way(4200, 100, 20, 100, 100), 0, 2) == 0


def test_ice_takes_its_melting():
    """1 kg of ice from -18 C: 36 kJ to freezing point, 334 kJ to melt, then 419 kJ as water (specific heats from memory)."""
    way = Way(4190, -18, 20, 100, 100, ice_g=1000)
    assert climb_s(way, 1000, 0) == pytest.approx(36 + 334 + 419, rel=1e-9)
    assert way.lossless_j == pytest.approx(789e3)


def test_ice_that_loses_more_than_it_gets_never_melts():
    assert climb_s(Way(4190, -5, -20, 100, 100, ice_g=1000), 30, 2) == math.inf


@given(st.floats(0.5, 50), st.floats(0.1, 3))
def test_the_root_is_found(place, steep):
    assert root(lambda x: math.expm1(steep * (x - place) / 50), 0, 60, nearly=1e-10) == pytest.approx(place, rel=1e-6)


def test_without_a_change_of_sign_the_nearer_end_is_given():
    assert root(lambda x: x + 1, 0, 5, nearly=1e-9) == 0
    assert root(lambda x: x - 9, 0, 5, nearly=1e-9) == 5
