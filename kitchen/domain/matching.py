"""Finding the food that a line means, by its words, and saying how sure that is.

Decisions. Of 25 November 2026 unless it says otherwise. Sure from 0.95, likely from 0.75, a guess from 0.6; below that
nothing is linked. One list of sixteen allergens serves both laws. The food energy of a serving never counts what is missing
as zero. An unpublished side is neither counted nor named on a public page.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from kitchen.domain.food_words import DESCRIBES, DRIED, NEVER_TINNED, PARTS, is_slip, words_of
from kitchen.domain.likeness import ALTERED_SURE, Asked, NamedFood, Phrase, likeness

SURE, LIKELY, SURE_ENOUGH = 0.95, 0.75, 0.6
STANDS_IN = "like "
_STAND_IN_SURE, _SLIP_SURE = 0.8, 0.7
_SPOONS = frozenset({"tsp", "pinch", "dash"})
# What follows belongs to the food's keeping or use, not to its name.
_ASIDE = re.compile(r"\s*(?:[,;(\[/–—].*|\s(?:in|with|made with|from|for|plus|such as|like|preferably)\s.*)$", re.IGNORECASE)
_EITHER = re.compile(r"\s+or\s+", re.IGNORECASE)
_BOTH = re.compile(r"\s(?:and|&|\+)\s", re.IGNORECASE)
_MEASURED = re.compile(
    r".*?\b(?:knobs?|sprigs?|sachets?|packets?|pieces?|cubes?|sticks?|heads?|bulbs?|bunch(?:es)?|handfuls?|slices?|fillets?|sheets?|"
    r"cloves?|leaves|stalks?|wedges|strips|blocks?|balls?|chunks?|tins?|cans?|jars?|tubs?|pots?|bags?|packs?|drizzle|splash|dash|pinch)"
    r" of (?P<rest>.+)",
    re.IGNORECASE,
)
_TURNED = re.compile(r",|\s(?:of|in|with|from|for)\s", re.IGNORECASE)


F = TypeVar("F", bound=NamedFood)


@dataclass(frozen=True)
class _Match(Generic[F]):
    food: F
    sure: float


def how_sure(sure: float | None) -> str:
    """Return a link's confidence as a key for words: ``sure``, ``likely`` or ``guess``; empty where the cook chose.

    Examples
    --------
    >>> how_sure(1.0), how_sure(0.8), how_sure(0.65), how_sure(None)
    ('sure', 'likely', 'guess', '')
    """
    if sure is None:
        return ""
    return "sure" if sure >= SURE else "likely" if sure >= LIKELY else "guess"


def stands_in(alias: str) -> str:
    """Return what an other name stands for: "like garam masala" is not the food itself but the nearest that the table knows.

    Examples
    --------
    >>> stands_in("like garam masala"), stands_in("mild curry powder")
    ('garam masala', '')
    """
    return alias[len(STANDS_IN) :].strip() if alias.lower().startswith(STANDS_IN) else ""


def _names_two(name: str) -> bool:
    """Whether a name joins two foods; "leaves and stalks" of one are none."""
    joined = _BOTH.split(name)
    return len(joined) > 1 and not any(words and set(words) <= PARTS for words in map(words_of, joined))


def same_name(one: str, other: str) -> bool:
    """Whether two names are the same but for capitals and spaces.

    Examples
    --------
    >>> same_name("Palm  sugar", "palm sugar"), same_name("pepper", "peppers")
    (True, False)
    """
    return _folded(one) == _folded(other)


def _folded(text: str) -> str:
    """Keep the number of the noun: "peppers" are a vegetable, "pepper" is a spice."""
    return " ".join(text.lower().split())


def _nearer(held: Phrase[F] | None, phrase: Phrase[F]) -> Phrase[F]:
    """Return which of two foods with the same words a line means.

    The one whose own name they are comes before one that has them as another name, the cook's word (a food that a cook keeps)
    before the table's, the food itself before one that stands in for it, and of equals the first.
    """
    return phrase if held is None or _rank(phrase) > _rank(held) else held


def _rank(phrase: Phrase[F]) -> tuple[bool, bool, float]:
    return phrase.own_name, bool(getattr(phrase.food, "kept_by_cook", False)), phrase.most


class FoodIndex(Generic[F]):
    """Foods by their words, made once for many lookups.

    Examples
    --------
    >>> from kitchen.reference import load_reference
    >>> index = FoodIndex(load_reference())
    >>> [index.find(words)[0].name for words in ("red lentils", "courgettes", "ground cumin")]
    ['red lentils', 'courgette', 'cumin']
    """

    def __init__(self, foods: Iterable[F]) -> None:
        self._typed: dict[str, Phrase[F]] = {}
        self._exact: dict[frozenset[str], Phrase[F]] = {}
        self._by_word: dict[str, list[Phrase[F]]] = defaultdict(list)
        self._slips: dict[str, str] = {}
        self._by_letter: dict[str, list[str]] = defaultdict(list)
        for food in foods:
            self._take(food)
        for word in self._by_word:
            self._by_letter[word[0]].append(word)

    def _take(self, food: F) -> None:
        texts = (food.name, *(stands_in(alias) or alias for alias in food.aliases))
        known = frozenset(word for text in (food.name, *food.aliases) if not stands_in(text) for word in words_of(text))
        aisle = getattr(food, "aisle", "")
        for text, alias in zip(texts, ("", *food.aliases), strict=True):
            most = _STAND_IN_SURE if stands_in(alias) else 1.0
            self._add(text, Phrase(food, words_of(text), known, aisle, most, own_name=not alias))

    def _add(self, text: str, phrase: Phrase[F]) -> None:
        key = phrase.held
        if not key:
            return
        self._typed[_folded(text)] = _nearer(self._typed.get(_folded(text)), phrase)
        self._exact[key] = _nearer(self._exact.get(key), phrase)
        for word in key:
            self._by_word[word].append(phrase)

    def find(self, name: str, unit: str = "", note: str = "") -> tuple[F, float] | None:
        """Return the food that the name most likely means and how sure that is (0 to 1), or None where no word fits."""
        typed = self._typed.get(_folded(name)) if not unit and "drained" not in note else None
        if typed is not None and typed.most == 1.0:
            return typed.food, 1.0
        return next(iter(self.best(name, unit, note, most=1)), None)

    def named(self, name: str) -> F | None:
        """Return the food whose own name this is, whatever its capitals."""
        phrase = self._typed.get(_folded(name))
        return phrase.food if phrase is not None and phrase.own_name else None

    def search(self, typed: str, most: int = 8) -> list[tuple[F, float]]:
        """Return the foods that somebody may be looking for who has typed this much, the likeliest first.

        Every word has to begin a word of the food's names; what the matcher makes of the whole comes first.

        Examples
        --------
        >>> from kitchen.reference import load_reference
        >>> [food.name for food, _ in FoodIndex(load_reference()).search("coria", most=2)]
        ['fresh coriander', 'coriander seed']
        """
        found = self.best(typed, most=most)
        begun = [(food, sure) for food, sure in self._begun(typed) if all(food is not other for other, _ in found)]
        likely = [(food, sure) for food, sure in found if sure >= SURE_ENOUGH]
        return [*likely, *begun, *found[len(likely) :]][:most]

    def _begun(self, typed: str) -> list[tuple[F, float]]:
        """Return the foods one of whose names begins so: by their own name before another, by the thing before its sort."""
        begun = words_of(typed)
        hits: dict[int, tuple[bool, bool, int, str]] = {}
        foods: dict[int, F] = {}
        for phrase in self._exact.values() if begun else ():
            if all(any(word.startswith(start) for word in phrase.words) for start in begun):
                named = phrase.words[-1].startswith(begun[-1])
                key = (not phrase.own_name, not named, len(phrase.words), phrase.food.name.lower())
                foods[id(phrase.food)] = phrase.food
                hits[id(phrase.food)] = min(hits.get(id(phrase.food), key), key)
        return [(foods[place], 0.0) for place in sorted(hits, key=hits.__getitem__)]

    def best(self, name: str, unit: str = "", note: str = "", most: int = 4) -> list[tuple[F, float]]:
        """Return the foods that the name may mean, the likeliest first, each with how sure that is.

        Parameters
        ----------
        name : str
            The food in the cook's words.
        unit : str
            The line's unit, a key of ``UNITS``: a can asks for the tinned food, a teaspoon of thyme for the dried one.
        note : str
            The line's note: a teaspoon of thyme that is chopped is fresh after all.
        most : int
            How many foods at most.
        """
        found: dict[int, _Match[F]] = {}
        for match in self._matches(name, unit):
            held = found.get(id(match.food))
            if match.sure > 0 and (held is None or match.sure > held.sure):
                found[id(match.food)] = match
        if all(match.sure < SURE_ENOUGH for match in found.values()):
            found |= {id(match.food): match for match in self._slipped(words_of(name))}
        found |= {id(match.food): match for match in self._by_the_spoon(name, unit, note)}
        drained = self._drained(name, unit, note)
        if drained is not None:
            held_back = {place: _Match(one.food, min(one.sure, ALTERED_SURE)) for place, one in found.items()}
            found = held_back | {id(drained.food): drained}
        ranked = sorted(found.values(), key=lambda match: -match.sure)
        return [(match.food, match.sure) for match in ranked[:most]]

    def _matches(self, name: str, unit: str) -> Iterator[_Match[F]]:
        measured = _MEASURED.match(name)
        texts = [(name, 1.0), (_ASIDE.sub("", name), 0.97)]
        if measured:
            texts.append((measured["rest"], 0.97))
        for text, share in dict(reversed(texts)).items():
            for said, in_unit in ((text, unit), (f"tinned {text}", "")) if unit == "can" else ((text, unit),):
                if words := words_of(said):
                    yield from (_Match(match.food, match.sure * share) for match in self._as_said(said, words, in_unit))
        yield from self._either(name, unit)

    def _by_the_spoon(self, name: str, unit: str, note: str) -> Iterator[_Match[F]]:
        """Yield the dried herb before the fresh one where a teaspoon of it is asked for and nothing says that it is fresh."""
        words, noted = words_of(name), set(words_of(note))
        held = self._exact.get(frozenset(words))
        if unit not in _SPOONS or held is None or "fresh" not in words_of(held.food.name):
            return
        dried = next((one for state in ("dried", "ground") if (one := self._exact.get(frozenset((state, *words))))), None)
        if dried is not None and dried.food is not held.food and not {*words, *noted} & {*DESCRIBES, *PARTS}:
            yield _Match(dried.food, _SLIP_SURE)
            yield _Match(held.food, SURE_ENOUGH)

    def _drained(self, name: str, unit: str, note: str) -> _Match[F] | None:
        """Return the tinned food without its liquid where a weight of it is drained; a tin is a whole one with it."""
        if unit == "can" or "drained" not in f"{name} {note}".lower():
            return None
        bare = [word for word in words_of(name) if word not in ("drained", "rinsed")]
        held = self._exact.get(frozenset(("drained", "tinned", *bare)))
        return None if held is None else _Match(held.food, 1.0)

    def _as_said(self, name: str, words: tuple[str, ...], unit: str) -> Iterator[_Match[F]]:
        """Yield the foods for a name taken word by word: the very name, the same words, then most of the words."""
        typed = self._typed.get(_folded(name))
        if typed is not None:
            yield _Match(typed.food, self._in_unit(typed, typed.most, unit))
        exact = self._exact.get(frozenset(words))
        if exact is not None and exact is not typed:
            same_head = (
                len(words) == 1 or exact.words[-1] == words[-1] or {words[-1], exact.words[-1]} & PARTS or _TURNED.search(name)
            )
            most = 0.99 if typed is not None and typed.food is not exact.food else 1.0
            yield _Match(exact.food, self._in_unit(exact, min(most, exact.most if same_head else ALTERED_SURE), unit))
        both = ALTERED_SURE if _names_two(name) else 1.0
        asked = Asked(words, self._by_word)
        for phrase in self._candidates(words):
            sure = likeness(asked, phrase)
            if sure:
                yield _Match(phrase.food, self._in_unit(phrase, min(sure, both), unit))

    def _in_unit(self, phrase: Phrase[F], sure: float, unit: str) -> float:
        """Hold back where the line says a can and the food is dried, or stands fresh in the shop."""
        not_tinned = phrase.aisle in NEVER_TINNED or DRIED & set(phrase.words)
        return min(sure, ALTERED_SURE) if unit == "can" and not_tinned else sure

    def _either(self, name: str, unit: str) -> Iterator[_Match[F]]:
        """Yield what the first of two alternatives means: "lemon or lime juice", "butter or oil"."""
        first, *others = _EITHER.split(name, maxsplit=1)
        if not others or not words_of(first) or not words_of(others[0]):
            return
        whole = f"{first} {others[0].split()[-1]}"
        for text, share in ((whole, 0.9), (first, 0.85)):
            found = list(self._as_said(text, words_of(text), unit))
            yield from (_Match(match.food, match.sure * share) for match in found)
            if any(match.sure >= SURE for match in found):
                return

    def _slipped(self, words: tuple[str, ...]) -> Iterator[_Match[F]]:
        """Yield the food of a name with a slip of the pen: "tumeric"."""
        strange = [word for word in words if len(word) >= 5 and word not in self._by_word and word not in DESCRIBES]
        if len(strange) != 1:
            return
        meant = self._meant(strange[0])
        mended = tuple(meant if word == strange[0] else word for word in words)
        exact = self._exact.get(frozenset(mended)) if meant else None
        if exact is not None:
            yield _Match(exact.food, min(exact.most, _SLIP_SURE))

    def _meant(self, word: str) -> str:
        if word not in self._slips:
            alike = (known for known in self._by_letter.get(word[0], ()) if is_slip(word, known))
            self._slips[word] = next(alike, "")
        return self._slips[word]

    def _candidates(self, words: tuple[str, ...]) -> Iterable[Phrase[F]]:
        seen: dict[int, Phrase[F]] = {}
        for word in words:
            for phrase in self._by_word.get(word, ()):
                seen[id(phrase)] = phrase
        return seen.values()


def best_food(name: str, foods: Iterable[F] | FoodIndex[F], unit: str = "", note: str = "") -> tuple[F, float] | None:
    """Return the food that a name most likely means and the confidence from 0 to 1, or None.

    Parameters
    ----------
    name : str
        The food in the cook's words.
    foods : foods, or FoodIndex
        Foods to choose from; an index when several names are looked up.
    unit : str
        The line's unit, a key of ``UNITS``; a can asks for the tinned food.
    note : str
        The line's note.
    """
    index = foods if isinstance(foods, FoodIndex) else FoodIndex(foods)
    return index.find(name, unit, note)
