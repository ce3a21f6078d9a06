"""What a change took away travels in a signed link, so that it can be put back without being kept anywhere."""

from __future__ import annotations

from typing import Any

from django.core import signing

from energy.models import Run

READING, ROWS, MARKS, VERDICT = (f"energy.{what}" for what in ("removed-reading", "rows-added", "marks-before", "verdict-before"))
"""What is carried."""


def undo_token(run: Run, before: dict[str, Any], what: str) -> str:
    """Return the text of a link that can undo a change of this run."""
    return signing.dumps({"run": run.pk, **before}, salt=what, compress=True)


def to_undo(token: str, run: Run, what: str) -> dict[str, Any] | None:
    """Return what a link carries; None where it carries nothing, is another run's or was tampered with."""
    try:
        before: dict[str, Any] = signing.loads(token, salt=what)
    except signing.BadSignature:
        return None
    return before if before.pop("run", None) == run.pk else None
