"""The named ways of measuring that a reader can choose, and the spoons and cups that belong to each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain.nouns import singular
from kitchen.domain.units import UNITS, convert, size_of


@dataclass(frozen=True)
class SpoonSet:
    """Spoons and cups of one kind: their unit keys, and how many teaspoons a tablespoon and a cup hold."""

    tsp: str
    tbsp: str
    cup: str
    per_tbsp: int
    per_cup: int

    @property
    def quarter(self) -> Fraction:
        """A quarter of a cup. [tsp]"""
        return Fraction(self.per_cup, 4)

    @property
    def third(self) -> Fraction:
        """A third of a cup. [tsp]"""
        return Fraction(self.per_cup, 3)


US_SPOONS = SpoonSet("tsp", "tbsp", "cup", 3, 48)
METRIC_SPOONS = SpoonSet("tsp_metric", "tbsp_metric", "cup_metric", 3, 50)
AUSTRALIAN_SPOONS = SpoonSet("tsp_metric", "tbsp_au", "cup_metric", 4, 50)


@dataclass(frozen=True)
class System:
    """One way of measuring: ``spoons`` are its own (None keeps the cook's); ``said`` are a few words about sizes that differ."""

    key: str
    words: str
    spoons: SpoonSet | None = None
    said: str = ""


SYSTEMS: dict[str, System] = {
    system.key: system
    for system in (
        System("written", "as written"),
        System("metric", "metric", METRIC_SPOONS, "tbsp 15 mL, tsp 5 mL"),
        System("us", "US customary", US_SPOONS, "cup 237 mL, tbsp 15 mL, tsp 5 mL"),
        System("uk", "UK", METRIC_SPOONS, "pint 568 mL, tbsp 15 mL, dsp 10 mL, tsp 5 mL"),
        System("au", "Australian", AUSTRALIAN_SPOONS, "cup 250 mL, tbsp 20 mL, tsp 5 mL"),
    )
}

_US_VOLUMES = frozenset({"tsp", "tbsp", "floz", "cup", "pint", "quart", "gallon", "pinch", "dash"})
NOMINAL_ERROR = 1 - UNITS["tsp"].per_base / 5 if UNITS["tsp"].per_base else Fraction(0)


def teaspoons(amount: Fraction, unit_key: str, spoons: SpoonSet) -> tuple[Fraction, bool]:
    """Return a volume in the set's teaspoons, and whether a US spoon was taken for a metric one.

    Parameters
    ----------
    amount : Fraction
        How many of the unit. [unit_key]
    unit_key : str
        A volume.
    spoons : SpoonSet
        Whose teaspoons.

    Returns
    -------
    tuple of (Fraction, bool)
        Teaspoons of the set; True where 4.93 mL count as 5. [tsp]

    Notes
    -----
    A spoon is a spoon: US measures become metric ones at 5 mL for a teaspoon, 15 mL for a tablespoon and 240 mL for a cup, 1.4 %
    off, since nobody fills a spoon more truly than that and "2 tbsp 2¾ tsp" for three tablespoons would be false precision.

    References
    ----------
    21 CFR 101.9(b)(5)(viii): cup 240 mL, tablespoon 15 mL, teaspoon 5 mL.

    Examples
    --------
    >>> teaspoons(Fraction(3), "tbsp", METRIC_SPOONS), teaspoons(Fraction(3), "tbsp_au", METRIC_SPOONS)
    ((Fraction(9, 1), True), (Fraction(12, 1), False))
    """
    nominal = unit_key in _US_VOLUMES and spoons is not US_SPOONS
    return convert(amount, unit_key, "tsp" if nominal else spoons.tsp), nominal


def sizes_words(system: str, texts: Iterable[str]) -> str:
    """Return how much the spoons and cups hold that stand in these texts; empty in the cook's own measures.

    Examples
    --------
    >>> sizes_words("au", ["½ cup 2 tbsp", "500 g"]), sizes_words("uk", ["500 g"]), sizes_words("written", ["2 cups"])
    ('cup 250 mL, tbsp 20 mL', '', '')
    """
    words = {singular(word) for text in texts for word in text.split()}
    return ", ".join(size for size in SYSTEMS[system].said.split(", ") if size.partition(" ")[0] in words)


# What a reader who chose the system calls these, without the word that tells them from others.
_PLAIN = {"tsp_metric": "tsp", "tbsp_metric": "tbsp", "tbsp_au": "tbsp", "cup_metric": "cup", "pint_imp": "pint"}


def plain_key(unit_key: str, system: str) -> str:
    """Return the unit whose label is printed: within a chosen system "tbsp" says enough.

    Examples
    --------
    >>> plain_key("tbsp_au", "au"), plain_key("tbsp_au", "written")
    ('tbsp', 'tbsp_au')
    """
    size_of(unit_key)
    return unit_key if system == "written" else _PLAIN.get(unit_key, unit_key)
