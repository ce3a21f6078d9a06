"""What can be true of a food's figures."""

import pytest

from kitchen.domain.facts import WeightFacts
from kitchen.domain.plausible import Composition100, doubts_of_composition, doubts_of_weights, energy_bounds_kcal
from kitchen.domain.reference import load_reference

BREAD = {"water_g": 36.4, "protein_g": 8.9, "fat_g": 3.3, "carbohydrate_g": 49.4, "ash_g": 2.0, "energy_kcal": 266.0}


def doubts(**changes):
    return doubts_of_composition(Composition100(**{**BREAD, **changes}))


def test_bread_is_in_no_doubt():
    assert doubts() == []


def test_nothing_known_is_in_no_doubt():
    assert doubts_of_composition(Composition100()) == []
    assert energy_bounds_kcal(Composition100(protein_g=1.0)) is None


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"water_g": 63.6}, "come to 127 g of 100 g"),
        ({"water_g": 3.6}, "Is the rest alcohol or acid?"),
        ({"fibre_g": 60.0}, "Fibre (60 g) is part of carbohydrate (49.4 g)"),
        ({"sugars_g": 51.0}, "Sugars (51 g)"),
        ({"saturated_fat_g": 5.0}, "Saturated fat (5 g) is part of fat (3.3 g)"),
        ({"energy_kcal": 1113.0}, "Is it in kJ?"),
        ({"energy_kcal": 100.0}, "does not fit protein, fat and carbohydrate, which make about 263 kcal"),
        ({"energy_kcal": 500.0}, "does not fit"),
    ],
)
def test_what_cannot_be_is_said(changes, said):
    assert any(said in doubt for doubt in doubts(**changes)), doubts(**changes)


def test_alcohol_and_fibre_widen_the_bounds():
    low, high = energy_bounds_kcal(Composition100(water_g=66.6, protein_g=0, fat_g=0, carbohydrate_g=0, ash_g=0))
    assert (low, high) == (0.0, pytest.approx(7 * 33.4))
    low, high = energy_bounds_kcal(Composition100(protein_g=0, fat_g=0, carbohydrate_g=80, fibre_g=50))
    assert (low, high) == (120.0, 320.0)


def test_weights_by_volume_should_agree():
    assert doubts_of_weights(0.68, [WeightFacts("cup", 115, "sliced"), WeightFacts("", 110)]) == []
    assert "differ much" in doubts_of_weights(0.68, [WeightFacts("cup", 1150)])[0]
    assert "lighter than puffed grain" in doubts_of_weights(0.01, [])[0]


def test_the_reference_table_raises_few_doubts():
    """Bran and herbs hold so much fibre, bicarbonate so much that is none of these, that the plain rules do not fit them."""
    doubtful = {}
    for food in load_reference():
        holds = Composition100(**{name: getattr(food, name) for name in Composition100.__dataclass_fields__})
        said = [*doubts_of_composition(holds), *doubts_of_weights(food.g_per_ml, food.weights)]
        if said:
            doubtful[food.name] = said
    assert len(doubtful) <= 0.05 * len(load_reference()), doubtful
