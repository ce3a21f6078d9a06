"""Finding the food that a line means, by its words."""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, Protocol, TypeVar

from kitchen.domain.nouns import singular


class NamedFood(Protocol):
    """What a food must have to be found: a name and other names."""

    @property
    def name(self) -> str: ...

    @property
    def aliases(self) -> Sequence[str]: ...


F = TypeVar("F", bound=NamedFood)

_WORD = re.compile(r"[^\W_]+")
_SKIPPED = frozenset({"of", "the", "a", "an", "in", "with", "and", "or", "to", "for", "from", "your", "my", "some"})
# Words that describe more than they name; they count for little on either side.
_DESCRIBES = frozenset(
    re.findall(
        r"\w+",
        """
        fresh raw organic good quality best extra virgin ripe free range large small medium big plain whole dry dried ground
        unsweetened unsalted salted sweet natural pure fine coarse skin on boneless skinless frozen tinned canned bottled
        peeled cleaned prepared cooked uncooked hot cold young tender firm soft long short thick thin new old floury waxy
        baby chopped sliced diced minced crushed grated shredded rinsed drained leftover day unwaxed
        """,
    )
)
# Parts and shapes that may follow the food without changing it.
_PARTS = frozenset(
    {"leaf", "clove", "stick", "stalk", "sprig", "fillet", "floret", "piece", "slice", "bulb", "cube", "head", "steak"}
)
# With one of these the line means something that only resembles the food.
_IMITATES = frozenset(
    {"vegan", "free", "substitute", "alternative", "replacement", "imitation", "flavoured", "flavored", "style", "mock", "ice"}
)
_UNKNOWN_WEIGHT, _DESCRIBING_WEIGHT = 0.4, 0.3


@dataclass(frozen=True)
class _Phrase(Generic[F]):
    food: F
    words: tuple[str, ...]
    own_name: bool


def words_of(text: str) -> tuple[str, ...]:
    """Return the folded words of a name: lower case, no accents, singular, without little words.

    Examples
    --------
    >>> words_of("Crème fraîche, of the cows"), words_of("Tomatoes")
    (('creme', 'fraiche', 'cow'), ('tomato',))
    """
    plain = unicodedata.normalize("NFKD", text.lower())
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
    return tuple(singular(word) for word in _WORD.findall(plain[:300]) if word not in _SKIPPED)


def _folded(text: str) -> str:
    """Keep the number of the noun: "peppers" are a vegetable, "pepper" is a spice."""
    return " ".join(text.lower().split())


class FoodIndex(Generic[F]):
    """Foods by their words, made once for many lookups.

    Examples
    --------
    >>> from kitchen.domain.reference import load_reference
    >>> index = FoodIndex(load_reference())
    >>> [index.find(words)[0].name for words in ("red lentils", "courgettes", "ground cumin")]
    ['red lentils', 'courgette', 'cumin']
    """

    def __init__(self, foods: Iterable[F]) -> None:
        self._typed: dict[str, F] = {}
        self._exact: dict[frozenset[str], _Phrase[F]] = {}
        self._by_word: dict[str, list[_Phrase[F]]] = defaultdict(list)
        for food in foods:
            for place, phrase in enumerate((food.name, *food.aliases)):
                self._typed.setdefault(_folded(phrase), food)
                self._add(_Phrase(food, words_of(phrase), own_name=place == 0))

    def _add(self, phrase: _Phrase[F]) -> None:
        key = frozenset(phrase.words)
        if not key:
            return
        held = self._exact.get(key)
        if held is None or (phrase.own_name and not held.own_name):
            self._exact[key] = phrase
        for word in key:
            self._by_word[word].append(phrase)

    def find(self, name: str, unit: str = "") -> tuple[F, float] | None:
        """Return the food that the name most likely means and how sure that is (0 to 1), or None where no word fits.

        A can of chickpeas means tinned ones, where such a food is known.
        """
        if unit == "can" and (tinned := self._exact.get(frozenset(words_of(f"tinned {name}")))):
            return tinned.food, 1.0
        words = words_of(name)
        if not words:
            return None
        typed = self._typed.get(_folded(name))
        if typed is not None:
            return typed, 1.0
        exact = self._exact.get(frozenset(words))
        if exact is not None:
            return exact.food, 1.0
        best: tuple[F, float] | None = None
        for phrase in self._candidates(words):
            sure = self._sureness(words, phrase)
            if sure > (best[1] if best else 0.0):
                best = (phrase.food, sure)
        return best

    def _candidates(self, words: tuple[str, ...]) -> Iterable[_Phrase[F]]:
        seen: set[int] = set()
        for word in dict.fromkeys(words):
            for phrase in self._by_word.get(word, ()):
                if id(phrase) not in seen:
                    seen.add(id(phrase))
                    yield phrase

    def _sureness(self, words: tuple[str, ...], phrase: _Phrase[F]) -> float:
        """Weigh the words in common; the last word, which names the thing, has to be there."""
        asked, offered = set(words), set(phrase.words)
        common = asked & offered
        if phrase.words[-1] not in asked or not self._head(words) & offered:
            return 0.0
        shared = sum(self._weight(word) for word in common)
        covered = shared / sum(self._weight(word) for word in asked)
        filled = shared / sum(self._weight(word) for word in offered)
        sure: float = filled * covered**1.3 * (1.0 if phrase.own_name else 0.99)
        return min(sure, 0.4) if asked & _IMITATES - offered else min(sure, 0.98)

    def _head(self, words: tuple[str, ...]) -> set[str]:
        """Return the word that names the thing; a part such as "leaves" lets the word before it name it too."""
        named = [word for word in words if word not in _PARTS]
        return {words[-1], *named[-1:]} if words[-1] in _PARTS else {words[-1]}

    def _weight(self, word: str) -> float:
        if word in _DESCRIBES or word in _PARTS:
            return _DESCRIBING_WEIGHT
        return 1.0 if word in self._by_word else _UNKNOWN_WEIGHT


def best_food(name: str, foods: Iterable[F] | FoodIndex[F], unit: str = "") -> tuple[F, float] | None:
    """Return the food that a name most likely means and the confidence from 0 to 1, or None.

    Parameters
    ----------
    name : str
        The food in the cook's words.
    foods : foods, or FoodIndex
        Foods to choose from; an index when several names are looked up.
    unit : str
        The line's unit, a key of ``UNITS``; a can asks for the tinned food.
    """
    index = foods if isinstance(foods, FoodIndex) else FoodIndex(foods)
    return index.find(name, unit)
