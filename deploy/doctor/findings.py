"""What a look at the house comes to: one sentence for each thing, whether it is well, and the command that mends it."""

from __future__ import annotations

from dataclasses import dataclass

WELL, MIND, ILL = "well", "mind", "ill"
"""Well: nothing to do. Mind: it works, and something should be known. Ill: something is wrong or will be."""


@dataclass(frozen=True)
class Finding:
    """One sentence about one thing; ``mend`` is the command or the step that mends it, empty where there is nothing to do."""

    about: str
    state: str
    words: str
    mend: str = ""


def well(about: str, words: str) -> Finding:
    """Return that a thing is as it should be."""
    return Finding(about, WELL, words)


def mind(about: str, words: str, mend: str = "") -> Finding:
    """Return what should be known of a thing that works."""
    return Finding(about, MIND, words, mend)


def ill(about: str, words: str, mend: str = "") -> Finding:
    """Return what is wrong with a thing."""
    return Finding(about, ILL, words, mend)
