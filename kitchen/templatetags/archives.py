"""Counts of an archive's account, in words."""

from __future__ import annotations

from collections.abc import Mapping

from django import template

register = template.Library()


@register.filter
def counted(counts: Mapping[str, int]) -> str:
    """Return "1 recipe, 2 revisions" of what was counted; kinds with none are left out."""
    return ", ".join(f"{count} {one_of(kind) if count == 1 else kind}" for kind, count in counts.items() if count > 0)


@register.filter
def one_of(kind: str) -> str:
    """Return the word for one of a kind: "recipe" of "recipes"."""
    return "set of site words" if kind == "site words" else kind.removesuffix("s")
