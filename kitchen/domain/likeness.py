"""How alike a name and one of a food's names are, word by word."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Any, Generic, Protocol, TypeVar

from kitchen.domain.food_words import (
    ALTERS,
    DESCRIBES,
    DRIED,
    DRY_AISLES,
    FRESH,
    IMITATES,
    LESS_FAT,
    LESSENS,
    OTHER_FOODS,
    PARTED_AISLES,
    PARTS,
    SOLD_FRESH_TOO,
    SORTED_AISLES,
    TELLS_APART,
    TINNED,
    TINNED_AISLES,
    UNSAID,
    VARIETIES,
)

# As sure as words alone make one, and what is left where a word makes another food of it.
MOST_SURE, ALTERED_SURE = 0.98, 0.45


class NamedFood(Protocol):
    """What a food must have to be found: a name and other names. With an ``aisle`` its words are understood better.

    Both are Any because the type checker takes a model's column for the column, not for the text it gives.
    """

    @property
    def name(self) -> Any: ...

    @property
    def aliases(self) -> Any: ...


F = TypeVar("F", bound=NamedFood)


@dataclass(frozen=True, eq=False)
class Phrase(Generic[F]):
    """One of a food's names: its words, and all words that any of the food's names hold (``known``).

    ``most`` is how sure a link by this name can be: less than 1 where the food only stands in for another.
    """

    food: F
    words: tuple[str, ...]
    known: frozenset[str]
    aisle: str = ""
    most: float = 1.0
    own_name: bool = False
    held: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "held", frozenset(self.words))


class Asked:
    """A name's words, once for all the foods that they are held against; ``vocabulary`` is every word that the foods know."""

    def __init__(self, words: tuple[str, ...], vocabulary: Collection[str]) -> None:
        self.words, self.held, self.vocabulary = words, frozenset(words), vocabulary
        named = [word for word in words if word not in PARTS]
        # A part such as "leaves" lets the word before it name the thing too.
        self.heads = frozenset({words[-1], *named[-1:]}) if words[-1] in PARTS else frozenset({words[-1]})
        self.others = tuple(other for other in OTHER_FOODS if other <= self.held)


def likeness(asked: Asked, phrase: Phrase[F]) -> float:
    """Return how sure it is, from 0 to 1, that the name means the food of this phrase.

    Notes
    -----
    The word that names the thing has to be there. What is said beside the food's words, and what is not said of them, makes it
    less sure: hardly where the word only describes, much where it makes another food of it ("coconut milk", "pickled onions").

    Examples
    --------
    >>> class Named:
    ...     name, aliases = "onion", ()
    >>> onion = Phrase(Named(), ("onion",), frozenset({"onion"}), "vegetables")
    >>> [round(likeness(Asked(words, {"onion"}), onion), 2) for words in (("large", "onion"), ("pickled", "onion"), ("soup",))]
    [0.95, 0.44, 0.0]
    """
    if not _may_mean(asked, phrase):
        return 0.0
    sure = MOST_SURE
    for word in asked.held - phrase.held:
        sure *= 1 - _cost_of_more(word, asked, phrase)
    for word in phrase.held - asked.held:
        sure *= _share_of_less(word, phrase)
    if any(not other <= phrase.held for other in asked.others):
        sure = min(sure, ALTERED_SURE)
    return min(sure, phrase.most) * (1.0 if phrase.own_name else 0.995)


def _may_mean(asked: Asked, phrase: Phrase[F]) -> bool:
    if phrase.words[-1] not in asked.held or (asked.held == phrase.held and asked.words != phrase.words):
        return False
    if asked.heads & phrase.held:
        return True
    return bool(asked.heads & phrase.known) and not phrase.held <= PARTS | DESCRIBES


def _share_of_less(word: str, phrase: Phrase[F]) -> float:
    """Return how sure one still is when this word of the food's name is not said."""
    if (word in DRIED and phrase.aisle in SOLD_FRESH_TOO) or word in TELLS_APART:
        return 0.5
    return 0.9 if word in DESCRIBES or word in PARTS or word in UNSAID else 0.5


def _cost_of_more(word: str, asked: Asked, phrase: Phrase[F]) -> float:
    """Return how much surer one would be without this word, which the food's name does not hold."""
    if word in IMITATES and not (word == "free" and "range" in asked.held):
        return 0.7
    if word in phrase.known:
        return 0.04
    if word in FRESH and (phrase.aisle in DRY_AISLES or DRIED & phrase.held):
        return 0.5
    if _goes_without_saying(word, phrase):
        return 0.03
    if word in ALTERS:
        return 0.55
    return _cost_of_telling(word, asked, phrase)


def _goes_without_saying(word: str, phrase: Phrase[F]) -> bool:
    if word == "ground":
        return phrase.aisle == "spices"
    if word == "roasted":
        return phrase.aisle == "nuts and seeds"
    return (word in DRIED and phrase.aisle in DRY_AISLES) or (word in TINNED and phrase.aisle in TINNED_AISLES)


def _cost_of_telling(word: str, asked: Asked, phrase: Phrase[F]) -> float:
    if word in LESSENS or (word == "fat" and LESS_FAT & asked.held):
        return 0.28
    if word in DESCRIBES or word in VARIETIES or word.isdecimal():
        return 0.03
    if word in PARTS:
        return 0.05 if phrase.aisle in PARTED_AISLES or not phrase.aisle else 0.45
    if word in asked.vocabulary:
        return 0.6
    return 0.36 if phrase.aisle in SORTED_AISLES else 0.45
