"""Boiling water against the IAPWS formulation of 1997 (package iapws) and published points."""

import math

import pytest
from iapws import IAPWS97

from energy.heat.specific_heat import Composition, mean_specific_heat_kj
from energy.heat.water import air_pressure_kpa, boiling_point_c, latent_heat_kj, saturation_c, saturation_kpa


@pytest.mark.parametrize("temp_c", [0.5, *range(5, 151, 5), 175, 200])
def test_saturation_line_and_latent_heat(temp_c):
    """IAPWS-IF97 itself: pressure to the last digits, latent heat to 0.3 kJ/kg (the densities are the older SR1-86 equations)."""
    liquid, steam = IAPWS97(T=temp_c + 273.15, x=0), IAPWS97(T=temp_c + 273.15, x=1)
    assert saturation_kpa(temp_c) == pytest.approx(liquid.P * 1000, rel=1e-8)
    assert saturation_c(liquid.P * 1000) == pytest.approx(temp_c, abs=1e-6)
    assert latent_heat_kj(temp_c) == pytest.approx(steam.h - liquid.h, abs=0.3)


@pytest.mark.parametrize("temp_k", [300, 500 - 50])
def test_the_lines_inverse(temp_k):
    assert saturation_c(saturation_kpa(temp_k - 273.15)) == pytest.approx(temp_k - 273.15, abs=1e-9)


@pytest.mark.parametrize(
    ("pressure_kpa", "temp_c"),
    [(70, 89.93), (80, 93.49), (90, 96.69), (100, 99.61), (101.325, 99.97), (150, 111.35), (170, 115.15), (200, 120.21)],
)
def test_boiling_points_by_pressure(pressure_kpa, temp_c):
    """Computed with iapws 1.5.5."""
    assert saturation_c(pressure_kpa) == pytest.approx(temp_c, abs=0.02)


@pytest.mark.parametrize(("temp_c", "latent"), [(100, 2256.5), (115, 2216.0), (121, 2199.4)])
def test_latent_heats(temp_c, latent):
    """Computed with iapws 1.5.5."""
    assert latent_heat_kj(temp_c) == pytest.approx(latent, abs=0.3)


@pytest.mark.parametrize(("altitude_m", "temp_c"), [(0, 99.97), (1000, 96.65), (1500, 94.98), (2000, 93.32), (3000, 89.97)])
def test_boiling_points_by_altitude(altitude_m, temp_c):
    """Standard atmosphere (ISO 2533, computed with ambiance 1.3.1) and iapws."""
    assert boiling_point_c(altitude_m) == pytest.approx(temp_c, abs=0.02)


@pytest.mark.parametrize("altitude_m", range(0, 5001, 250))
def test_boiling_point_at_every_height(altitude_m):
    """The barometric formula of ISO 2533 with its own constants, and iapws for the boiling point."""
    pressure = 101325 * math.exp(5.2558797 * math.log1p(-0.0065 * altitude_m / 288.15))
    assert air_pressure_kpa(altitude_m) * 1000 == pytest.approx(pressure, rel=1e-5)
    assert boiling_point_c(altitude_m) == pytest.approx(IAPWS97(P=pressure / 1e6, x=0).T - 273.15, abs=0.02)


@pytest.mark.parametrize(
    ("altitude_m", "gauge_kpa", "temp_c"), [(0, 70, 115.4), (1500, 70, 112.2), (3000, 70, 109.3), (0, 103.4, 121.0)]
)
def test_pressure_cookers(altitude_m, gauge_kpa, temp_c):
    """Computed with iapws; the last one is the published 250 F at 15 psi."""
    assert boiling_point_c(altitude_m, gauge_kpa) == pytest.approx(temp_c, abs=0.06)


@pytest.mark.parametrize(("end_c", "wh_per_kg"), [(100, 93.05), (115, 110.71), (121, 117.78)])
def test_heating_a_kilogram_of_water(end_c, wh_per_kg):
    """Enthalpies of iapws against the specific heat of Choi and Okos: within 0.5 %."""
    ours = mean_specific_heat_kj(Composition(100), 20, end_c) * (end_c - 20) / 3.6
    assert ours == pytest.approx(wh_per_kg, rel=0.005)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: saturation_kpa(-1), "temp_c"),
        (lambda: saturation_c(0.1), "pressure_kpa"),
        (lambda: latent_heat_kj(300), "temp_c"),
        (lambda: air_pressure_kpa(20_000), "altitude_m"),
        (lambda: boiling_point_c(0, -5), "gauge_kpa"),
        (lambda: saturation_kpa(math.nan), "temp_c"),
    ],
)
def test_outside_the_range_is_refused_by_name(call, named):
    with pytest.raises(ValueError, match=named):
        call()
