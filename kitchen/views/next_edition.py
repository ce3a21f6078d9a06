"""What a recipe's next edition would be: its page as readers would see it, what moved since they saw one, what is missing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.urls import reverse

from kitchen.cards import BenchLink, Facts, Grounds, Headline, WorkbenchPart, registered
from kitchen.domain import record
from kitchen.domain.changes import figures_moved, what_changed
from kitchen.domain.remark import Said, remark
from kitchen.models import Edition, Recipe, Revision
from kitchen.operations.publishing import page_as_written
from kitchen.page import Page, read_facts, read_recipe
from kitchen.queries import collect_facts, unpublished_sides


@dataclass(frozen=True)
class Missing:
    """Something that readers would miss, and where it is mended; ``words`` say what they see instead."""

    words: str
    link: BenchLink


@dataclass(frozen=True)
class FigureRow:
    """One of the large figures: as readers see it now, and as they will; None where there is none."""

    now: Headline | None
    then: Headline | None

    @property
    def moved(self) -> bool:
        """Whether readers will see another one."""
        return self.now is None or self.then is None or (self.now.value, self.now.words) != (self.then.value, self.then.words)


@dataclass(frozen=True)
class NextEdition:
    """The next edition before it is there. ``changes`` is None before the first one, empty where nothing would be new."""

    recipe: Recipe
    revision: Revision
    page: Page
    changes: Sequence[Said] | None
    parts: Sequence[WorkbenchPart]

    @property
    def worth_publishing(self) -> bool:
        """Whether readers would see something new."""
        return self.changes is None or bool(self.changes)

    @property
    def is_whole(self) -> bool:
        """Whether there is what an edition needs: an ingredient and a step."""
        return bool(self.page.recipe.steps) and any(part.lines for part in self.page.recipe.parts)

    @property
    def seen_now(self) -> Sequence[Headline]:
        """The large figures that readers see; none before the first edition."""
        edition: Edition | None = self.recipe.current_edition
        return () if edition is None else record.read(tuple[Headline, ...], edition.headlines)

    @property
    def figures(self) -> list[FigureRow]:
        """The large figures now and then, those that are gone last."""
        now, then = ({one.key: one for one in figures} for figures in (self.seen_now, self.page.headlines))
        return [FigureRow(now.get(key), then.get(key)) for key in dict.fromkeys((*then, *now))]

    @property
    def moved(self) -> list[str]:
        """The figures that readers will see otherwise, each in one phrase."""
        return [
            f"{row.then.value} {row.then.unit}".strip() + f", {row.then.words}" for row in self.figures if row.moved and row.then
        ]

    @property
    def badge(self) -> str:
        """How the figures came about, in words."""
        return self.page.badge

    @property
    def grounds(self) -> list[Grounds]:
        """What the cards' figures rest on."""
        held = self.page.request.prepared
        return [card.grounds(held[card.slug], self.page.request) for card in registered() if card.slug in held]

    @property
    def missing(self) -> list[Missing]:
        """What readers would miss. No query but for the sides."""
        slug, recipe = self.recipe.slug, self.page.recipe
        edit, photos = (reverse(f"kitchen:{name}", args=[slug]) for name in ("recipe-edit", "photos"))
        found = [Missing(f"{part.title}: {part.state}.", part.next) for part in self.parts if part.next is not None]
        lines = [line for part in recipe.parts for line in part.lines]
        unlinked = sum(not line.food for line in lines)
        if unlinked:
            linked = f"{unlinked} of {len(lines)} lines {'is' if unlinked == 1 else 'are'} linked to no food"
            found.append(Missing(f"{linked}: no price, no allergens.", BenchLink("Link them", edit + "#lines-read")))
        bare = sum(not step.stage for step in recipe.steps)
        if bare and bare == len(recipe.steps):
            found.append(Missing("No step says its stage, so the method shows no minutes.", BenchLink("Choose stages", edit)))
        for pairing in unpublished_sides(self.recipe):
            link = BenchLink("Publish it", reverse("kitchen:recipe-publish", args=[pairing.side.slug]))
            found.append(Missing(f"The side “{pairing.side.title}” is not published: it is left out.", link))
        if not recipe.photo:
            found.append(Missing("No photo: readers see the drawing.", BenchLink("Add a photo", photos)))
        if not recipe.summary:
            found.append(Missing("No line about it below the title.", BenchLink("Write one", edit)))
        return found


def next_edition(recipe: Recipe, revision: Revision, at: datetime) -> NextEdition:
    """Return what would go out if the newest revision were published at this moment. Constant queries."""
    facts = collect_facts(revision, at=at)
    page = page_as_written(recipe.slug, read_facts(facts))
    made: list[Any] = [card.workbench(recipe, revision, at=at) for card in registered()]
    return NextEdition(recipe, revision, page, _changes(recipe, facts, page), [part for part in made if part is not None])


def _changes(recipe: Recipe, facts: Facts, page: Page) -> list[Said] | None:
    """Return what differs from the edition that readers see; None where there is none yet, empty where nothing differs."""
    edition = recipe.current_edition
    if edition is None:
        return None
    if edition.facts == facts:
        return []
    said: list[Said] = list(what_changed(read_recipe(edition.facts), page.recipe))
    moved = figures_moved(record.read(tuple[Headline, ...], edition.headlines), page.headlines)
    said += moved
    why = _why_moved(edition.facts, facts)
    said += why
    if not moved and not why and edition.facts.get("cards") != facts.get("cards"):
        said.append(remark("cards_newer"))
    if not said and facts["recipe"] | {"revision": edition.facts["recipe"].get("revision")} == edition.facts["recipe"]:
        said.append(remark("made_of_revision", revision=facts["recipe"]["revision"]))
    return said or [remark("small_details")]


def _why_moved(before: Facts, now: Facts) -> list[str]:
    """Return what the cards say that moved their figures; of a card that is new, or gone, nothing."""
    held = [(card, (before.get("cards") or {}).get(card.slug), (now.get("cards") or {}).get(card.slug)) for card in registered()]
    return [words for card, then, here in held if then and here for words in card.moved(card.read(then), card.read(here))]


def what_waits(recipe: Recipe, revision: Revision, at: datetime) -> BenchLink | None:
    """Return what the cards would have done next with a recipe; None where they are content. Few queries."""
    made = [card.workbench(recipe, revision, at=at) for card in registered()]
    return next((part.next for part in made if part is not None and part.next is not None), None)


def next_thing(ahead: NextEdition) -> BenchLink:
    """Return the one thing to do next with a recipe."""
    slug = ahead.recipe.slug
    if not ahead.is_whole:
        return BenchLink("Write the recipe", reverse("kitchen:recipe-edit", args=[slug]))
    waits = [part.next for part in ahead.parts if part.next is not None]
    if waits:
        return waits[0]
    if ahead.recipe.withdrawn_at is None and not ahead.worth_publishing:
        return BenchLink("Print the card", reverse("kitchen:card-pdf", args=[slug]))
    return BenchLink("Check and publish", reverse("kitchen:recipe-publish", args=[slug]))
