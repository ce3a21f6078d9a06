"""What a card says: its large figures, how sure they are, its stages, whether it works, and what it rests on. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class Answer:
    """What a card says to "does it work here?": sentences, what may fail first; ``kit`` names a reader's own gear."""

    words: tuple[str, ...]
    sound: bool = True
    kit: str = ""


@dataclass(frozen=True)
class Grounds:
    """What the cook should know of a card's figures before they go out, a sentence each."""

    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Headline:
    """One of the large figures at the head of a page, on a shelf plate and on paper.

    ``tone`` is ``plain`` or a colour of the style sheet (``figure--...``); ``standing`` is ``measured``, ``estimated``,
    ``typed`` or empty; ``anchor`` is the id-less fragment of the plate that explains it (a card's slug). ``brief`` is what there
    is room for beneath it on the shelf, ``below`` a line of its own on the page.
    """

    key: str
    value: str
    unit: str
    words: str
    tone: str = "plain"
    standing: str = ""
    anchor: str = ""
    order: int = 50
    brief: str = ""
    below: str = ""

    @property
    def shelf_words(self) -> str:
        """Two or three words; of one from before there were any, the first of those beside it.

        Examples
        --------
        >>> Headline("salt", "2", "g", "each serving, estimated").shelf_words
        'each serving'
        """
        return self.brief or self.words.partition(",")[0]


@dataclass(frozen=True)
class Badge:
    """How a recipe's figures came about, ``measured`` or ``estimated``, and the same in words ("measured 3 times")."""

    standing: str
    words: str


@dataclass(frozen=True)
class StageMark:
    """What a card knows about one stage of the method, in the order of the method's stages.

    ``heat`` is ``on`` (element on), ``cycling`` (ticks on and off) or ``off``; ``hottest_c`` how hot its food gets where the
    reader cooks, if that is less hot than where it was cooked [C]; ``span_s`` its whole length, of one batch. [s]
    """

    minutes: str
    words: tuple[str, ...] = ()
    heat: str = "off"
    hottest_c: float | None = None
    span_s: float = 0.0


@dataclass(frozen=True)
class CardPicture:
    """A picture that a card's app draws of a recipe's figures; ``place`` continues the recipe's own address."""

    place: str
    width_px: int
    height_px: int
    alt: str


@dataclass(frozen=True)
class Together:
    """What a card says of the recipes of a collection, cooked one after the other in their order.

    ``headlines`` are sums, ``lacks`` what is not in them and of which recipe; ``answer`` is what the source gives for all of
    them, ``meals`` a line for each recipe on the way there, in their order. ``figures`` are the sums as numbers, each with its
    ``low`` and ``high`` and whether it is the least of more.
    """

    headlines: tuple[Headline, ...] = ()
    lacks: tuple[str, ...] = ()
    answer: Answer | None = None
    meals: tuple[str, ...] = ()
    figures: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
