"""Shared by the kitchen's tests: a registry without the other apps' cards, and a published stew."""

import pytest

from kitchen import cards
from kitchen.operations import publish_recipe
from tests.kitchen.stew import TallyCard, write_stew


@pytest.fixture
def no_cards(monkeypatch):
    """An empty registry, so that a test registers the cards it means."""
    monkeypatch.setattr(cards, "_registered", {})


@pytest.fixture
def tally(no_cards):
    """The tests' own card, registered alone."""
    card = TallyCard()
    cards.register(card)
    return card


@pytest.fixture
def stew(tally, owner, noon):
    """A published recipe with one card."""
    recipe = write_stew(owner, noon)
    publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, note="First cooked in October.", at=noon)
    recipe.refresh_from_db()
    return recipe
