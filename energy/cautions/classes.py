"""The classes of food in an ingredient line, by its names and by what is said of their state: minced, tinned, soaked, cooked.

Notes
-----
The words of the line decide. What is said in a clause without a food of its own ("..., minced"; "(soaked overnight)") is said of
the foods before it. Where two words about a dried bean disagree, it is taken for dried; one of which nothing is said as well.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache

from energy.cautions.phrases import is_lean_share
from energy.cautions.things import ANIMALS, PARTS, UNCOOKED, Thing, nouns_of, read_things

Kinds = frozenset[str]
Rule = Callable[[Thing, Kinds], Iterable[str]]

_BY_AISLE: Mapping[str, Kinds] = {"meat": frozenset({"cut"}), "fish": frozenset({"fish"})}
_PLAIN: Kinds = frozenset({"plain"})
_NEVER_TAIL: Kinds = frozenset({"ground", "cured", "ready_meat", "dairy", "plain"})
_MEATLESS: Kinds = frozenset({"pulse", "bean", "mild_bean", "cooked_bean", "chilled"})
_PREPARED: Kinds = frozenset({"cured", "ready_meat", "ham"})
_WHOLE: Kinds = (ANIMALS - PARTS) | frozenset(
    ("fish", "shellfish", "plain", "bivalve", "chilled", "dairy", "cured", "ready_meat", "ready_fish", "egg")
)
# What a vegan food only stands in for.
_STOOD_FOR: Kinds = ANIMALS | frozenset(
    ("ground", "ground_head", "cured", "ham", "ready_meat", "fish", "ready_fish", "shelf_fish", "shellfish", "bivalve")
    + ("egg", "cooked_egg", "dairy", "stuffing")
)
_PUT_UP = frozenset({"tin", "packed", "sauced", "cooked"})


def classes_of(line: str, food: str = "", aisle: str = "") -> frozenset[str]:
    """Return the classes of food that a line holds.

    Parameters
    ----------
    line : str
        The ingredient line as it was typed.
    food, aisle : str
        The linked food's name and its group; they speak where the line names no food that is known.

    Examples
    --------
    >>> sorted(classes_of("200 g kidney beans, soaked overnight", "tinned kidney beans"))
    ['dried_pulse', 'toxin']
    >>> sorted(classes_of("2 tins kidney beans, drained")), sorted(classes_of("500 g lean pork, minced"))
    (['cooked_pulse'], ['ground'])
    >>> sorted(classes_of("200 g oyster mushrooms")), sorted(classes_of("our usual", "haddock", "fish"))
    ([], ['fish'])
    """
    found = _classes(line)
    of_food = _classes(food) if food else None
    if found is None:
        found = _BY_AISLE.get(aisle, frozenset()) if of_food is None else of_food
    elif "unsure" in found and of_food is not None:
        found |= {"toxin", "dried_pulse"} & of_food
    return found - {"unsure"}


@lru_cache(maxsize=4096)
def _classes(text: str) -> frozenset[str] | None:
    """Return the classes of a text, or None where it names no food that is known."""
    things = read_things(text)
    if not any(thing.kinds for thing in things):
        return None
    if is_lean_share(text):
        for thing in things:
            thing.minced |= bool(thing.kinds & {"meat", "poultry"}) and "plain" not in thing.kinds
    return frozenset(of for thing in things for of in _of_thing(thing))


def _of_thing(thing: Thing) -> Iterable[str]:
    """Yield the classes of one clause's foods."""
    held: Kinds = frozenset().union(*_foods(thing))
    if held & _WHOLE:
        held -= PARTS
    if "stand_in" in thing.states:
        held -= _STOOD_FOR
    for kind in held:
        yield from _RULES[kind](thing, held) if kind in _RULES else ()


def _foods(thing: Thing) -> list[Kinds]:
    """Return the kinds of each food of a clause; of some words together only what they mean together."""
    foods = list[Kinds]()
    for at, piece in enumerate(thing.pieces):
        named = nouns_of(piece)
        before = nouns_of(thing.pieces[at - 1]) if at else frozenset()
        if not named or (piece.words == ("bean",) and before) or _adds_nothing(named, before, foods):
            continue
        if named & _PREPARED and foods and foods[-1] <= ANIMALS and before & ANIMALS:
            foods.pop()  # "beef salami"
        if named == {"ground"} and foods and foods[-1] <= _MEATLESS and not any(food & ANIMALS for food in foods):
            foods[-1] = _PLAIN  # "lentil meatballs"
        else:
            foods.append(_PLAIN if _is_only_its_taste(thing, at, named) else named)
    return foods


def _adds_nothing(named: Kinds, before: Kinds, foods: list[Kinds]) -> bool:
    """Whether a word only goes on with the one before it: "hot dog sausages", "char siu pork"."""
    goes_on = bool(before & _PREPARED) and named <= PARTS | {"ground"}
    of_ready = bool(foods) and foods[-1] == {"ready_meat"} and named <= ANIMALS
    return goes_on or of_ready


def _is_only_its_taste(thing: Thing, at: int, named: Kinds) -> bool:
    """Whether what follows makes a stock, a fat, a sauce or a seasoning of it."""
    after = thing.pieces[at + 1].kinds if at + 1 < len(thing.pieces) else frozenset()
    return "tail" in after and not named & _NEVER_TAIL


def _is_ready(thing: Thing) -> bool:
    """Whether the food was cooked before: said so, and nowhere that it is raw."""
    return "cooked" in thing.states and "raw" not in thing.states


def _is_minced(thing: Thing, held: Kinds) -> bool:
    return thing.minced or bool(held & {"ground", "ground_head"})


def _of_poultry(thing: Thing, held: Kinds) -> Iterable[str]:
    if "tin" in thing.own_states:
        return ()
    minced = _is_minced(thing, held)
    if _is_ready(thing) or ("smoked" in thing.own_states and not minced):
        return ("cooked_meat",)
    return ("poultry", "ground") if minced else ("poultry",)


def _of_red(thing: Thing, held: Kinds) -> Iterable[str]:
    if thing.own_states & {"tin", "dried"}:
        return ()
    if "offal" in held and not held & {"meat", "game"} and thing.states & {"soaked", "dry"}:
        return ("toxin", "dried_pulse")  # "kidneys, soaked": beans
    if _is_ready(thing):
        return ("cooked_meat",)
    return ("ground",) if _is_minced(thing, held) else ("game",) if held & {"game", "offal"} else ("cut",)


def _of_ground(thing: Thing, held: Kinds) -> Iterable[str]:
    if (held & {"fish", "shellfish"} and not held & ANIMALS) or thing.own_states & {"tin", "dried"}:
        return ()
    return ("cooked_meat",) if _is_ready(thing) else ("ground",)


def _of_fish(thing: Thing, held: Kinds) -> Iterable[str]:
    if thing.states & {"tin", "packed", "dried"} and "fresh" not in thing.own_states:
        return ()
    return ("chilled",) if _is_ready(thing) else ("fish",)


def _of_shelf_fish(thing: Thing, held: Kinds) -> Iterable[str]:
    return ("fish",) if "fresh" in thing.states and not thing.states & {"tin", "packed"} else ()


def _of_shells(kind: str) -> Rule:
    def rule(thing: Thing, held: Kinds) -> Iterable[str]:
        if thing.states & {"tin", "packed", "dried", "smoked"}:
            return ()
        return ("chilled",) if _is_ready(thing) else (kind,)

    return rule


def _of_egg(thing: Thing, held: Kinds) -> Iterable[str]:
    if "smoked" in thing.states:
        return ()
    boiled = any("boiled" in piece.words for piece in thing.pieces)
    return ("chilled",) if _is_ready(thing) and boiled else ("egg",)


def _of_bean(thing: Thing, held: Kinds) -> Iterable[str]:
    return ("cooked_pulse",) if _is_put_up(thing) else ("toxin", "dried_pulse")


def _of_mild_bean(thing: Thing, held: Kinds) -> Iterable[str]:
    if thing.states & UNCOOKED:
        return ("toxin", "dried_pulse")
    return ("cooked_pulse",) if _is_put_up(thing) else ("unsure",)


def _of_pulse(thing: Thing, held: Kinds) -> Iterable[str]:
    return ("cooked_pulse",) if _is_put_up(thing) else ("dried_pulse",)


def _is_put_up(thing: Thing) -> bool:
    """Whether beans or peas were cooked before, and nothing says that they are dried."""
    return bool(thing.states & _PUT_UP) and not thing.states & UNCOOKED


def _of_ham(thing: Thing, held: Kinds) -> Iterable[str]:
    return ("cut",) if thing.states & {"raw", "fresh"} else ("ham",)


def _always(*classes: str) -> Rule:
    return lambda thing, held: classes


_RULES: Mapping[str, Rule] = {
    **dict.fromkeys(("poultry", "poultry_part"), _of_poultry),
    **dict.fromkeys(("meat", "meat_part", "game", "offal"), _of_red),
    "ground": _of_ground,
    "ham": _of_ham,
    "ready_meat": _always("cooked_meat"),
    "stuffing": _always("stuffing"),
    "fish": _of_fish,
    "shelf_fish": _of_shelf_fish,
    "ready_fish": _always("chilled"),
    "shellfish": _of_shells("shellfish"),
    "bivalve": _of_shells("bivalve"),
    "egg": _of_egg,
    "cooked_egg": _always("chilled"),
    "bean": _of_bean,
    "mild_bean": _of_mild_bean,
    "cooked_bean": _always("cooked_pulse"),
    "pulse": _of_pulse,
    "split_pea": _always("dried_pulse", "blocks"),
    "rice": _always("rice"),
    "pasta": _always("rice", "blocks"),
    "oats": _always("grain", "blocks"),
    "barley": _always("grain", "blocks"),
    "grain": _always("grain"),
    "blocks": _always("blocks"),
    "dairy": _always("dairy"),
    "chilled": _always("chilled"),
    "thick": _always("thick"),
}
