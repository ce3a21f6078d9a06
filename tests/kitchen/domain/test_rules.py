import pytest

from kitchen.domain.lines import parse_line
from kitchen.domain.matching import FoodIndex
from kitchen.domain.rules import default_rule, is_hot
from kitchen.reference import load_reference

FOODS = FoodIndex(load_reference())


def rule_of(text: str, *, linked: bool) -> str:
    line = parse_line(text)
    found = FOODS.find(line.name) if linked else None
    return default_rule(line, found[0].aisle if found else None)


@pytest.mark.parametrize("linked", [True, False])
@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("1 tsp salt", "seasoning"),
        ("salt to taste", "seasoning"),
        ("2 tsp ground cumin", "seasoning"),
        ("1 tsp dried oregano", "seasoning"),
        ("½ tsp cayenne pepper", "seasoning"),
        ("small bunch coriander leaves", "proportional"),
        ("30 g fresh parsley", "proportional"),
        ("1 bunch mint", "proportional"),
        ("2 tbsp chopped fresh chives", "proportional"),
        ("10 basil leaves", "proportional"),
        ("2 sprigs fresh thyme", "seasoning"),
        ("2 bay leaves", "seasoning"),
        ("1 tsp ground coriander", "seasoning"),
        ("1 tsp coriander", "seasoning"),
        ("20 g dried mint", "seasoning"),
        ("1 tbsp oil, plus extra for greasing", "proportional"),
        ("1 tsp black pepper", "proportional"),
        ("1 tsp ground cinnamon", "proportional"),
        ("1 tsp allspice", "proportional"),
        ("1 tsp ground white pepper", "proportional"),
        ("butter, for greasing", "fixed"),
        ("1 tbsp oil for the pan", "fixed"),
        ("vegetable oil, for frying", "batch"),
        ("500 mL oil for deep frying", "batch"),
        ("50 g butter, to fry", "batch"),
        ("2 tbsp oil, to fry the onions", "proportional"),
        ("1 tbsp oil, plus extra for frying", "proportional"),
        ("2 red peppers", "proportional"),
        ("300 g rice", "proportional"),
        ("500 g ground beef", "proportional"),
        ("2 onions", "proportional"),
        ("1 tbsp olive oil", "proportional"),
        ("2 tsp baking powder", "proportional"),
        ("20 g fresh ginger", "proportional"),
        ("100 g dark chocolate", "proportional"),
        ("3 cloves garlic", "proportional"),
    ],
)
def test_a_line_gets_the_rule_a_cook_would_give_it(text, rule, linked):
    assert rule_of(text, linked=linked) == rule


@pytest.mark.parametrize("name", ["cayenne pepper", "red chilli", "chilli flakes", "hot sauce", "jalapeños", "ground red pepper"])
def test_what_burns(name):
    assert is_hot(name)


@pytest.mark.parametrize("name", ["black pepper", "red pepper", "paprika", "hot water", "salt"])
def test_what_does_not_burn(name):
    assert not is_hot(name)
