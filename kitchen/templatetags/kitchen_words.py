"""What the domain says in codes, in a template."""

from __future__ import annotations

from collections.abc import Iterable

from django import template

from kitchen.domain.remark import Said
from kitchen.words import ENGLISH, words_of

register = template.Library()


@register.filter
def in_words(said: Said) -> str:
    """Return a remark as a sentence."""
    return words_of(said, ENGLISH)


@register.filter
def all_in_words(said: Iterable[Said], between: str = ", ") -> str:
    """Return several remarks as one text."""
    return between.join(map(in_words, said))
