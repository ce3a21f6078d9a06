"""Counts of an archive's account, in words."""

from __future__ import annotations

from collections.abc import Mapping

from django import template

register = template.Library()


@register.filter
def each_counted(counts: Mapping[str, int]) -> list[str]:
    """Return "1 recipe", "2 revisions" ... of what was counted; kinds with none are left out."""
    return [f"{count:,} {_one_of(kind) if count == 1 else kind}" for kind, count in counts.items() if count > 0]


@register.filter
def counted(counts: Mapping[str, int]) -> str:
    """Return the same in one line."""
    return ", ".join(each_counted(counts))


def _one_of(kind: str) -> str:
    return "set of site words" if kind == "site words" else kind.removesuffix("s")
