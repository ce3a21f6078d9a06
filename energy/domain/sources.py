"""From the socket to the battery, to the wall, and back: what a source gives, and whether it runs a cooker."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Verdict:
    """Whether a source runs a cooker.

    ``word`` is ``runs``, ``tight``, ``no`` or ``unknown``; ``words`` a sentence for a person; ``share_pct`` the cooker's watts
    in per cent of the source's rating and ``headroom_pct`` what is left of it (negative when there is none); None when unknown.
    """

    word: str
    words: str
    share_pct: float | None = None
    headroom_pct: float | None = None
