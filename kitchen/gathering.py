"""A collection as its page shows it: its recipes in their order, and what the cards say of all of them together. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from kitchen.cards import Answer, CardRequest, Dish, Headline, registered
from kitchen.dealing import sum_minutes
from kitchen.domain.allergens import AllergenList, Found
from kitchen.page import Page, PageFrame


@dataclass(frozen=True)
class Gathered:
    """One recipe of a collection: its page for the servings that were asked for, where it stands, and what a card says of it."""

    page: Page
    frame: PageFrame
    address: str = ""
    told: str = ""

    @property
    def allergens(self) -> AllergenList | None:
        """What is known of its allergens; None where its edition is from before they were told."""
        return self.page.allergens


@dataclass(frozen=True)
class Gathering:
    """Recipes one after the other. ``lacks`` says what the sums do not hold, and of which recipe."""

    dishes: tuple[Gathered, ...]
    headlines: tuple[Headline, ...] = ()
    lacks: tuple[str, ...] = ()
    answer: Answer | None = None
    figures: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)

    @property
    def each_once(self) -> tuple[Gathered, ...]:
        """Each recipe once, however often it is cooked."""
        return tuple({dish.frame.path: dish for dish in self.dishes}.values())

    @property
    def each_size(self) -> tuple[Gathered, ...]:
        """Each recipe once for each number of servings."""
        return tuple({(dish.frame.path, dish.page.request.servings): dish for dish in self.dishes}.values())

    @property
    def contains(self) -> tuple[Found, ...]:
        """What is in any of them."""
        return _named(found for dish in self.each_once if dish.allergens for found in dish.allergens.found)

    @property
    def may_contain(self) -> tuple[Found, ...]:
        """What only the labels of some of them tell, and none of them holds for sure."""
        sure = {found.key for found in self.contains}
        maybe = (found for dish in self.each_once if dish.allergens for found in dish.allergens.labels)
        return _named(found for found in maybe if found.key not in sure)

    @property
    def not_known(self) -> bool:
        """Whether of any of them not all is known."""
        return any(dish.allergens is None or dish.allergens.unknown for dish in self.each_once)


def _named(found: Any) -> tuple[Found, ...]:
    return tuple({one.key: one for one in found}.values())


def gathered(dishes: Sequence[Gathered], kit: Mapping[str, Any], currency: str) -> Gathering:
    """Return what the cards say of these recipes together, in their order, for a reader's kit."""
    request = CardRequest(1, 1, kit=kit, currency=currency)
    told = [card.together([_dish(one.page, card.slug) for one in dishes], request) for card in registered()]
    meals = next((one.meals for one in told if one.meals), ("",) * len(dishes))
    return Gathering(
        dishes=tuple(Gathered(one.page, one.frame, one.address, words) for one, words in zip(dishes, meals, strict=True)),
        headlines=tuple(sorted((line for one in told for line in one.headlines), key=lambda line: line.order)),
        lacks=tuple(words for one in told for words in one.lacks),
        answer=next((one.answer for one in told if one.answer is not None), None),
        figures={name: figure for one in told for name, figure in one.figures.items()},
    )


def _dish(page: Page, slug: str) -> Dish:
    typed = sum_minutes(page.recipe.steps)
    prepared = page.request.prepared.get(slug)
    return Dish(page.recipe.title, prepared, page.request, typed or None, page.prep_min if page.clocked else Decimal(0))
