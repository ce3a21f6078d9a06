"""The named ways of measuring that a reader can choose, and the spoons and cups that belong to each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from kitchen.domain.nouns import singular
from kitchen.domain.units import UNITS, convert, size_of


@dataclass(frozen=True)
class SpoonSet:
    """Spoons and cups of one kind: their unit keys, and how many teaspoons a tablespoon and a cup hold.

    ``ladder`` are the measures that stand for a volume, largest first; ``told_larger`` says from how many teaspoons on the exact
    amount is told in a larger unit.
    """

    tsp: str
    tbsp: str
    cup: str
    per_tbsp: int
    per_cup: int
    ladder: tuple[str, ...]
    told_larger: tuple[tuple[int, str], ...]

    @property
    def quarter(self) -> Fraction:
        """A quarter of a cup. [tsp]"""
        return Fraction(self.per_cup, 4)

    @property
    def third(self) -> Fraction:
        """A third of a cup. [tsp]"""
        return Fraction(self.per_cup, 3)


US_SPOONS = SpoonSet(
    "tsp", "tbsp", "cup", 3, 48, ladder=("gallon", "quart", "cup", "tbsp", "tsp"), told_larger=((48, "cup"), (9, "tbsp"))
)
METRIC_SPOONS = SpoonSet(
    "tsp_metric", "tbsp_metric", "cup_metric", 3, 50, ladder=("tbsp_metric", "tsp_metric"), told_larger=((6, "tbsp_metric"),)
)
AUSTRALIAN_SPOONS = SpoonSet(
    "tsp_metric",
    "tbsp_au",
    "cup_metric",
    4,
    50,
    ladder=("cup_metric", "tbsp_au", "tsp_metric"),
    told_larger=((25, "cup_metric"), (8, "tbsp_au")),
)

METRIC_UNITS = frozenset({"g", "kg", "mg", "mL", "cL", "dL", "L"})
POURED_UNITS = frozenset({"mL", "cL", "dL", "L"})
_US_UNITS = frozenset({"oz", "lb", "tsp", "tbsp", "floz", "cup", "pint", "quart", "gallon"})
_SPOON_UNITS = frozenset({"tsp", "tbsp", "dsp", "tbsp_au", "tsp_metric", "tbsp_metric", "pinch", "dash"})
_IMPERIAL = {"pint": "pint_imp", "floz": "floz_imp", "gallon": "gallon_imp"}


@dataclass(frozen=True, eq=False)
class MeasureSystem:
    """One way of measuring. A new one is an entry in ``SYSTEMS``, and the sizes in ``UNITS`` that only it knows.

    ``words`` name it where a reader chooses, ``title`` where the site does; ``said`` are a few words about sizes that differ.
    ``spoons`` are its own (None keeps the cook's). It keeps the cook's units (``as_written``), or measures in cups, spoons and
    ounces (``customary``), or in grams and millilitres: then it ``weighs`` what is not poured where the weight is known, and
    takes its spoons for volumes below ``spoons_ml`` that were written in spoons, below ``cups_ml`` in other measures and below
    ``jug_ml`` in millilitres. [mL] ``dessert_spoon`` is its unit for two teaspoons; ``pints_beside`` sets imperial pints beside
    millilitres. ``units`` are those in which it takes an amount that the cook gave beside the first, ``meant`` what a cook at
    home in it means by a word.
    """

    key: str
    words: str
    title: str
    spoons: SpoonSet | None = None
    said: str = ""
    as_written: bool = False
    customary: bool = False
    weighs: bool = False
    spoons_ml: int = 0
    cups_ml: int = 0
    jug_ml: int = 0
    dessert_spoon: str = ""
    pints_beside: bool = False
    units: frozenset[str] = METRIC_UNITS
    meant: Mapping[str, str] = field(default_factory=dict)

    def has_spoons_for(self, volume_ml: Fraction, unit_key: str) -> bool:
        """Say whether a volume goes into the system's own spoons and cups rather than onto a scale or into a jug."""
        if unit_key in POURED_UNITS:
            return volume_ml < self.jug_ml
        return volume_ml < (self.spoons_ml if unit_key in _SPOON_UNITS else self.cups_ml)


SYSTEMS: dict[str, MeasureSystem] = {
    system.key: system
    for system in (
        MeasureSystem("written", "as written", "as the cook wrote them", as_written=True, units=frozenset()),
        MeasureSystem(
            "metric",
            "metric",
            "metric: grams and millilitres",
            METRIC_SPOONS,
            "tbsp 15 mL, tsp 5 mL",
            weighs=True,
            spoons_ml=45,
        ),
        MeasureSystem(
            "us",
            "US customary",
            "US customary: cups, spoons, ounces",
            US_SPOONS,
            "cup 237 mL, tbsp 15 mL, tsp 5 mL",
            customary=True,
            units=_US_UNITS,
        ),
        MeasureSystem(
            "uk",
            "UK",
            "UK: spoons, grams and millilitres, pints",
            METRIC_SPOONS,
            "pint 568 mL, tbsp 15 mL, dsp 10 mL, tsp 5 mL",
            weighs=True,
            spoons_ml=45,
            dessert_spoon="dsp",
            pints_beside=True,
            meant=_IMPERIAL,
        ),
        MeasureSystem(
            "au",
            "Australian",
            "Australian: 250 mL cup, 20 mL tablespoon",
            AUSTRALIAN_SPOONS,
            "cup 250 mL, tbsp 20 mL, tsp 5 mL",
            spoons_ml=1000,
            cups_ml=1000,
            jug_ml=60,
            meant={"tbsp": "tbsp_au", "cup": "cup_metric", **_IMPERIAL},
        ),
    )
}


def system_choices() -> list[tuple[str, str]]:
    """Return the ways for a table's column, which asks anew, so that a new one changes no table."""
    return [(system.key, system.title) for system in SYSTEMS.values()]


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
    return unit_key if SYSTEMS[system].as_written else _PLAIN.get(unit_key, unit_key)


OTHER_ELSEWHERE = frozenset(key for system in SYSTEMS.values() for key in system.meant)
"""The units whose word means another size in some kitchen."""


def meant_at(home: str, unit_key: str) -> str:
    """Return the unit that a cook means whose kitchen measures are ``home``: a word such as "pint" is larger in London.

    Parameters
    ----------
    home : str
        The site's own measures, a key of ``SYSTEMS``.
    unit_key : str
        The unit that the word alone stands for.

    Notes
    -----
    An Australian tablespoon is a third larger than any other and an Australian cup 6 % larger than the US one, so that both
    matter; an imperial pint is a fifth larger than the US one. The tablespoons of 14.79 and 15 mL differ by 1.4 %, less than
    any spoon is filled alike, so a metric or British kitchen's spoons stay as they are; and a British cook who writes cups
    follows an American recipe. A kitchen that shows metric measures may write in any.

    Examples
    --------
    >>> meant_at("au", "tbsp"), meant_at("uk", "pint"), meant_at("uk", "tbsp"), meant_at("written", "pint")
    ('tbsp_au', 'pint_imp', 'tbsp', 'pint')
    """
    return SYSTEMS[home].meant.get(unit_key, unit_key)
