"""What a new password may not be, besides what Django refuses."""

from __future__ import annotations

import unicodedata
from typing import Any

from django.core.exceptions import ValidationError

SHORTEST_NAME = 3
"""A name of one or two letters stands in many a good password."""


class HoldsNoName:
    """Refuses a password in which the account's own name stands."""

    def validate(self, password: str, user: Any = None) -> None:
        """Raise ValidationError where the name stands in the password, whatever the capitals."""
        name = _folded(user.get_username()) if user is not None else ""
        if len(name) >= SHORTEST_NAME and name in _folded(password):
            raise ValidationError("Your name stands in this password, and it is the first thing that is tried. Leave it out.")

    def get_help_text(self) -> str:
        """Return what is asked of a password."""
        return "The name does not stand in it."


def _folded(text: str) -> str:
    return unicodedata.normalize("NFKC", text).casefold()
