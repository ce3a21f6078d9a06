"""What can be true of a food's figures."""

import pytest

from kitchen.domain.facts import WeightFacts
from kitchen.domain.plausible import Composition100, doubts_of_composition, doubts_of_weights, energy_bounds_kcal
from kitchen.reference import load_reference

BREAD = {"water_g": 36.4, "protein_g": 8.9, "fat_g": 3.3, "carbohydrate_g": 49.4, "ash_g": 2.0, "energy_kcal": 266.0}


def doubts(**changes):
    return doubts_of_composition(Composition100(**{**BREAD, **changes}))


def test_bread_is_in_no_doubt():
    assert doubts() == []


def test_nothing_known_is_in_no_doubt():
    assert doubts_of_composition(Composition100()) == []
    assert energy_bounds_kcal(Composition100(protein_g=1.0)) is None


@pytest.mark.parametrize(
    ("changes", "code", "figures"),
    [
        ({"water_g": 63.6}, "parts_above_100_g", [127.2]),
        ({"water_g": 3.6}, "parts_below_100_g", [67.2]),
        ({"fibre_g": 60.0}, "fibre_above_carbohydrate", [60, 49.4]),
        ({"sugars_g": 51.0}, "sugars_above_carbohydrate", [51, 49.4]),
        ({"saturated_fat_g": 5.0}, "saturates_above_fat", [5, 3.3]),
        ({"energy_kcal": 1113.0}, "energy_above_fat", [1113]),
        ({"energy_kcal": 100.0}, "energy_unlike_parts", [100, 262.9, 262.9]),
        ({"energy_kcal": 500.0}, "energy_unlike_parts", [500, 262.9, 262.9]),
        ({"energy_kcal": 20.0, "water_g": None, "fibre_g": 49.4}, "energy_outside_parts", [20, 65.3, 262.9]),
    ],
)
def test_what_cannot_be_is_said(changes, code, figures):
    told = {doubt.code: list(doubt.values.values()) for doubt in doubts(**changes)}
    assert told[code] == pytest.approx(figures)


def test_alcohol_and_fibre_widen_the_bounds():
    low, high = energy_bounds_kcal(Composition100(water_g=66.6, protein_g=0, fat_g=0, carbohydrate_g=0, ash_g=0))
    assert (low, high) == (0.0, pytest.approx(7 * 33.4))
    low, high = energy_bounds_kcal(Composition100(protein_g=0, fat_g=0, carbohydrate_g=80, fibre_g=50))
    assert (low, high) == (120.0, 320.0)


def test_weights_by_volume_should_agree():
    assert doubts_of_weights(0.68, [WeightFacts("cup", 115, "sliced"), WeightFacts("", 110)]) == []
    (differ,) = doubts_of_weights(0.68, [WeightFacts("cup", 1150)])
    assert (differ.code, differ.values["low_g_per_ml"]) == ("weights_differ", 0.68)
    (light,) = doubts_of_weights(0.01, [])
    assert (light.code, light.values["cup_g"]) == ("lighter_than_grain", pytest.approx(2.366, abs=0.001))


def test_the_reference_table_raises_few_doubts():
    """Bran and herbs hold so much fibre, bicarbonate so much that is none of these, that the plain rules do not fit them."""
    doubtful = {}
    for food in load_reference():
        holds = Composition100(**{name: getattr(food, name) for name in Composition100.__dataclass_fields__})
        said = [*doubts_of_composition(holds), *doubts_of_weights(food.g_per_ml, food.weights)]
        if said:
            doubtful[food.name] = said
    assert len(doubtful) <= 0.05 * len(load_reference()), doubtful
