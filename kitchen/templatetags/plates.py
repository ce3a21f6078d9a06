"""Draw one card (its own template with its own context, and nothing of the page around it), and set measures in one piece."""

from __future__ import annotations

import re

from django import template
from django.template.loader import get_template
from django.utils.safestring import SafeString

from kitchen.page import CardPlate

register = template.Library()
_PAIR = re.compile(r"(?<=[\d½⅓⅔¼¾⅛⅜⅝⅞⅙⅚]) (?=[^\W\d])")


@register.filter
def in_pairs(measures: str) -> str:
    """Return "2 tbsp 2¼ tsp" or "1 h 35 min" so that a line may end between two measures and never inside one."""
    plain = measures.replace("\u00a0", " ")
    return _PAIR.sub("\u00a0", plain) if plain.count(" ") > 1 else measures


@register.simple_tag
def card_plate(plate: CardPlate) -> SafeString:
    """Return the card as it stands on a page."""
    return _drawn(plate, plate.template_name)


@register.simple_tag
def card_strip(plate: CardPlate) -> SafeString:
    """Return the drawing that a card puts beneath the picture where there is room; nothing where it has none."""
    return _drawn(plate, plate.strip_template_name)


def _drawn(plate: CardPlate, template_name: str) -> SafeString:
    if not template_name:
        return SafeString("")
    return SafeString(get_template(template_name).render({**plate.context, "card": plate}))
