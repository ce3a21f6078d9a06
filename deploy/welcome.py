"""What the terminal says when the site is up."""

from __future__ import annotations

import io

from django.core.management import call_command
from django.db import connections


def welcome_lines(address: str) -> list[str]:
    """Return the site's address, and the one-time link for the owner's account while there is none."""
    said = io.StringIO()
    call_command("first_link", stdout=said)
    connections.close_all()  # workers are forked from here: a connection must not be shared with them
    link = said.getvalue().strip()
    return [f"Wattfare is at {address} (Ctrl-C stops it)", *([link] if link else [])]
