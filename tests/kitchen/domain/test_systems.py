"""What each way of measuring says of itself: one row for each."""

from fractions import Fraction

import pytest

from kitchen.domain.systems import SYSTEMS, meant_at
from kitchen.domain.units import UNITS


@pytest.mark.parametrize(
    ("key", "spooned"),
    [
        ("written", []),
        ("metric", ["2 tbsp", "3 tbsp"]),
        ("us", []),
        ("uk", ["2 tbsp", "3 tbsp"]),
        ("au", ["2 tbsp", "3 tbsp", "50 tbsp", "3 cup", "50 mL"]),
    ],
)
def test_each_takes_its_spoons_for_its_own_volumes(key, spooned):
    asked = [(2, "tbsp"), (3, "tbsp"), (50, "tbsp"), (3, "cup"), (5, "cup"), (50, "mL"), (60, "mL")]
    sizes = [(Fraction(number), unit, number * (UNITS[unit].per_base or 1)) for number, unit in asked]
    found = [f"{number} {unit}" for number, unit, volume_ml in sizes if SYSTEMS[key].has_spoons_for(volume_ml, unit)]
    assert found == spooned


def test_just_one_keeps_the_cooks_units_and_takes_no_other_amount():
    assert [key for key, system in SYSTEMS.items() if system.as_written] == ["written"]
    assert [key for key, system in SYSTEMS.items() if not system.units] == ["written"]


@pytest.mark.parametrize("system", SYSTEMS.values(), ids=SYSTEMS)
def test_every_unit_that_one_names_has_a_size(system):
    spoons = system.spoons
    own = () if spoons is None else (spoons.tsp, spoons.tbsp, spoons.cup, *spoons.ladder, *(key for _, key in spoons.told_larger))
    named = {*own, *system.units, *system.meant.values(), *filter(None, [system.dessert_spoon])}
    assert {key for key in named if UNITS[key].per_base is None} == set()


def test_an_unknown_way_means_a_mistake():
    with pytest.raises(KeyError):
        meant_at("imperial", "pint")
