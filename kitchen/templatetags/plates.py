"""Draw one card: its own template with its own context, and nothing of the page around it."""

from __future__ import annotations

from django import template
from django.template.loader import get_template
from django.utils.safestring import SafeString

from kitchen.page import CardPlate

register = template.Library()


@register.simple_tag
def card_plate(plate: CardPlate) -> SafeString:
    """Return the card as it stands on a page."""
    return get_template(plate.template_name).render({**plate.context, "card": plate})


@register.simple_tag
def card_on_paper(plate: CardPlate) -> SafeString:
    """Return the card as it stands on paper; nothing where it has no place there."""
    if not plate.print_template_name:
        return SafeString("")
    return get_template(plate.print_template_name).render({**plate.context, "card": plate})
