"""Filling a vessel: the volume of the food, what a pot may hold, and how many equal batches that makes.

What is poured counts with its own density. What is in pieces counts a litre for each kilogram: in a wet pot the liquid fills the
gaps between the pieces and leaves collapse, so a cup of loose rice or spinach is not a cup of room (common practice; food is
mostly water). What is heavier than water (honey, salt) counts with its density. A line that only has a volume counts with that.

At most two thirds are filled, half of what expands or foams: pasta, rice and other grains, dried beans and lentils (pressure
cooker manuals; extension services). An appliance's own limits go before these. Two parts in a hundred above the limit are not
worth a word, as the volume is no surer; the rim is never passed.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain import foods
from kitchen.domain.facts import FoodFacts, LineFacts, PartFacts
from kitchen.domain.scaling import scale
from kitchen.domain.units import UNITS, volume_ml

USUAL_LIMIT, USUAL_FOAM_LIMIT = 2 / 3, 1 / 2
MOST_BATCHES = 50
_GRACE = 1.02

_LATER = re.compile(
    r"\b(?:to|for|when) (?:finish|serv|garnish|decorat|sprinkl|dust|drizzl|top|the top|the table|dip)\w*"
    r"|\bat the (?:table|end)\b|\bgarnish|\btoppings?\b|\bafterwards?\b",
    re.IGNORECASE,
)
_EXPANDS = re.compile(
    r"\b(?:rice|pasta|penne|spaghetti|macaroni|fusilli|noodles?|oats|oatmeal|barley|bulgur|couscous|quinoa|millet|polenta|farro|spelt|"
    r"buckwheat|lentils?|dal|dhal|split peas|beans?|chickpeas?|grits|semolina|groats|orzo|lasagn[ae]|ramen)\b",
    re.IGNORECASE,
)
_STAYS = re.compile(
    r"\b(?:cooked|boiled|tinned|canned|green|runner|french|fine|coffee|cocoa|vanilla|broad|baked|frozen|fresh) (?:\w+ )?beans?\b"
    r"|\b(?:cooked|boiled|tinned|canned|drained)\b|\brice (?:vinegar|wine|paper|flour|milk)\b|\bbean ?sprouts?\b"
    r"|\b(?:barley|oat|chickpea|lentil|bean|buckwheat|rice) (?:flour|milk|drink|paste|sauce|stock)\b",
    re.IGNORECASE,
)
_EXPANDING_AISLES = frozenset({"grains and pasta", "pulses"})


@dataclass(frozen=True)
class Vessel:
    """What the food is cooked in, as far as filling it goes.

    ``fill_limit`` is the greatest filling as a share of the capacity (0 to 1), ``foam_limit`` the same for what expands or foams,
    ``least_liquid_ml`` what a closed pot needs in each batch, ``closed`` whether a lid or pressure keeps the steam in.
    ``liquid_only``: a kettle, in which nothing but the liquid is heated. ``own``: the reader's, who typed it.
    """

    name: str
    capacity_ml: float
    fill_limit: float = USUAL_LIMIT
    foam_limit: float = USUAL_FOAM_LIMIT
    least_liquid_ml: float = 0
    closed: bool = True
    liquid_only: bool = False
    own: bool = False


@dataclass(frozen=True)
class FoodVolume:
    """What goes into the pot. ``shared_ml`` is split over the batches, ``each_ml`` goes into every one. [mL]

    ``unknown`` names the lines whose volume nobody knows, ``expands`` those that swell or foam.
    """

    shared_ml: float
    each_ml: float = 0.0
    unknown: tuple[str, ...] = ()
    expands: tuple[str, ...] = ()

    def in_batch_ml(self, batches: int) -> float:
        """Return what is in the pot in each of so many equal batches. [mL]"""
        return self.shared_ml / batches + self.each_ml


@dataclass(frozen=True)
class Filling:
    """How a vessel is filled: ``batches`` equal ones, None where no number of batches fits. [mL]"""

    vessel: Vessel
    volume: FoodVolume
    limit_ml: float
    batches: int | None

    @property
    def overfull(self) -> bool:
        """Whether it does not go in at once."""
        return self.batches != 1


def added_later(line: LineFacts, part: str = "") -> bool:
    """Say whether a line is added when the pot is off the heat: to finish, to serve, as a garnish.

    Examples
    --------
    >>> added_later(LineFacts("dill", note="to serve")), added_later(LineFacts("rice"), "To finish")
    (True, True)
    """
    return any(_LATER.search(words) for words in (part, line.note, line.text))


def expands(line: LineFacts) -> bool:
    """Say whether a line swells or foams: dry grains, pasta, dried pulses; what is cooked or tinned already does not.

    Examples
    --------
    >>> [expands(LineFacts(text, name=text)) for text in ("red lentils", "tinned chickpeas", "green beans", "rice vinegar")]
    [True, False, False, False]
    """
    name = f"{line.name or line.text} {line.food.name if line.food else ''}"
    if line.unit in ("can", "jar") or _STAYS.search(f"{name} {line.note}"):
        return False
    return (line.food is not None and line.food.aisle in _EXPANDING_AISLES) or bool(_EXPANDS.search(name))


def line_volume_ml(line: LineFacts) -> float | None:
    """Return the room that the written amount of a line takes in a wet pot; None where nobody knows. [mL]

    Examples
    --------
    >>> oil = FoodFacts("olive oil", g_per_ml=0.913)
    >>> round(line_volume_ml(LineFacts("913 g oil", Fraction(913), Fraction(913), "g", "oil", food=oil)))
    1000
    >>> line_volume_ml(LineFacts("500 g red lentils", Fraction(500), Fraction(500), "g", "red lentils"))
    500.0
    """
    amount, unit = foods.line_amount(line), UNITS.get(line.unit or "each")
    if amount is None or unit is None:
        return None
    measured = volume_ml(amount, unit.key)
    by_volume = None if measured is None else float(measured)
    if by_volume is not None and (line.food is None or foods.is_liquid(line.food)):
        return by_volume
    mass_g = foods.line_grams(line)
    return by_volume if mass_g is None else mass_g / _g_per_ml(line.food)


def _g_per_ml(food: FoodFacts | None) -> float:
    if food is None or not food.g_per_ml:
        return 1.0
    return food.g_per_ml if foods.is_liquid(food) else max(food.g_per_ml, 1.0)


def food_volume(parts: Sequence[PartFacts], k: Fraction, *, liquid_only: bool = False) -> FoodVolume:
    """Return the volume of what goes into the pot for ``k`` times the food.

    Parameters
    ----------
    parts : sequence of PartFacts
        The recipe's lines as written.
    k : Fraction > 0
        Multiple of the food. [-]
    liquid_only : bool
        For a kettle: water and stock alone.

    Returns
    -------
    FoodVolume
        Lines added at the end are not in it; "to taste" is too little to matter; optional lines are in it.

    Examples
    --------
    >>> line = LineFacts("600 g rice", Fraction(600), Fraction(600), "g", "rice")
    >>> food_volume([PartFacts("", (line,))], Fraction(2))
    FoodVolume(shared_ml=1200.0, each_ml=0.0, unknown=(), expands=('rice',))
    """
    inside = [line for part in parts for line in part.lines if _goes_in(line, part.title, liquid_only)]
    shared, each, unknown = 0.0, 0.0, []
    for line in inside:
        volume = line_volume_ml(line)
        if volume is None:
            unknown += [line.name or line.text] if _matters(line) else []
        elif line.rule == "batch":
            each += volume
        else:
            shared += volume * _grown(line, k)
    return FoodVolume(shared, each, tuple(unknown), tuple(line.name or line.text for line in inside if expands(line)))


def _goes_in(line: LineFacts, part: str, liquid_only: bool) -> bool:
    if line.to_taste or added_later(line, part):
        return False
    return not liquid_only or is_cooking_liquid(line)


def is_cooking_liquid(line: LineFacts) -> bool:
    """Say whether a line is the liquid that a dish cooks in: water, stock, milk, wine and the like; no oil."""
    named = line.food or FoodFacts(line.name or line.text)
    return foods.is_liquid(named) and not re.search(r"\b(?:oil|vinegar|sauce|extract)\b", f"{named.name} {line.name}".lower())


def _matters(line: LineFacts) -> bool:
    return line.rule not in ("seasoning", "fixed") and not line.optional


def _grown(line: LineFacts, k: Fraction) -> float:
    if line.rule == "simmer":
        return float(k)
    return float(scale(Fraction(1), Fraction(1), line.rule, k).low)


def filling(vessel: Vessel, volume: FoodVolume) -> Filling:
    """Return how a vessel is filled with the least number of equal batches.

    Examples
    --------
    >>> pot = Vessel("pot", 3000)
    >>> filling(pot, FoodVolume(4300)).batches, filling(pot, FoodVolume(4300, expands=("rice",))).batches
    (3, 3)
    >>> filling(pot, FoodVolume(1900)).batches, filling(pot, FoodVolume(1900, expands=("rice",))).batches
    (1, 2)
    """
    share = min(vessel.fill_limit, vessel.foam_limit) if volume.expands else vessel.fill_limit
    limit_ml = share * vessel.capacity_ml
    room_ml = min(limit_ml * _GRACE, vessel.capacity_ml) - volume.each_ml
    batches = max(1, math.ceil(round(volume.shared_ml / room_ml, 9))) if room_ml > 0 else MOST_BATCHES + 1
    return Filling(vessel, volume, limit_ml, batches if batches <= MOST_BATCHES else None)


def least_liquid_line(
    parts: Sequence[PartFacts], k: Fraction, batches: int, vessel: Vessel | None
) -> tuple[LineFacts | None, Fraction]:
    """Return the line that has to grow so that a closed vessel gets its least liquid, and to how much. [mL]

    Parameters
    ----------
    parts : sequence of PartFacts
        The recipe's lines as written.
    k : Fraction > 0
        Multiple of the food. [-]
    batches : int >= 1
        Potfuls; each needs the least.
    vessel : Vessel or None
        None, or one without a least, asks for nothing.

    Returns
    -------
    tuple of (LineFacts or None, Fraction)
        The largest liquid that grows in proportion, with the least volume of it in one batch; (None, 0) where there is enough.

    Notes
    -----
    What gives off liquid by itself (squash, tomatoes) is not counted: nobody knows how soon it does.

    Examples
    --------
    >>> water = LineFacts("1 L water", Fraction(1), Fraction(1), "L", "water")
    >>> pot = Vessel("pressure cooker", 4000, least_liquid_ml=250)
    >>> least_liquid_line([PartFacts("", (water,))], Fraction(1, 6), 1, pot)[1]
    Fraction(250, 1)
    >>> least_liquid_line([PartFacts("", (water,))], Fraction(1, 2), 1, pot)
    (None, Fraction(0, 1))
    """
    if vessel is None or not vessel.closed or vessel.least_liquid_ml <= 0:
        return None, Fraction(0)
    inside = [line for part in parts for line in part.lines if _goes_in(line, part.title, liquid_only=True)]
    known = [(volume, line) for line in inside if (volume := line_volume_ml(line)) and line.rule == "proportional"]
    if not known:
        return None, Fraction(0)
    there = sum(volume for volume, _ in known) * float(k) / batches
    most, line = max(known, key=lambda pair: pair[0])
    missing = vessel.least_liquid_ml - there
    if missing <= 0:
        return None, Fraction(0)
    return line, Fraction(most * float(k) / batches + missing).limit_denominator(100)
