"""Which safety sentences belong to the foods of a recipe, by their words. Pure; the sentences stand in ``cautions.toml``."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from kitchen.domain.nouns import singular


@dataclass(frozen=True)
class FoodRule:
    """A caution's key, the words that call for it, and the words that say the food is something else ("stock", "tinned")."""

    key: str
    foods: tuple[str, ...]
    but: tuple[str, ...] = ()


def food_words(text: str) -> frozenset[str]:
    """Return the words of a line or of a food's name, in the singular.

    Examples
    --------
    >>> sorted(food_words("2 skinless Chicken thighs, cut"))
    ['chicken', 'cut', 'skinless', 'thigh']
    """
    return frozenset(singular(word) for word in re.findall(r"[^\W\d_]{3,}", text.lower()))


def keys_for(names: Iterable[str], rules: Sequence[FoodRule]) -> tuple[str, ...]:
    """Return the keys of the rules that any of the names calls for, in the rules' order.

    Parameters
    ----------
    names : iterable of str
        The foods, as the lines and the table call them.
    rules : sequence of FoodRule
        What is looked for.

    Examples
    --------
    >>> rule = FoodRule("poultry", ("chicken",), ("stock",))
    >>> keys_for(["chicken stock"], [rule]), keys_for(["chicken thigh", "rice"], [rule])
    ((), ('poultry',))
    """
    foods = [food_words(name) for name in names]
    return tuple(rule.key for rule in rules if any(_calls(rule, words) for words in foods))


def _calls(rule: FoodRule, words: Collection[str]) -> bool:
    return any(word in words for word in rule.foods) and not any(word in words for word in rule.but)
