"""The cautions of a recipe's foods: there without any run, gone where the word means something else."""

from __future__ import annotations

import pytest

from energy.cards.cautions import rules
from energy.cards.safety import SafetyCard
from energy.domain.food_safety import FoodRule, keys_for
from kitchen.cards import CardRequest

CARD = SafetyCard()
FOOD_RULES = [FoodRule(rule.key, rule.foods, rule.but) for rule in rules() if rule.foods]


@pytest.mark.parametrize(
    ("line", "keys"),
    [
        ("600 g chicken thighs", {"poultry", "two_hours"}),
        ("1 l chicken stock", set()),
        ("500 g beef mince", {"mince", "two_hours"}),
        ("2 sirloin steaks", {"cuts", "two_hours"}),
        ("1 tin tuna in water", set()),
        ("400 g salmon, in chunks", {"fish", "two_hours"}),
        ("200 g prawns", {"shellfish", "two_hours"}),
        ("3 eggs", {"egg", "two_hours"}),
        ("250 g egg noodles", set()),
        ("300 g long-grain rice", {"rice", "two_hours"}),
        ("1 tbsp rice vinegar", set()),
        ("200 g dried kidney beans", {"kidney_beans"}),
        ("1 tin tinned kidney beans", set()),
        ("4 burger buns", set()),
        ("300 g red lentils", set()),
    ],
)
def test_a_line_calls_for_its_cautions(line, keys):
    assert set(keys_for([line], FOOD_RULES)) == keys


def test_a_recipe_without_runs_has_the_cautions_of_its_foods(revision, noon):
    revision.parts.get().lines.create(position=1, text="600 g chicken thighs")
    facts = CARD.collect(revision, at=noon)
    said = CARD.cautions(facts, CardRequest(4, 4))
    assert any("74 °C" in caution.words for caution in said)
    assert all(caution.source for caution in said)
    assert CARD.present(facts, CardRequest(4, 4)) is None


def test_no_food_that_calls_for_one_is_no_card(revision, noon):
    assert CARD.collect(revision, at=noon) is None


def test_a_key_that_is_not_known_any_more_is_left_out():
    assert CARD.cautions({"schema": 1, "cautions": ["gone", "egg"]}, CardRequest(4, 4))[0].words.startswith("Cook eggs")


def test_keys_are_named_once_and_every_food_rule_has_one():
    keys = [rule.key for rule in rules() if rule.foods]
    assert len(keys) == len(set(keys))
    assert all(keys)
    assert all(rule.source for rule in rules() if rule.foods)
