"""Content as it is sent: compressed by gzip and, where its library is there, by brotli (RFC 9110, 8.4.1 and 12.5.3; RFC 7932)."""

from __future__ import annotations

import gzip
from functools import lru_cache

try:
    import brotli
except ImportError:  # then there is gzip alone
    brotli = None

_PLAIN_ENOUGH = ("text/", "application/json", "application/ld+json", "application/atom+xml", "application/xml", "image/svg")
QUICK, ONCE = 5, 10
"""How hard brotli tries: for one answer, and for what many will be sent."""


@lru_cache(maxsize=64)
def taken_by(accepted: str) -> frozenset[str]:
    """Return which codings of ours a browser says that it takes.

    Examples
    --------
    >>> sorted(taken_by("gzip, deflate, br;q=0.5")), sorted(taken_by("br;q=0, x-gzip")), sorted(taken_by("identity"))
    (['br', 'gzip'], ['gzip'], [])
    """
    told = (part.partition(";") for part in accepted.lower().split(","))
    never = ("q=0", "q=0.0", "q=0.00", "q=0.000")
    takes = {coding.strip().removeprefix("x-") for coding, _, quality in told if quality.replace(" ", "") not in never}
    return frozenset(takes & {"br", "gzip"} if brotli else takes & {"gzip"})


def by_brotli(body: bytes, kind: str, quality: int) -> bytes:
    """Return a text compressed by brotli; nothing where that is not there, or would gain nothing."""
    return brotli.compress(body, quality=quality) if brotli and kind.startswith(_PLAIN_ENOUGH) else b""


def by_gzip(body: bytes) -> bytes:
    """Return a body compressed by gzip, the same each time."""
    return gzip.compress(body, mtime=0)
