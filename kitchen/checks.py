"""System checks of the kitchen: every registered card can be drawn."""

from __future__ import annotations

from typing import Any

from django.core.checks import CheckMessage, Error, register
from django.template import TemplateDoesNotExist
from django.template.loader import get_template

from kitchen.cards import Card, registered


@register()
def cards_have_templates(app_configs: Any, **kwargs: Any) -> list[CheckMessage]:
    """Return an error for every template that a registered card names and nobody wrote."""
    return [error for card in registered() for error in _missing(card)]


def _missing(card: Card) -> list[CheckMessage]:
    """Return an error for each template that is named and missing; a card without a name for one shows no plate."""
    names = [name for name in (card.template_name, card.print_template_name, card.strip_template_name) if name]
    return [
        Error(
            f"The card “{card.slug}” names the template “{name}”, which is not there.",
            hint="Write the template, or correct the card’s name of it.",
            obj=card,
            id="kitchen.E001",
        )
        for name in names
        if not _is_there(name)
    ]


def _is_there(name: str) -> bool:
    try:
        get_template(name)
    except TemplateDoesNotExist:
        return False
    return True
