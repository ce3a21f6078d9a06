"""What a line says of each of its foods: "..., minced" of the meat before it, "for the fish" of none."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from energy.cautions.phrases import JOINED, Clause, Piece, noun_kinds, read_clauses

ANIMALS = frozenset({"poultry", "poultry_part", "meat", "meat_part", "game", "offal"})
PARTS = frozenset({"poultry_part", "meat_part"})
UNCOOKED = frozenset({"dried", "dry", "soaked", "raw"})
_HAS_PARTS = ANIMALS | {"ready_meat", "fish", "shellfish", "bivalve", "ready_fish"}
_HEADS = frozenset({"ground", "ground_head"})
_HEAD_WORDS = frozenset({"burger", "sausage", "meatball", "mince", "ball", "patty", "loaf", "kofta"})
_BARE = frozenset({"poultry", "meat", "game", "fish", "shellfish"})
_DESCRIBING = frozenset({"describes", "fresh", "raw"})
_NOT_IN_IT = frozenset({"for", "without", "instead", "rather", "not", "no", "to"})
_DENIES = frozenset({"not", "no", "without"})
_STOCKS = frozenset({"stock", "broth", "bouillon", "gravy", "soup", "consomme", "fat", "dripping"})


@dataclass
class Thing:
    """One clause with a food: its pieces, and the states that are said of it.

    ``states`` are all that are said, ``own_states`` those said beside the food itself; ``minced`` whether its meat is.
    """

    pieces: Sequence[Piece]
    joiner: str = ""
    states: set[str] = field(default_factory=set)
    own_states: set[str] = field(default_factory=set)
    minced: bool = False

    @property
    def kinds(self) -> frozenset[str]:
        """The lists of foods that its pieces stand in."""
        return frozenset().union(*map(nouns_of, self.pieces))

    @property
    def has_digits(self) -> bool:
        """Whether an amount stands in it."""
        return any(piece.words[0][:1].isdigit() for piece in self.pieces)


def nouns_of(piece: Piece) -> frozenset[str]:
    """Return the lists of foods that a piece stands in."""
    return piece.kinds & noun_kinds()


def read_things(text: str) -> list[Thing]:
    """Return the foods of a line, each with all that is said of it; what is not in it ("for the fish") is left out.

    Examples
    --------
    >>> [(sorted(thing.kinds), sorted(thing.states)) for thing in read_things("200 g kidney beans, soaked overnight")]
    [(['bean'], ['soaked'])]
    >>> [thing.minced for thing in read_things("minced beef and pork")]
    [True, True]
    """
    things = list[Thing]()
    waiting = set[str]()
    for clause in read_clauses(text):
        waiting = _take(clause, things, waiting)
    for thing in things:
        thing.minced |= _minces_own(thing)
    _share(things)
    return things


def _take(clause: Clause, things: list[Thing], waiting: set[str]) -> set[str]:
    """Take one clause in; return the states that wait for the first food."""
    states = {kind for piece in clause.pieces for kind in piece.kinds - noun_kinds() - {"describes"}}
    states = states & UNCOOKED if clause.joiner in {"to", "for"} else states
    named = any(map(nouns_of, clause.pieces)) and not _tells_to_mince(clause, things)
    if clause.joiner in _DENIES or (named and clause.joiner in _NOT_IN_IT):
        return waiting
    if clause.joiner == "from" and things:
        things[-1].states |= states
    elif named and not _part_of_before(clause, things):
        things.append(Thing(clause.pieces, clause.joiner, states | waiting, states | waiting))
        return set()
    elif not things:
        return waiting | states
    else:
        _say_of_before(things, clause, states)
    return waiting


def _part_of_before(clause: Clause, things: Sequence[Thing]) -> bool:
    """Whether a clause only names a part of the food before it: "a roast chicken, meat shredded"."""
    kinds = frozenset().union(*map(nouns_of, clause.pieces))
    only_meat = {piece.words for piece in clause.pieces if nouns_of(piece)} == {("meat",)}
    bare = kinds <= PARTS and clause.joiner in {",", "(", "and" if only_meat else ","} and not Thing(clause.pieces).has_digits
    return bare and bool(things) and bool(things[-1].kinds & _HAS_PARTS)


def _tells_to_mince(clause: Clause, things: Sequence[Thing]) -> bool:
    """Whether "mince" is what the cook is told to do: "3 cloves garlic, mince"."""
    named = [piece.words for piece in clause.pieces if nouns_of(piece)]
    return bool(things) and clause.joiner == "," and named == [("mince",)] and len(clause.pieces) < 3


def _say_of_before(things: Sequence[Thing], clause: Clause, states: set[str]) -> None:
    """Give what a clause without a food says to the foods before it; an "or" speaks of another choice."""
    other_choice = {"stand_in"} if clause.joiner in {"or", "/"} else set[str]()
    minced = ("minced" in states or _tells_to_mince(clause, things)) and not _grinds_unknown(clause.pieces)
    for thing in things:
        thing.states |= states - other_choice - {"tail", "minced"}
        thing.minced |= minced and bool(thing.kinds & ANIMALS)


def _grinds_unknown(pieces: Sequence[Piece]) -> bool:
    """Whether what is ground is a thing that nobody knows: "ground sumac"."""
    at = next((place for place, piece in enumerate(pieces) if "minced" in piece.kinds), len(pieces))
    return any(not piece.kinds and piece.words[0].isalpha() for piece in pieces[at + 1 :])


def _minces_own(thing: Thing) -> bool:
    """Whether "minced" in the clause is said of its meat: of the food after it, else of the one before it."""
    for at, piece in enumerate(thing.pieces):
        if "minced" in piece.kinds:
            after = _first_food(thing.pieces[at + 1 :])
            if after is None and not _grinds_unknown(thing.pieces[at:]):
                after = _first_food(reversed(thing.pieces[:at]))
            if after is not None and after.kinds & ANIMALS:
                return True
    return False


def _first_food(pieces: Iterable[Piece]) -> Piece | None:
    return next((piece for piece in pieces if nouns_of(piece)), None)


def _share(things: list[Thing]) -> None:
    """Let "beef and pork mince", "chicken or vegetable stock" and "1 tin kidney or borlotti beans" say it of both."""
    listed = False
    for before, after in pairwise(things):
        listed = bool(after.joiner == "(" and before.kinds & _HEADS) or (listed and after.joiner in JOINED | {","})
        after.minced |= listed and _is_bare(after, amounts=False)  # "mince (beef, lamb or pork)"
        if after.joiner not in JOINED:
            continue
        if _is_bare(before) and _names_stock(after):
            before.pieces = ()
        _share_mincing(things, before, after)
        if "tin" in before.own_states and after.joiner in {"or", "/"} and not after.has_digits:
            after.states.add("tin")
    for thing in things if any("mushroom" in words for one in things for words in _named(one)) else ():
        thing.pieces = () if _named(thing) == {("oyster",)} else thing.pieces  # "mushrooms such as oyster and shiitake"
    if things and _names_stock(things[0]) and not things[0].kinds & ANIMALS:
        for thing in things[1:]:
            thing.pieces = () if _is_bare(thing, amounts=False) else thing.pieces


def _share_mincing(things: Sequence[Thing], before: Thing, after: Thing) -> None:
    if _is_minced(after):
        for earlier in (before,) if after.kinds & ANIMALS else things[: things.index(after)]:
            earlier.minced |= _is_bare(earlier)
    if before.minced and _is_bare(after, amounts=False):
        after.minced = True


def _is_minced(thing: Thing) -> bool:
    """Whether a clause is minced, names what is, or ends with such a word though it is no meat ("... and bean burgers")."""
    return thing.minced or bool(thing.kinds & _HEADS) or any(piece.words[-1] in _HEAD_WORDS for piece in thing.pieces[-1:])


def _is_bare(thing: Thing, *, amounts: bool = True) -> bool:
    """Whether a clause holds an animal's name and nothing but describing words, and amounts where they are allowed."""
    if not thing.kinds & _BARE or (not amounts and thing.has_digits):
        return False
    foods = [piece for piece in thing.pieces if nouns_of(piece)]
    rest = [piece for piece in thing.pieces if not nouns_of(piece)]
    described = all(piece.kinds & _DESCRIBING or not piece.words[0].isalpha() for piece in rest)
    return described and all(len(piece.words) == 1 or "game" in piece.kinds for piece in foods)


def _named(thing: Thing) -> set[tuple[str, ...]]:
    return {piece.words for piece in thing.pieces if nouns_of(piece)}


def _names_stock(thing: Thing) -> bool:
    """Whether the clause names a stock, a gravy, a fat."""
    return any(_STOCKS.intersection(piece.words) for piece in thing.pieces)
