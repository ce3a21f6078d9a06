"""Which cautions a recipe calls for, on its cooker, from its source and where it is cooked; the worst harm first."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from energy.cautions.entries import Entry, entries, list_number
from energy.kinds import appliance_kind, source_kind

_RAISED = 25
_ELSEWHERE = 30
_CROWDED, _MOST_OF_A_KIND = 20, 2
_LIMIT_WORDS = {50: "half", 67: "two thirds", 75: "three quarters", 100: "the brim"}


@dataclass(frozen=True)
class ClassedLine:
    """One line, the classes of its foods, and what the cook answered to its cautions; empty where nothing."""

    words: str
    classes: frozenset[str]
    answer: str = ""


@dataclass(frozen=True)
class Situation:
    """What decides: the foods, the kinds of cooker and source, what the steps do, and the circumstances.

    Attributes
    ----------
    lines : tuple of ClassedLine
        The recipe's lines that have any class.
    topics : frozenset of str
        What the cooker and the steps are about (``pressure``, ``hot_fat`` ...).
    sources, other_sources : frozenset of str
        What the source is about, and what the other sources are that a card answers for.
    around : frozenset of str
        ``frost``, ``high``, ``group``, ``keep_warm``.
    fill, foam : str
        The cooker's limits in words.
    """

    lines: tuple[ClassedLine, ...] = ()
    topics: frozenset[str] = frozenset()
    sources: frozenset[str] = frozenset()
    other_sources: frozenset[str] = frozenset()
    around: frozenset[str] = frozenset()
    fill: str = "two thirds"
    foam: str = "half"


@dataclass(frozen=True)
class CalledFor:
    """A caution that is shown: how bad what it prevents is here, the lines that call for it, and those that a cook answered.

    ``elsewhere``: it is only about another source than the recipe's own. ``newer``: the edition was published without it.
    """

    entry: Entry
    harm: int
    lines: tuple[ClassedLine, ...] = ()
    answered: tuple[ClassedLine, ...] = ()
    elsewhere: bool = False
    newer: bool = False


def topics_of_appliance(kind: str) -> frozenset[str]:
    """Return what a kind of cooker is about."""
    return frozenset(appliance_kind(kind).cautions)


def topics_of_sources(kinds: Iterable[str]) -> frozenset[str]:
    """Return what kinds of sources are about."""
    return frozenset(topic for kind in kinds for topic in source_kind(kind).cautions)


def choose(situation: Situation) -> tuple[CalledFor, ...]:
    """Return today's cautions for a situation, the worst harm first.

    Examples
    --------
    >>> beans = Situation((ClassedLine("200 g kidney beans", frozenset({"toxin"})),), frozenset({"pressure"}))
    >>> [one.entry.key for one in choose(beans)][:3]
    ['bean_toxin', 'lid_never_forced', 'pressure_filled']
    """
    return _ranked(_todays(situation))


def _todays(situation: Situation) -> Iterable[CalledFor]:
    return (one for entry in entries() if entry.held_by(list_number()) for one in _fitting(entry, situation))


def choose_beside(situation: Situation, *, number: int, keys: Collection[str]) -> tuple[CalledFor, ...]:
    """Return what was published with list ``number`` and food cautions ``keys``, with today's beside it, marked as newer.

    One of today's that says no more than what it replaces is left out where that was published.
    """
    published = list(_published(situation, number, keys))
    there = {one.entry.key for one in published}
    today = (
        CalledFor(one.entry, one.harm, one.lines, one.answered, one.elsewhere, newer=True)
        for one in _todays(situation)
        if one.entry.key not in there and (one.entry.stricter or not one.entry.replaces & there)
    )
    return _ranked([*published, *today])


def food_keys(lines: Sequence[ClassedLine]) -> tuple[str, ...]:
    """Return the keys of today's cautions that foods alone call for, as an edition keeps them."""
    return tuple(one.entry.key for one in choose(Situation(tuple(lines))) if one.entry.classes)


def _published(situation: Situation, number: int, keys: Collection[str]) -> Iterable[CalledFor]:
    for entry in entries():
        if not entry.held_by(number):
            continue
        if entry.by_key:
            yield from [CalledFor(entry, entry.harm)] if entry.key in keys else ()
        else:
            # What the foods alone call for is shown only where the edition kept it.
            by_food = entry.classes and not entry.appliances and not entry.around
            found = [] if by_food and entry.key not in keys else list(_fitting(entry, situation))
            yield from found or ([CalledFor(entry, entry.harm)] if entry.key in keys else [])


def _fitting(entry: Entry, situation: Situation) -> Iterable[CalledFor]:
    calling = [line for line in situation.lines if line.classes & entry.classes]
    own, elsewhere = entry.sources & situation.sources, entry.sources & situation.other_sources
    if (entry.classes and not calling) or (entry.sources and not own and not elsewhere) or not _there(entry, situation):
        return
    answered = tuple(line for line in calling if entry.answerable and line.answer)
    harm = entry.harm + (_RAISED if entry.raised_by & situation.around else 0)
    far = bool(entry.sources) and not own
    yield CalledFor(
        entry, harm - (_ELSEWHERE if far else 0), tuple(line for line in calling if line not in answered), answered, far
    )


def _there(entry: Entry, situation: Situation) -> bool:
    """Whether the cooker and the circumstances are those that the entry asks for."""
    wanted: Mapping[frozenset[str], frozenset[str]] = {entry.appliances: situation.topics, entry.around: situation.around}
    return all(not asked or asked & held for asked, held in wanted.items())


def _ranked(found: Iterable[CalledFor]) -> tuple[CalledFor, ...]:
    """Return them by harm; what was answered for every line that calls for it goes to the end.

    From the third on, what a cooker or a source calls for matters less: where four stand open they shall not all be about one.
    """
    ranked = list[CalledFor]()
    of_kind = {"appliances": 0, "sources": 0}
    for one in sorted(found, key=lambda one: -one.harm):
        kind = "" if one.entry.classes else "sources" if one.entry.sources else "appliances" if one.entry.appliances else ""
        crowded = bool(kind) and of_kind[kind] >= _MOST_OF_A_KIND
        of_kind |= {kind: of_kind[kind] + 1} if kind else {}
        ranked.append(replace(one, harm=max(one.harm - _CROWDED, 10)) if crowded else one)
    return tuple(sorted(ranked, key=lambda one: (bool(one.answered) and not one.lines, -one.harm)))


def limit_words(limit_pct: float) -> str:
    """Return a fill limit in words.

    Examples
    --------
    >>> limit_words(67), limit_words(60).replace(chr(160), " ")
    ('two thirds', '60 %')
    """
    return _LIMIT_WORDS.get(round(limit_pct), f"{limit_pct:g}\u00a0%")
