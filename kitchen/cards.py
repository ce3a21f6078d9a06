"""Cards: the small contract through which other apps put figures on a recipe, and the registry of those cards.

The kitchen knows no card by name. An app registers its card in ``AppConfig.ready()``; the kitchen then collects its facts when
a recipe is published, and lets it present them on pages, on paper and on the shelf.

A page **reads** each card's facts once, learns from what was read the **vessel** and so the batches, and lets each card in turn
**prepare** it once for what was asked; everything else on the page is made from what was prepared.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from django.urls import reverse

from kitchen.benching import Attention, BenchLink, BenchSection, FirstThing, WorkbenchPart
from kitchen.domain.band import Band
from kitchen.domain.made import with_made
from kitchen.domain.said import Answer, Badge, CardPicture, Grounds, Headline, StageMark, Together
from kitchen.domain.shelf import ShelfFigure, ShelfGroup
from kitchen.domain.vessel import Vessel

if TYPE_CHECKING:
    from django import forms

    from kitchen.domain.facts import RecipeFacts
    from kitchen.models import Recipe, Revision

Facts = dict[str, Any]
_COOKS_HARM = 93

__all__ = [
    "Answer",
    "Attention",
    "Badge",
    "Band",
    "BenchLink",
    "BenchSection",
    "Card",
    "CardAlreadyRegistered",
    "CardPicture",
    "CardRequest",
    "Caution",
    "Dish",
    "Facts",
    "FirstThing",
    "Grounds",
    "Headline",
    "ShelfFigure",
    "ShelfGroup",
    "StageMark",
    "Together",
    "Vessel",
    "WorkbenchPart",
    "keep_for_owner",
    "owner_pages",
    "ranked",
    "register",
    "registered",
    "shelf_figures",
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
    ``prepared`` what the cards have prepared so far, by slug, so that a card can take up what one before it worked out.
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
    prepared: Mapping[str, Any] = field(default_factory=dict)
    path: str = ""

    @property
    def factor(self) -> Fraction:
        """How many times the written food this is, exactly."""
        return self.portion * self.servings / self.base_servings


@dataclass(frozen=True)
class Caution:
    """A sentence that keeps somebody safe, and where it comes from.

    ``short`` says the same on paper; ``harm`` is how bad what it prevents is here, 0 to 100 and more: the worst stand first.
    ``lines`` are the ingredient lines that call for it, by name, ``answered`` those of which the cook says why it does not
    hold, each with that word; ``answerable`` whether a cook may. ``newer``: the edition was published without it. ``aside``: it
    is about another kitchen than the recipe's own.
    """

    words: str
    source: str
    on_paper: bool = True
    short: str = ""
    harm: int = 50
    lines: tuple[str, ...] = ()
    answered: tuple[tuple[str, str], ...] = ()
    newer: bool = False
    aside: bool = False
    answerable: bool = False

    @property
    def settled(self) -> bool:
        """Whether the cook answered it for every line that calls for it."""
        return bool(self.answered) and not self.lines


def ranked(said: Sequence[Caution], recipe: RecipeFacts) -> tuple[Caution, ...]:
    """Return a page's cautions with the cook's own among them: each once, the worst harm first, answered ones last."""
    behind = with_made(line for part in recipe.parts for line in part.lines)
    texts = [recipe.extra.get("own_cautions", ""), *(line.made.own_cautions for line in behind if line.made is not None)]
    lines = "\n".join(texts).splitlines()
    own = [Caution(words, "the cook’s own word", harm=_COOKS_HARM) for words in lines if words.strip()]
    once = {caution.words: caution for caution in (*own, *said)}
    return tuple(sorted(once.values(), key=lambda caution: (caution.settled, -caution.harm)))


@dataclass(frozen=True)
class Dish:
    """A recipe of a collection as a card sees it: what it prepared, None where the edition has nothing of this card.

    ``typed_min`` are the minutes that its cook typed, None where there are none; ``prep_min`` those of them before the clock of
    a measured cook runs. [min]
    """

    title: str
    prepared: Any
    request: CardRequest
    typed_min: Decimal | None = None
    prep_min: Decimal = Decimal(0)


class Card:
    """What an app registers. Subclasses set the class attributes and override what they need.

    ``audience`` is ``everyone`` or ``owner``; templates get their own card's context and nothing else. Only
    ``head_template_name`` and ``links_template_name`` stand on the public page of every recipe, whatever the card knows of it: in
    its head, and among its links; they get ``page`` and ``frame``.
    """

    slug: str = ""
    title: str = ""
    order: int = 50
    audience: str = "everyone"
    template_name: str = ""
    print_template_name: str = ""
    strip_template_name: str = ""
    head_template_name: str = ""
    links_template_name: str = ""
    shelf_figures: Sequence[ShelfFigure] = ()
    shelf_groups: Sequence[ShelfGroup] = ()
    kit_form: type[forms.Form] | None = None

    def collect(self, revision: Revision, *, at: datetime) -> Facts | None:
        """Read tables; return JSON-able facts about this revision, or None where the card has nothing to say."""
        raise NotImplementedError

    def read(self, facts: Facts) -> Any:
        """Return the facts of an edition or a draft as this card's own record. Once a page; raises UnreadableRecord."""
        return facts

    def seen(self, held: Any, recipe: RecipeFacts) -> Any:
        """Return the record with what this program sees in the recipe as it was published; None to be left out.

        ``held`` is what ``read`` returned, None where the edition has nothing of this card. Once a page; pure.
        """
        return held

    def vessel(self, held: Any) -> Vessel | None:
        """Return what the recipe is cooked in, where this card's record knows; the page works out the batches from it."""
        return None

    def prepare(self, held: Any, request: CardRequest) -> Any:
        """Return what all below is made from: the record, worked out for the servings, batches and kit. Once a page; pure."""
        return held

    def present(self, prepared: Any, request: CardRequest) -> dict[str, Any] | None:
        """Return the template's context (pure), or None to show nothing."""
        raise NotImplementedError

    def figures(self, prepared: Any, request: CardRequest) -> dict[str, Decimal | None]:
        """Return the numbers that the library filters and sorts by; None for one that may be more: it passes no limit."""
        return {}

    def shelf_marks(self, prepared: Any, request: CardRequest) -> Mapping[str, str]:
        """Return the mark under which it stands in each of the card's groups, by the group's name."""
        return {}

    def badge(self, prepared: Any, request: CardRequest) -> Badge | None:
        """Return how the figures came about, or None where this card does not say."""
        return None

    def band(self, prepared: Any, request: CardRequest) -> Band | None:
        """Return what is drawn over the time of the cook, for the band beneath a picture; None where nobody knows."""
        return None

    def answer(self, prepared: Any, request: CardRequest) -> Answer | None:
        """Return whether it works with the recipe's own gear, or with the reader's kit; None where this card does not say."""
        return None

    def opening(self, prepared: Any, request: CardRequest) -> str:
        """Return what the card's plate says in one line while it is closed."""
        return ""

    def cooked_in(self, prepared: Any, request: CardRequest) -> str:
        """Return what it is cooked in ("in a 4 L pot"), for the head of a printed card; empty where this card does not know."""
        return ""

    def paper_briefs(self, prepared: Any, request: CardRequest) -> Mapping[str, Sequence[str]]:
        """Return what stands beneath its large figures on paper, by their keys: a few words a line, two lines at most."""
        return {}

    def paper_words(self, prepared: Any, request: CardRequest) -> str:
        """Return the one sentence or two that stand below the method on a printed card; empty for none."""
        return ""

    def grounds(self, prepared: Any, request: CardRequest) -> Grounds:
        """Return what the figures rest on, for the page on which their cook publishes them."""
        return Grounds()

    def headlines(self, prepared: Any, request: CardRequest) -> Sequence[Headline]:
        """Return the large figures this card contributes to the head of the page."""
        return ()

    def stage_marks(self, prepared: Any, request: CardRequest, kinds: Sequence[str]) -> Sequence[StageMark | None] | None:
        """Return one mark for each stage kind of the method, in order, or None where this card knows nothing about stages.

        A single stage that the card does not know has None in its place: the page then shows what the cook typed.
        """
        return None

    def cautions(self, prepared: Any, request: CardRequest) -> Sequence[Caution]:
        """Return the safety sentences that belong to what was prepared."""
        return ()

    def pictures(self, prepared: Any, request: CardRequest) -> Sequence[CardPicture]:
        """Return the pictures that are drawn of the figures, in several shapes, the best to share first."""
        return ()

    def together(self, dishes: Sequence[Dish], request: CardRequest) -> Together:
        """Return what the card says of several recipes together, in their order; ``request`` has the kit. Pure."""
        return Together()

    def buying(self, dishes: Sequence[tuple[str, int]]) -> Sequence[BenchLink]:
        """Return where on the bench what these recipes need is seen to, each by its address with its servings. No query."""
        return ()

    def moved(self, before: Any, now: Any) -> Sequence[str]:
        """Return in words what moved the card's figures from an edition's facts, as read, to newer ones; nothing by default."""
        return ()

    def linked_data(self, prepared: Any, request: CardRequest) -> Mapping[str, Any]:
        """Return what the card adds to the recipe as linked data: properties of a schema.org Recipe, only what is whole."""
        return {}

    def kit_words(self, kit: Mapping[str, Any]) -> str:
        """Return a reader's kit in few words, for a printed card; empty where it says nothing that the card shows."""
        return ""

    def kit_limits(self, kit: Mapping[str, Any]) -> Mapping[str, Decimal]:
        """Return how large each of a recipe's figures may be at most, to fit a reader's kit; empty where the kit says nothing."""
        return {}

    def bench_sections(self) -> Sequence[BenchSection]:
        """Return the app's own sections of the bench (cooks, gear, prices)."""
        return ()

    def workbench(self, recipe: Recipe, revision: Revision, *, at: datetime) -> WorkbenchPart | None:
        """Return the card's group on a recipe's workbench; a constant number of queries."""
        return None

    def first_things(self, recipe: Recipe | None) -> Sequence[FirstThing]:
        """Return what of this card's app stands on the way to the first published recipe, which may not be begun yet."""
        return ()

    def record_links(self, recipe: Recipe) -> Sequence[BenchLink]:
        """Return where a cook of the recipe is recorded, for helpers, who do nothing else. No query."""
        return ()

    def revision_links(self, recipe: Recipe) -> Mapping[int, Sequence[BenchLink]]:
        """Return what the app holds for each revision of a recipe (its runs) by its number; a constant number of queries."""
        return {}

    def attention(self, user: Any, *, at: datetime) -> Sequence[Attention]:
        """Return what waits for this person in the app's tables, in a constant number of queries."""
        return ()


_registered: dict[str, Card] = {}
_for_owner: dict[str, str] = {}
_MINUTES = ShelfFigure("total_min", "quickest", "Time, at most", "minutes", "min", order=30, sort_order=20)


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


def keep_for_owner(label: str, address: str) -> None:
    """Put a page that only the owner sees among the kitchen's own; ``address`` is the name of its address."""
    _for_owner[label] = address


def owner_pages() -> list[BenchLink]:
    """Return the pages that other apps keep for the owner."""
    return [BenchLink(label, reverse(address)) for label, address in _for_owner.items()]


def shelf_figures() -> list[ShelfFigure]:
    """Return the figures by which the library sorts and limits: the minutes, which are typed at least, and the cards' own."""
    return sorted((_MINUTES, *(one for card in registered() for one in card.shelf_figures)), key=lambda one: one.order)


def shelf_groups() -> list[ShelfGroup]:
    """Return what the cards sort the library under."""
    return [one for card in registered() for one in card.shelf_groups]
