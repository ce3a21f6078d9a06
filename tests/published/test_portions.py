"""How hungry people are, against the published table of energy requirements."""

from fractions import Fraction

import pytest

from kitchen.domain.appetite import LEVELS, energy_need_kcal, suggested_factor
from kitchen.domain.portions import CHILD

# Institute of Medicine, Dietary Reference Intakes for Energy (2005), chapter 5: estimated energy requirements of men and women
# 30 years old, 1.65 m tall, 50.4 kg (body mass index 18.5), by level of activity. The table prints whole kilocalories; its
# authors seem to have rounded the man's active row once more.
PUBLISHED = {"man": (2068, 2254, 2490, 2880), "woman": (1816, 2016, 2267, 2567)}


@pytest.mark.parametrize(
    ("who", "level", "kcal"), [(who, level, row[place]) for who, row in PUBLISHED.items() for place, level in enumerate(LEVELS)]
)
def test_the_published_row_of_energy_requirements(who, level, kcal):
    assert energy_need_kcal(who, level, age=30, height_m=1.65, mass_kg=50.4) == pytest.approx(kcal, abs=1.5)


def test_the_suggestion_for_a_walker_is_the_published_rows_active_over_low_active():
    ratios = [row[2] / row[1] for row in PUBLISHED.values()]
    assert suggested_factor() == Fraction(round(10 * sum(ratios) / 2), 10) == Fraction(11, 10)
    with pytest.raises(ValueError, match="index"):
        suggested_factor("restless")


def test_a_child_eats_about_six_tenths_of_an_active_adult():
    """The same publication's equations for boys and girls of 9, active, with reference heights and masses (from memory)."""
    boy = 88.5 - 61.9 * 9 + 1.26 * (26.7 * 28.6 + 903 * 1.34) + 20
    girl = 135.3 - 30.8 * 9 + 1.31 * (10.0 * 29.0 + 934 * 1.33) + 20
    adults = (
        energy_need_kcal("man", "active", age=30, height_m=1.77, mass_kg=70)
        + energy_need_kcal("woman", "active", age=30, height_m=1.63, mass_kg=57)
    ) / 2
    assert (boy + girl) / 2 / adults == pytest.approx(float(CHILD), abs=0.15)
