"""The system check of the cards' templates."""

import pytest

from kitchen.cards import Card, register, unregister
from kitchen.checks import cards_have_templates


class BareCard(Card):
    """A card whose templates nobody wrote."""

    slug = "bare"
    template_name = "bare/nowhere.html"
    print_template_name = "bare/nowhere_print.html"


@pytest.fixture
def bare_card():
    register(BareCard())
    yield
    unregister("bare")


def test_all_registered_cards_can_be_drawn():
    assert cards_have_templates(None) == []


def test_missing_templates_are_named(bare_card):
    assert ["nowhere.html" in error.msg or "nowhere_print.html" in error.msg for error in cards_have_templates(None)] == [
        True
    ] * 2
