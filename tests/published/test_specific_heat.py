"""Specific heats against the ASHRAE Handbook, Refrigeration (2006), "Thermal Properties of Foods", and measured foods."""

import pytest
from scipy import integrate

from energy.heat.specific_heat import (
    Composition,
    component_specific_heat_kj,
    mean_specific_heat_kj,
    rough_specific_heat_kj,
    specific_heat_kj,
)

# water, protein, fat, total carbohydrate, fibre, ash in %, printed cp, cp with fibre counted once. Table 3 of the 2006 edition.
FOODS = {
    "mushrooms": (91.81, 2.09, 0.42, 4.65, 1.20, 0.89, 3.99, 3.9727),
    "sweet corn": (75.96, 3.22, 1.18, 19.02, 2.70, 0.62, 3.62, 3.5782),
    "lima beans": (70.24, 6.84, 0.86, 20.16, 4.90, 1.89, 3.52, 3.4454),
    "leeks": (83.00, 1.50, 0.30, 14.15, 1.80, 1.05, 3.77, 3.7446),
    "celery": (94.64, 0.75, 0.14, 3.65, 1.70, 0.82, 4.07, 4.0429),
}


@pytest.mark.parametrize(("temp_c", "printed"), [(20, 4.1766), (100, 4.2218)])
def test_water(temp_c, printed):
    """Guards against the wrong coefficients in circulation: water above 100 degrees takes more, not less."""
    assert component_specific_heat_kj("water", temp_c) == pytest.approx(printed, abs=0.0001)


@pytest.mark.parametrize("name", FOODS)
def test_foods_of_the_handbook(name):
    """The print counts fibre twice (once inside the carbohydrate); counted once the value lies within 0.10 of it."""
    *composition, printed, once = FOODS[name]
    assert specific_heat_kj(Composition(*composition), 20) == pytest.approx(once, abs=0.003)
    assert specific_heat_kj(Composition(*composition), 20) == pytest.approx(printed, abs=0.10)


@pytest.mark.parametrize("name", FOODS)
def test_the_print_is_met_when_fibre_counts_twice(name):
    """The handbook's own way of counting meets its print to 0.006: the coefficients are the handbook's."""
    *composition, printed, _ = FOODS[name]
    parts = zip(("water", "protein", "fat", "carbohydrate", "fibre", "ash"), composition, strict=True)
    assert sum(percent / 100 * component_specific_heat_kj(part, 20) for part, percent in parts) == pytest.approx(
        printed, abs=0.006
    )


@pytest.mark.parametrize(
    ("food", "measured", "tolerance"),
    [
        (Composition(87.8, 3.3, 3.5, 4.7, 0, 0.7), 3.85, 0.15),  # whole milk
        (Composition(75, 2, 0.1, 21.9, 2, 1), 3.52, 0.15),  # potato at 75 % water
        (Composition(88, 0.9, 0.2, 9.9, 2.8, 1), 3.875, 0.15),  # carrot, 3.81 to 3.94
    ],
)
def test_measured_foods(food, measured, tolerance):
    """Geankoplis, Transport Processes and Unit Operations, appendix A.4; means from 0 to 100 degrees."""
    assert mean_specific_heat_kj(food, 0, 100) == pytest.approx(measured, abs=tolerance)


def test_olive_oil():
    """The same appendix, 2.01 at 20 degrees."""
    assert specific_heat_kj(Composition(0, 0, 100), 20) == pytest.approx(2.01, abs=0.02)


def test_a_mean_is_the_integral():
    """The closed form of the mean against scipy's quadrature."""
    food = Composition(*FOODS["lima beans"][:6])
    area = integrate.quad(lambda temp_c: specific_heat_kj(food, temp_c), 15, 95)[0]
    assert mean_specific_heat_kj(food, 15, 95) == pytest.approx(area / 80, rel=1e-10)


def test_the_rough_one_is_rough():
    """From water alone it stays within 10 % of the composition, for foods above 70 % water."""
    for *composition, _, _ in FOODS.values():
        assert rough_specific_heat_kj(composition[0]) == pytest.approx(specific_heat_kj(Composition(*composition), 20), rel=0.10)


def test_what_cannot_be_is_refused():
    with pytest.raises(ValueError, match="100 g"):
        specific_heat_kj(Composition(30), 20)
    with pytest.raises(ValueError, match="100 g"):
        specific_heat_kj(Composition(110, -10), 20)
    with pytest.raises(ValueError, match="0 to 150"):
        specific_heat_kj(Composition(100), -18)
    with pytest.raises(ValueError, match="water"):
        component_specific_heat_kj("salt", 20)
