"""Reads of the cooks' accounts."""

from __future__ import annotations

from django.contrib.auth.models import User

from kitchen.queries.packed import name_of


def cook_called(name: str) -> User | None:
    """Return the one active cook here whom an archive would call by this name; None where there is none, or more than one."""
    found = [cook for cook in User.objects.filter(is_active=True) if name in (name_of(cook), cook.get_username())]
    return found[0] if name and len(found) == 1 else None
