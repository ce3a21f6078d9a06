"""Which line or step of one revision is which of another: pairs, in the order of the newer revision."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from difflib import SequenceMatcher
from typing import TypeVar

from kitchen.domain.facts import LineFacts, StepFacts
from kitchen.domain.nouns import singular

_ALIKE = 0.5
_LONGEST_COMPARED = 2000

Thing = TypeVar("Thing")
Pair = tuple[int | None, int | None]
"""The places of one thing in the older and in the newer list; None where it is not there."""


def align_lines(old: Sequence[LineFacts], new: Sequence[LineFacts]) -> list[Pair]:
    """Return which ingredient lines belong together.

    Parameters
    ----------
    old, new : sequence of LineFacts
        The lines of two revisions, the older first.

    Returns
    -------
    list of (int or None, int or None)
        Every line of both once: in the order of the newer list, what was left out where it stood.

    Notes
    -----
    Lines of the same text are one line; then those of the same ingredient; then those of the same food; then those between the
    same neighbours whose texts are at least half alike (``difflib.SequenceMatcher``).

    Examples
    --------
    >>> old = [LineFacts("2 eggs", name="eggs"), LineFacts("salt", name="salt")]
    >>> align_lines(old, [LineFacts("3 eggs", name="eggs"), LineFacts("1 lemon", name="lemon")])
    [(0, 0), (1, None), (None, 1)]
    """
    found: dict[int, int] = {}
    _pair_by(old, new, found, lambda line: line.text)
    _pair_by(old, new, found, lambda line: ingredient(line.name))
    _pair_by(old, new, found, lambda line: line.food.name if line.food else "")
    _pair_alike([line.text for line in old], [line.text for line in new], found)
    return _in_order(len(old), len(new), found)


def align_steps(old: Sequence[StepFacts], new: Sequence[StepFacts]) -> list[Pair]:
    """Return which steps belong together, as ``align_lines`` does: by their words, then by words that are at
    least half alike, between the same neighbours first.

    Examples
    --------
    >>> align_steps([StepFacts("Stir."), StepFacts("Leave it alone.")], [StepFacts("Leave it alone.")])
    [(0, None), (1, 0)]
    """
    found: dict[int, int] = {}
    matcher = SequenceMatcher(a=[step.text for step in old], b=[step.text for step in new], autojunk=False)
    for old_from, new_from, size in matcher.get_matching_blocks():
        found.update({old_from + offset: new_from + offset for offset in range(size)})
    _pair_by(old, new, found, lambda step: step.text)
    texts = [step.text for step in old], [step.text for step in new]
    _pair_alike(*texts, found)
    _pair_alike(*texts, found, anywhere=True)
    return _in_order(len(old), len(new), found)


def moved(pairs: Sequence[Pair]) -> set[int]:
    """Return the places in the newer list of what changed its order: the fewest that would have to be put back.

    Examples
    --------
    >>> moved([(1, 0), (2, 1), (0, 2)])
    {2}
    """
    both = [(old, new) for old, new in pairs if old is not None and new is not None]
    both.sort(key=lambda pair: pair[1])
    stayed = _longest_rising([old for old, _ in both])
    return {new for place, (_, new) in enumerate(both) if place not in stayed}


def ingredient(name: str) -> str:
    """Return an ingredient's name as it is compared: small letters, each word for one of it.

    Examples
    --------
    >>> ingredient("Red onions") == ingredient("red onion")
    True
    """
    return " ".join(singular(word) for word in name.casefold().split())


def alike(one: str, other: str) -> bool:
    """Whether two texts are at least half the same."""
    if min(len(one), len(other)) * 2 < _ALIKE * (len(one) + len(other)):
        return False  # so different in length that they cannot be
    matcher = SequenceMatcher(a=one[:_LONGEST_COMPARED], b=other[:_LONGEST_COMPARED], autojunk=False)
    return matcher.quick_ratio() >= _ALIKE and matcher.ratio() >= _ALIKE


def _pair_by(old: Sequence[Thing], new: Sequence[Thing], found: dict[int, int], key: Callable[[Thing], str]) -> None:
    """Pair what has the same key and no partner yet, in order; an empty key tells nothing."""
    waiting: dict[str, list[int]] = {}
    taken = set(found.values())
    for place, thing in enumerate(new):
        if place not in taken and key(thing):
            waiting.setdefault(key(thing), []).append(place)
    for place, thing in enumerate(old):
        if place not in found and waiting.get(key(thing)):
            found[place] = waiting[key(thing)].pop(0)


def _pair_alike(old: Sequence[str], new: Sequence[str], found: dict[int, int], *, anywhere: bool = False) -> None:
    """Pair texts that are alike and stand between the same neighbours, or ``anywhere``."""
    for place, text in enumerate(old):
        if place in found:
            continue
        above, below = (-1, len(new)) if anywhere else _neighbours(place, len(old), len(new), found)
        taken = set(found.values())
        partner = next((n for n in range(above + 1, below) if n not in taken and alike(text, new[n])), None)
        if partner is not None:
            found[place] = partner


def _neighbours(place: int, old_count: int, new_count: int, found: dict[int, int]) -> tuple[int, int]:
    """Return between which places of the newer list something would stand if its neighbours stayed where they were."""
    above = max((found[other] for other in range(place) if other in found), default=-1)
    below = min((found[other] for other in range(place + 1, old_count) if other in found), default=new_count)
    return above, below


def _in_order(old_count: int, new_count: int, found: dict[int, int]) -> list[Pair]:
    """Return the pairs in the newer order, with what is gone behind what it followed."""
    back = {new: old for old, new in found.items()}
    gone_after: dict[int | None, list[Pair]] = {}
    anchor: int | None = None
    for place in range(old_count):
        if place in found:
            anchor = found[place]
        else:
            gone_after.setdefault(anchor, []).append((place, None))
    ordered = list(gone_after.get(None, ()))
    for place in range(new_count):
        ordered += [(back.get(place), place), *gone_after.get(place, ())]
    return ordered


def _longest_rising(numbers: Sequence[int]) -> set[int]:
    """Return the places of a longest rising run of these numbers."""
    ends: list[int] = []
    at: list[int] = []
    before: list[int | None] = []
    for place, number in enumerate(numbers):
        rank = bisect_left(ends, number)
        before.append(at[rank - 1] if rank else None)
        ends[rank : rank + 1] = [number]
        at[rank : rank + 1] = [place]
    found: set[int] = set()
    place_now = at[-1] if at else None
    while place_now is not None:
        found.add(place_now)
        place_now = before[place_now]
    return found
