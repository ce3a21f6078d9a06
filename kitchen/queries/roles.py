"""The roles: whoever runs the kitchen, cooks who write recipes, and helpers who only record cooks."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.models import User
from django.db.models import Exists, OuterRef

HELPERS = "helpers"
_KNOWN = "_is_helper"


def is_helper(person: Any) -> bool:
    """Whether somebody only records cooks. One query for each account as it was loaded, none for a stranger or the owner."""
    if not person.is_authenticated or person.is_superuser:
        return False
    if not hasattr(person, _KNOWN):
        setattr(person, _KNOWN, person.groups.filter(name=HELPERS).exists())
    return bool(getattr(person, _KNOWN))


def forget_role(person: Any) -> None:
    """Let the role of an account be asked again, after it was changed."""
    vars(person).pop(_KNOWN, None)


def helps() -> Exists:
    """Return what tells a helper in a query over accounts."""
    return Exists(User.groups.through.objects.filter(user=OuterRef("pk"), group__name=HELPERS))
