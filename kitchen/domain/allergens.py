"""Allergens: the published lists, what a recipe's foods bring in, and what the cook says about it.

One list serves readers under either law. A food names each allergen that it is made of; with a question mark (``celery?``) it
names one that many makers of such a product put in, so that only the label can tell. Traces of a maker's other goods are never
told here.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from kitchen.domain.facts import FoodFacts, LineFacts, MadeFacts, RecipeFacts

NONE = "none"
MAYBE = "?"


@dataclass(frozen=True)
class Allergen:
    """One allergen: ``words`` for readers under either law; ``eu`` and ``us`` as each law names it, None where it does not."""

    key: str
    words: str
    eu: str | None
    us: str | None


# Wheat stands apart since US law knows it alone; for the EU it is one of the cereals containing gluten. Pine nuts are tree nuts
# in the guidance of the US Food and Drug Administration of January 2025 (from memory) and not in annex II; coconut is in neither.
ALLERGENS: tuple[Allergen, ...] = (
    Allergen("wheat", "wheat", "cereals containing gluten, namely wheat", "wheat"),
    Allergen("gluten", "gluten", "cereals containing gluten", None),
    Allergen("crustaceans", "crustacean shellfish", "crustaceans", "crustacean shellfish"),
    Allergen("eggs", "egg", "eggs", "egg"),
    Allergen("fish", "fish", "fish", "fish"),
    Allergen("peanuts", "peanuts", "peanuts", "peanuts"),
    Allergen("soya", "soya (soy)", "soybeans", "soybeans"),
    Allergen("milk", "milk", "milk", "milk"),
    Allergen("nuts", "tree nuts", "nuts", "tree nuts"),
    Allergen("pine_nuts", "pine nuts", None, "tree nuts"),
    Allergen("celery", "celery", "celery", None),
    Allergen("mustard", "mustard", "mustard", None),
    Allergen("sesame", "sesame", "sesame seeds", "sesame"),
    Allergen("sulphites", "sulphites", "sulphur dioxide and sulphites", None),
    Allergen("lupin", "lupin", "lupin", None),
    Allergen("molluscs", "molluscs", "molluscs", None),
)
BY_KEY: Mapping[str, Allergen] = {allergen.key: allergen for allergen in ALLERGENS}
_PLACE = {allergen.key: place for place, allergen in enumerate(ALLERGENS)}
# Spellings that the form for foods wrote once.
_EARLIER = {"egg": "eggs", "peanut": "peanuts", "sulphite": "sulphites"}


@dataclass(frozen=True)
class Found:
    """One allergen of a recipe in words, and the foods that bring it.

    ``optional`` where only optional lines bring it, ``added`` where the cook put it on the list.
    """

    key: str
    words: str
    foods: tuple[str, ...] = ()
    optional: bool = False
    added: bool = False

    @property
    def brought_by(self) -> str:
        """The foods as one text; empty where it would only say "egg" of an egg."""
        told = ", ".join(self.foods)
        return "" if told.lower() == self.words else told


@dataclass(frozen=True)
class AllergenList:
    """What is known of a recipe's allergens.

    ``keys`` are in it for sure, and ``found`` says so in words; ``labels`` are in many makers' products of the kind; ``unknown``
    names the lines of which nothing is known; ``without`` is in words what the cook took off the list.
    """

    keys: tuple[str, ...] = ()
    found: tuple[Found, ...] = ()
    labels: tuple[Found, ...] = ()
    unknown: tuple[str, ...] = ()
    without: tuple[str, ...] = ()

    @property
    def in_short(self) -> str:
        """What is in it and what may be, in one line."""
        told = [", ".join(entry.words for entry in self.found)] if self.found else ["none known"]
        told += [f"check the label: {', '.join(entry.words for entry in self.labels)}"] if self.labels else []
        return "; ".join([*told, *(["not all known"] if self.unknown else [])])

    @property
    def label_keys(self) -> tuple[str, ...]:
        """The keys of what only labels tell, gluten of wheat included."""
        keys = {entry.key for entry in self.labels}
        return ordered(keys | ({"gluten"} if "wheat" in keys else set()))

    @property
    def only_eu(self) -> tuple[str, ...]:
        """What of it the US list does not have, in words."""
        return tuple(entry.words for entry in self._named() if BY_KEY[entry.key].us is None)

    @property
    def only_us(self) -> tuple[str, ...]:
        """What of it the European list does not have, in words."""
        return tuple(entry.words for entry in self._named() if BY_KEY[entry.key].eu is None)

    def _named(self) -> Iterator[Found]:
        entries = {entry.key: entry for entry in (*self.labels, *self.found)}
        return (entries[key] for key in ordered(entries))


def shelf_allergens(told: AllergenList | None) -> tuple[str, ...]:
    """Return the keys that are in it or may be, so that it is not free of them; ``?`` where not all is known.

    Examples
    --------
    >>> shelf_allergens(None), shelf_allergens(AllergenList(keys=("milk",))), shelf_allergens(AllergenList(unknown=("stock",)))
    (('?',), ('milk',), ('?',))
    """
    if told is None:
        return (MAYBE,)
    return (*ordered({*told.keys, *told.label_keys}), *((MAYBE,) if told.unknown else ()))


def ordered(keys: Iterable[str]) -> tuple[str, ...]:
    """Return the known ones of these keys, each once, in the order of the list; a question mark stays.

    Examples
    --------
    >>> ordered(["milk", "celery?", "gluten", "dust"])
    ('gluten', 'milk', 'celery?')
    """
    known = {key for key in keys if key.removesuffix(MAYBE) in _PLACE}
    return tuple(sorted(known, key=lambda key: (_PLACE[key.removesuffix(MAYBE)], key)))


def current_key(key: str) -> str:
    """Return a food's allergen as the list spells it now.

    Examples
    --------
    >>> current_key("egg"), current_key("celery?")
    ('eggs', 'celery?')
    """
    return _EARLIER.get(key, key)


def allergens_of(food: FoodFacts) -> tuple[str, ...] | None:
    """Return a food's allergens, or None where nobody has said anything of them.

    Notes
    -----
    A row of the reference table without any has none, since all its rows were gone over. Of a cook's own food without any
    nothing is known until the cook ticks "none of these". Wheat is always one of the cereals containing gluten.

    Examples
    --------
    >>> allergens_of(FoodFacts("plain flour", allergens=("wheat",))), allergens_of(FoodFacts("onion", sr_number=11282))
    (('wheat', 'gluten'), ())
    >>> allergens_of(FoodFacts("star loaf")), allergens_of(FoodFacts("well water", allergens=("none",)))
    (None, ())
    """
    keys = {current_key(key) for key in food.allergens}
    if not keys and food.sr_number is None:
        return None
    keys |= {key.replace("wheat", "gluten") for key in keys}
    return tuple(key for key in ordered(keys) if key.endswith(MAYBE) is False or key.removesuffix(MAYBE) not in keys)


def line_name(line: LineFacts) -> str:
    """Return the few words by which a list names a line."""
    return line.name or line.text


def listed(lines: Iterable[LineFacts], added: Iterable[str] = (), removed: Iterable[str] = ()) -> AllergenList:
    """Return the allergens of these lines, as the cook edited them.

    Parameters
    ----------
    lines : iterable of LineFacts
        Every line of the recipe; sides are other recipes and not among them.
    added, removed : iterable of str
        Keys that the cook puts on the list and takes off it.

    Returns
    -------
    AllergenList
        Wheat and gluten of the same food are one entry, "wheat (gluten)"; oats or barley beside it are "other cereals with
        gluten".

    References
    ----------
    Regulation (EU) No 1169/2011, annex II (14 allergens); Food Allergen Labeling and Consumer Protection Act of 2004 with the
    FASTER Act of 2021 (9 allergens).

    Examples
    --------
    >>> flour = FoodFacts("plain flour", sr_number=20081, allergens=("wheat", "gluten"))
    >>> told = listed([LineFacts("flour", food=flour), LineFacts("stardust")], added=["sesame"])
    >>> [(entry.words, entry.foods) for entry in told.found], told.unknown
    ([('wheat (gluten)', ('plain flour',)), ('sesame', ())], ('stardust',))
    """
    lines, added, off = list(lines), set(ordered(added)), set(ordered(removed))
    added |= {"gluten"} if "wheat" in added else set()
    brought = _bringing(lines)
    keys = tuple(key for key in _PLACE if (brought[key] or key in added) and key not in off)
    labels = tuple(key for key in _PLACE if brought[key + MAYBE] and key not in keys and key not in off)
    return AllergenList(
        keys=keys,
        found=tuple(_in_words(keys, brought, "", added)),
        labels=tuple(_in_words(labels, brought, MAYBE, set())),
        unknown=tuple(dict.fromkeys(map(line_name, brought[_UNKNOWN]))),
        without=_without_words(off),
    )


_UNKNOWN = ""


def _bringing(lines: list[LineFacts]) -> Mapping[str, list[LineFacts]]:
    """Return the lines that bring each allergen, sure or not; those of which nothing is known under the empty key."""
    found: defaultdict[str, list[LineFacts]] = defaultdict(list)
    for line in lines:
        known = _of_made(line.made) if line.made is not None else None if line.food is None else allergens_of(line.food)
        for key in (_UNKNOWN,) if known is None else known:
            found[key].append(line)
    return found


def _of_made(made: MadeFacts) -> tuple[str, ...]:
    """Return what another recipe brings, as its cook edited it; the empty key where not all of it is known."""
    told = listed(made.lines, made.allergens_added, made.allergens_removed)
    labels = (key + MAYBE for key in told.label_keys)
    return (*told.keys, *labels, *((_UNKNOWN,) if told.unknown else ()))


def _in_words(keys: tuple[str, ...], brought: Mapping[str, list[LineFacts]], mark: str, added: set[str]) -> Iterator[Found]:
    """Yield the entries; a food that brings wheat stands in that entry and not in the one for gluten again."""
    for key in keys:
        lines = brought[key + mark]
        if key == "gluten" and "wheat" in keys:
            lines = [line for line in lines if line not in brought["wheat" + mark]]
            if not lines and ("wheat" in added or key not in added):
                continue
        foods = tuple(dict.fromkeys(filter(None, map(_brings, lines))))
        words = "wheat (gluten)" if key == "wheat" and "gluten" in keys else BY_KEY[key].words
        if key == "gluten" and "wheat" in keys and lines:
            words = "other cereals with gluten"
        optional = bool(lines) and all(line.optional for line in lines) and key not in added
        yield Found(key, words, foods, optional, added=key in added)


def _brings(line: LineFacts) -> str:
    """Return what brings an allergen: a food, or another recipe."""
    return line.made.title if line.made is not None else "" if line.food is None else line.food.name


def _without_words(off: set[str]) -> tuple[str, ...]:
    if {"wheat", "gluten"} <= off:
        return ("wheat (gluten)", *(BY_KEY[key].words for key in ordered(off - {"wheat", "gluten"})))
    return tuple(BY_KEY[key].words for key in ordered(off))


def of_recipe(recipe: RecipeFacts) -> AllergenList | None:
    """Return the allergens of a recipe's frozen facts, or None where an older program froze them and nothing was worked out."""
    if not recipe.allergens_told:
        return None
    lines = [line for part in recipe.parts for line in part.lines]
    return listed(lines, recipe.allergens_added, recipe.allergens_removed)
