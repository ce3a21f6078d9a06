"""Cards: the small contract through which other apps put figures on a recipe, and the registry of those cards.

The kitchen knows no card by name. An app registers its card in ``AppConfig.ready()``; the kitchen then collects its facts when
a recipe is published, and lets it present them on pages, on paper and on the shelf.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from kitchen.domain.vessel import Vessel

if TYPE_CHECKING:
    from django import forms

    from kitchen.models import Recipe, Revision

Facts = dict[str, Any]

__all__ = [
    "Attention",
    "BenchLink",
    "Card",
    "CardAlreadyRegistered",
    "CardRequest",
    "Caution",
    "Facts",
    "Headline",
    "StageMark",
    "Vessel",
    "register",
    "registered",
    "unregister",
]


@dataclass(frozen=True)
class CardRequest:
    """The circumstances under which facts are shown.

    ``servings`` is what the reader asked for, ``base_servings`` what the recipe was written for; ``portion`` is the size of one
    serving as a multiple of the written one, so that ``factor`` is by how much the food grows; ``batches`` how many potfuls it is
    cooked in (the page works them out from the vessel); ``rounding`` names the table that amounts are rounded by. ``why`` says
    in words how servings and portion came about; ``own_vessel`` is a pot that the reader typed, ``vessel`` that one or the one
    that a card knows (the page puts it in). ``kit`` holds the reader's circumstances, validated by the cards' kit forms;
    ``facts`` all cards' facts by slug, so that one card can read another's.
    ``path`` is the recipe's public address, empty for a draft.
    """

    servings: int
    base_servings: int
    portion: Fraction = Fraction(1)
    batches: int = 1
    measures: str = "written"
    rounding: str = "school"
    why: str = ""
    own_vessel: Vessel | None = None
    vessel: Vessel | None = None
    audience: str = "reader"
    currency: str = "EUR"
    kit: Mapping[str, Any] = field(default_factory=dict)
    facts: Mapping[str, Facts] = field(default_factory=dict)
    path: str = ""
    base_url: str = ""

    @property
    def factor(self) -> Fraction:
        """How many times the written food this is, exactly."""
        return self.portion * self.servings / self.base_servings


@dataclass(frozen=True)
class Headline:
    """One of the large figures at the head of a page, on a shelf plate and on paper.

    ``tone`` is ``energy``, ``cost`` or ``plain``; ``standing`` is ``measured``, ``estimated``, ``typed`` or empty;
    ``anchor`` is the id-less fragment of the plate that explains it (a card's slug).
    """

    key: str
    value: str
    unit: str
    words: str
    tone: str = "plain"
    standing: str = ""
    anchor: str = ""
    order: int = 50


@dataclass(frozen=True)
class StageMark:
    """What a card knows about one stage of the method, in the order of the method's stages.

    ``heat`` is ``on`` (element on), ``cycling`` (ticks on and off) or ``off``.
    """

    minutes: str
    words: tuple[str, ...] = ()
    heat: str = "off"


@dataclass(frozen=True)
class Caution:
    """A sentence that keeps somebody safe, and where it comes from."""

    words: str
    source: str
    on_paper: bool = True


@dataclass(frozen=True)
class BenchLink:
    """A place on the bench that a card's app offers for a recipe or for everyone; ``note`` is a few words beside it."""

    label: str
    url: str
    note: str = ""


@dataclass(frozen=True)
class Attention:
    """Something on the bench that waits for the owner."""

    words: str
    url: str
    kind: str


class Card:
    """What an app registers. Subclasses set the class attributes and override what they need.

    ``audience`` is ``everyone`` or ``owner``; templates get their own card's context and nothing else.
    """

    slug: str = ""
    title: str = ""
    order: int = 50
    audience: str = "everyone"
    template_name: str = ""
    print_template_name: str = ""
    kit_form: type[forms.Form] | None = None

    def collect(self, revision: Revision, *, at: datetime) -> Facts | None:
        """Read tables; return JSON-able facts about this revision, or None where the card has nothing to say."""
        raise NotImplementedError

    def present(self, facts: Facts, request: CardRequest) -> dict[str, Any] | None:
        """Return the template's context (pure), or None to show nothing."""
        raise NotImplementedError

    def figures(self, facts: Facts, request: CardRequest) -> dict[str, Decimal]:
        """Return the numbers that the library filters and sorts by."""
        return {}

    def kit_limits(self, kit: Mapping[str, Any]) -> Mapping[str, Decimal]:
        """Return how large each of a recipe's figures may be at most, to fit a reader's kit; empty where the kit says nothing."""
        return {}

    def headlines(self, facts: Facts, request: CardRequest) -> Sequence[Headline]:
        """Return the large figures this card contributes to the head of the page."""
        return ()

    def stage_marks(self, facts: Facts, request: CardRequest, kinds: Sequence[str]) -> Sequence[StageMark | None] | None:
        """Return one mark for each stage kind of the method, in order, or None where this card knows nothing about stages.

        A single stage that the card does not know has None in its place: the page then shows what the cook typed.
        """
        return None

    def vessel(self, facts: Facts, request: CardRequest) -> Vessel | None:
        """Return what the recipe is cooked in, where this card knows; the page works out the batches from it."""
        return None

    def cautions(self, facts: Facts, request: CardRequest) -> Sequence[Caution]:
        """Return the safety sentences that belong to these facts."""
        return ()

    def bench_sections(self) -> Sequence[BenchLink]:
        """Return the app's own sections of the bench (appliances, prices ...)."""
        return ()

    def recipe_links(self, recipe: Recipe, revision: Revision) -> Sequence[BenchLink]:
        """Return what the app offers for one recipe on the bench (record a cook ...)."""
        return ()

    def revision_links(self, recipe: Recipe) -> Mapping[int, Sequence[BenchLink]]:
        """Return what the app holds for each revision of a recipe (its runs) by its number; a constant number of queries."""
        return {}

    def attention(self, user: Any, *, at: datetime) -> Sequence[Attention]:
        """Return what waits for this person in the app's tables, in a constant number of queries."""
        return ()


_registered: dict[str, Card] = {}


class CardAlreadyRegistered(RuntimeError):
    """Two cards want the same slug."""


def register(card: Card) -> None:
    """Add a card to the registry; raises CardAlreadyRegistered for a slug that is taken."""
    if card.slug in _registered:
        raise CardAlreadyRegistered(f"a card with the slug {card.slug!r} is registered already")
    _registered[card.slug] = card


def unregister(slug: str) -> None:
    """Take a card out again (tests register cards of their own)."""
    _registered.pop(slug, None)


def registered() -> Iterator[Card]:
    """Yield the cards in the order in which they stand on a page."""
    yield from sorted(_registered.values(), key=lambda card: (card.order, card.slug))
