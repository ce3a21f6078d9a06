import pytest

from kitchen.domain import matching
from kitchen.domain.allergens import ordered
from kitchen.domain.reference import read_rows
from kitchen.domain.units import find_unit
from kitchen.reference import load_reference

BY_NAME = {food.name: food for food in load_reference()}


def test_names_and_source_rows_are_there_once():
    foods = load_reference()
    assert len(foods) >= 450
    assert len(BY_NAME) == len({food.sr_number for food in foods}) == len(foods)


def test_no_other_name_points_to_two_foods():
    owners: dict[str, str] = {}
    for food in load_reference():
        for alias in (food.name, *food.aliases):
            assert owners.setdefault(alias.lower(), food.name) == food.name, alias


def test_every_row_can_stand_in_the_table_of_foods():
    for food in load_reference():
        assert 0 <= food.refuse_pct < 100
        assert food.g_per_ml is None or 0 < food.g_per_ml < 2
        assert food.g_per_each is None or food.g_per_each > 0
        assert (food.g_per_each is None) == (food.each_name == "")
        assert len(food.name) <= 120
        assert len(food.each_name) <= 80
        assert len(food.refuse_words) <= 160
        assert food.aisle


def test_every_allergen_of_the_table_is_on_the_list():
    keys = {allergen for food in load_reference() for allergen in food.allergens}
    assert set(ordered(keys)) == keys


@pytest.mark.parametrize(
    ("name", "allergens"),
    [
        ("plain flour", ("gluten", "wheat")),
        ("egg", ("eggs",)),
        ("whole milk", ("milk",)),
        ("peanut butter", ("peanuts",)),
        ("soy sauce", ("gluten", "soya", "wheat")),
        ("prawns", ("crustaceans", "sulphites?")),
        ("tahini", ("sesame",)),
        ("celery", ("celery",)),
        ("mussels", ("molluscs",)),
        ("salmon", ("fish",)),
        ("walnuts", ("nuts",)),
        ("rapeseed oil", ()),
    ],
)
def test_plain_foods_carry_their_allergens(name, allergens):
    assert BY_NAME[name].allergens == allergens


def test_names_are_kitchen_words_not_table_entries():
    for food in load_reference():
        assert "," not in food.name
        assert matching.words_of(food.name)
        assert find_unit(food.name) is None


def test_a_broken_table_names_the_cell():
    rows = iter(["name,aliases,aisle,sr_number,g_per_ml\n", "onion,,vegetables,11282,heavy\n"])
    with pytest.raises(ValueError, match="row “onion”, column g_per_ml: “heavy” is not a number"):
        list(read_rows(rows))
