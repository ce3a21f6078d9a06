"""How long somebody waits after wrong passwords: the first few cost nothing, then each doubles the wait, up to a quarter hour."""

from __future__ import annotations

import math
from datetime import datetime, timedelta

FREE = {"account": 5, "address": 20, "device": 10}
"""So many wrong passwords cost no wait, for an account, for an address, and for a device that a cook has signed in on before."""

FIRST_WAIT_S = 5
LONGEST_WAIT_S = 15 * 60
"""At most four tries an hour then: far below the hundred an hour that is usual advice (OWASP ASVS 4, 2.2.1, from memory)."""

FORGOTTEN_AFTER = timedelta(days=1)


def wait_after_s(kind: str, failures: int) -> int:
    """Return how long to wait after so many wrong passwords in a row. [s]

    Examples
    --------
    >>> [wait_after_s("account", failures) for failures in (0, 4, 5, 6, 7, 12, 13, 5000)]
    [0, 0, 5, 10, 20, 640, 900, 900]
    """
    beyond = failures - FREE[kind]
    return 0 if beyond < 0 else min(LONGEST_WAIT_S, FIRST_WAIT_S * 2 ** min(beyond, 20))


def wait_left_s(kind: str, failures: int, last_at: datetime, at: datetime) -> int:
    """Return how long there is still to wait; a clock that was set back never makes it longer than the wait itself. [s]"""
    if at - last_at > FORGOTTEN_AFTER:
        return 0
    wait_s = wait_after_s(kind, failures)
    return min(wait_s, max(0, math.ceil(wait_s - (at - last_at).total_seconds())))
