"""Names and everyday lines against the cautions that the published charts ask for; the table is ``names.txt``."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from energy.cautions.classes import classes_of
from energy.cautions.ranking import ClassedLine, Situation, choose

FOODS = Path(__file__).parents[3] / "kitchen" / "reference" / "foods.csv"
TABLE = Path(__file__).with_name("names.txt")
KEYS = {
    "toxin": "bean_toxin",
    "poultry": "poultry_core",
    "ground": "ground_core",
    "cuts": "cuts_core",
    "ham": "ham_reheated",
    "fish": "fish_core",
    "shellfish": "shellfish_opaque",
    "bivalve": "bivalves_open",
    "egg": "egg_core",
    "rice": "rice_cooled",
    "reheat": "cooked_before",
    "cold": "out_of_the_cold",
}
ASKED_ONLY = {"reheat", "cold"}


def rows():
    for row in TABLE.read_text(encoding="utf-8").splitlines():
        if row and not row.startswith("#"):
            line, must, may = (part.strip() for part in [*row.split("|"), "", ""][:3])
            yield line, frozenset(must.split()), frozenset(may.split())


ROWS = list(rows())
TABLE_FOODS = list(csv.DictReader(FOODS.read_text(encoding="utf-8").splitlines()))


def called_for(classes):
    keys = {one.entry.key for one in choose(Situation((ClassedLine("a line", classes),)))}
    return {name for name, key in KEYS.items() if key in keys}


@pytest.mark.parametrize(("line", "must", "may"), ROWS, ids=[row[0] for row in ROWS])
def test_a_line_brings_what_it_must_and_nothing_else(line, must, may):
    found = called_for(classes_of(line))
    not_cold = "-cold" in must
    assert must - {"-cold"} <= found
    assert found - ASKED_ONLY <= must | may
    assert not (not_cold and "cold" in found)


def test_the_table_is_large_and_says_nothing_twice():
    lines = [line for line, _, _ in ROWS]
    assert len(lines) > 1000
    assert len(lines) == len(set(lines))
    assert {name for _, must, _ in ROWS for name in must} == {*KEYS, "-cold"}


# By the group of the reference table, for its own names: what may be called for at all.
ANIMAL = {"poultry", "ground", "cuts", "ham", "reheat", "cold"}
GROUPS = {
    "meat": ANIMAL,
    "fish": {"fish", "shellfish", "bivalve", "cold"},
    "dairy and eggs": {"egg", "cold"},
    "pulses": {"toxin"},
    "grains and pasta": {"rice", "cold"},
    "chilled": {"cold"},
    "tins and jars": {"toxin", "cold"},
    "sauces and condiments": {"cold"},
    "dried stores": {"egg", "cold", "rice"},
}
READY = {"pepperoni", "salami", "dry salami"}


@pytest.mark.parametrize("food", TABLE_FOODS, ids=lambda food: food["name"])
def test_each_food_of_the_reference_table_stays_in_its_group(food):
    names = [food["name"], *(name.strip() for name in food["aliases"].split(";") if name.strip() and "like " not in name)]
    for name in names:
        found = called_for(classes_of(f"200 g {name}", food["name"], food["aisle"]))
        assert found <= GROUPS.get(food["aisle"], set()), name
        if food["aisle"] in ("meat", "fish") and name not in READY:
            assert found - {"cold"}, name


@pytest.mark.parametrize(
    "name", ["tinned kidney beans", "boiled black beans", "refried beans", "baked beans", "tinned white beans"]
)
def test_a_linked_tin_silences_no_dried_beans(name):
    for line in ("200 g kidney beans", "1 cup cannellini beans, soaked", "rajma", "150 g borlotti beans, dried"):
        assert "toxin" in classes_of(line, name, "tins and jars")
    assert "toxin" not in classes_of("1 tin kidney beans", name, "tins and jars")


def test_where_the_line_is_silent_the_food_speaks():
    assert classes_of("1 cup lima beans", "dried butter beans", "pulses") >= {"toxin"}
    assert "toxin" not in classes_of("1 cup butter beans", "tinned white beans", "tins and jars")
    assert classes_of("the usual", "cod", "fish") == {"fish"}
    assert classes_of("the usual", "something of ours", "meat") == {"cut"}
    assert classes_of("the usual") == frozenset()


@pytest.mark.parametrize("line", ["", "   ", "(((", "1/2", "½", "🍗" * 400, "a" * 5000, "or, or / and", "minced", "tin"])
def test_lines_without_a_food_call_for_nothing(line):
    assert classes_of(line) == frozenset()
