"""Counts of an archive's account, in words."""

from __future__ import annotations

from collections.abc import Mapping

from django import template

register = template.Library()


@register.filter
def counted(counts: Mapping[str, int]) -> str:
    """Return "1 recipe, 2 revisions" of what was counted; kinds with none are left out."""
    said = [f"{count} {kind.removesuffix('s') if count == 1 else kind}" for kind, count in counts.items() if count > 0]
    return ", ".join(said)
