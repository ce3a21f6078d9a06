"""A removed reading travels in a signed link, so that it can be put back without being kept anywhere."""

from __future__ import annotations

from typing import Any

from django.core import signing

from energy.models import Run

_SALT = "energy.removed-reading"


def removal_token(run: Run, removed: dict[str, Any]) -> str:
    """Return the text of a link that can put the reading back into this run."""
    return signing.dumps({"run": run.pk, **removed}, salt=_SALT, compress=True)


def removed_reading(token: str, run: Run) -> dict[str, Any] | None:
    """Return the removed reading that a link carries, or None when it is not this run's or was tampered with."""
    try:
        removed: dict[str, Any] = signing.loads(token, salt=_SALT)
    except signing.BadSignature:
        return None
    return removed if removed.pop("run", None) == run.pk else None
