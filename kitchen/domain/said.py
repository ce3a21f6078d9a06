"""What a card says in sentences: whether it works, and what its figures rest on. Pure."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Answer:
    """What a card says to "does it work here?": sentences, what may fail first; ``kit`` names a reader's own gear."""

    words: tuple[str, ...]
    sound: bool = True
    kit: str = ""


@dataclass(frozen=True)
class Grounds:
    """What the cook should know of a card's figures before they go out, a sentence each."""

    notes: tuple[str, ...] = ()
