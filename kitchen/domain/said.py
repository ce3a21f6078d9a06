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
    """What a card's figures rest on, told to the cook before they go out: what they are made of, what was set aside and why.

    ``notes`` are what else the cook should know, a sentence each.
    """

    made_of: tuple[str, ...] = ()
    set_aside: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
