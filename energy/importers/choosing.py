"""Which of a file's series is the cooker's: one device among several, the total among phases, power and counter together."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from energy.importers.names import named, plain
from energy.importers.parts import added_parts
from energy.importers.sensors import Series
from energy.importers.settling import DENSE_S, Track, energy_of_watts, settled, usual_step_s
from energy.importers.shape import CHARGE, INTERVAL, POWER, ROLE_WORDS, TOTAL, LogShape

NEARLY_ALL = 0.98
"""A device with this share of everything is the one that is meant."""

_WHOLE = re.compile(r"total|sum|all|whole|gesamt|summe|mains|main|house|overall|aggregate|active")
_SENT_OUT = re.compile(r"surplus|export|feed ?in|einspeis|lieferung|injection|vertido|teruglever|generation|production")
_USUAL = re.compile(r"avg|average|mean|mittel|moyen")
_OUTPUT = re.compile(r"(?<![a-z])(?:out(?:put)?|load|ausgang|sortie|salida|uscita|ac out)(?![a-z])")
_INPUT = re.compile(r"(?<![a-z])(?:in(?:put)?|charg\w*|pv|eingang|entrada|entrée|ingresso|mppt)(?![a-z])")
_EXTREME = re.compile(r"max|min|peak|spitze|std|dev")


@dataclass(frozen=True)
class Question:
    """Something that the file does not tell: its key, the words, and the choices as (value, words), the likeliest first."""

    key: str
    words: str
    choices: tuple[tuple[str, str], ...]


@dataclass
class Chosen:
    """The series that are used; a question where the file has several of a kind."""

    power: Series | None = None
    total: Series | None = None
    interval: Series | None = None
    charge: Series | None = None
    device: str = ""
    question: Question | None = None


def choose(found: Sequence[Series], shape: LogShape) -> Chosen:
    """Return which series are used.

    Notes
    -----
    Devices come first: the one asked for, the only one, or the one with 98 % of the energy; else the file is asked about.
    Inside a device one series of each kind counts: the whole by its name, the mean rather than the extremes.
    """
    speaking = [one for one in found if any(not math.isnan(value) for value in one.values)]
    groups: dict[str, list[Series]] = {}
    for one in speaking:
        groups.setdefault(one.device, []).append(one)
    groups = {name: held for name, held in groups.items() if any(one.role in (POWER, TOTAL, INTERVAL, CHARGE) for one in held)}
    if not groups:
        return Chosen()
    inward = {name: held for name, held in groups.items() if not goes_out(name)}
    groups = inward or groups
    name = shape.device if shape.device in groups else _only(groups)
    question = None
    if name is None:
        ranked = sorted(groups, key=lambda one: -_weight(groups[one]))
        name = ranked[0]
        share = _weight(groups[name]) / max(sum(_weight(held) for held in groups.values()), 1e-9)
        if share < NEARLY_ALL:
            choices = tuple((one, f"{one or 'without a name'} ({_weight(groups[one]):,.0f} Wh)") for one in ranked[:40])
            question = Question("device", "The file has several devices. Which one is the cooker’s?", choices)
    chosen = _of_kind(groups[name], shape)
    chosen.device = name
    chosen.question = question or chosen.question
    return chosen


def _only(groups: dict[str, list[Series]]) -> str | None:
    """Return the only device that has power or energy, or None."""
    able = [name for name, held in groups.items() if any(one.role in (POWER, TOTAL, INTERVAL) for one in held)]
    return able[0] if len(able) == 1 else (next(iter(groups)) if len(groups) == 1 else None)


def _weight(held: Sequence[Series]) -> float:
    """Return about how much energy a device's series hold. [Wh]"""
    return max((_energy_wh(one) for one in held if one.role in (POWER, TOTAL, INTERVAL)), default=0.0)


def _energy_wh(one: Series) -> float:
    track = settled(one, [])
    if one.role == POWER:
        return energy_of_watts(Track(track.times_s, track.values), held=True)
    if one.role == INTERVAL:
        return sum(max(value, 0.0) for value in track.values)
    values = track.values
    return sum(max(later - earlier, 0.0) for earlier, later in itertools.pairwise(values))


def _of_kind(held: Sequence[Series], shape: LogShape) -> Chosen:
    best: dict[str, Series] = {}
    asked: dict[str, Question] = {}
    for role in (TOTAL, INTERVAL, POWER, CHARGE):
        kind = [one for one in held if one.role == role]
        if not kind:
            continue
        found, open_choice = _best(kind)
        if open_choice and role != CHARGE:
            choices = tuple((one.name, one.name) for one in kind[:40])
            words = f"Several columns hold {ROLE_WORDS[role]}. Which one is the cooker’s?"
            asked[role] = Question(f"column:{role}", words, choices)
        else:
            best[role] = found
    figures = [role for role in (TOTAL, INTERVAL, POWER) if role in best]
    question = None if figures else next(iter(asked.values()), None)
    if asked and figures == [POWER] and not _dense(best[POWER]):
        question = next(iter(asked.values()))
    return Chosen(best.get(POWER), best.get(TOTAL), best.get(INTERVAL), best.get(CHARGE), question=question)


def _dense(series: Series) -> bool:
    """Return whether watts are read often enough to do without a counter."""
    return usual_step_s(series.times_s) <= DENSE_S


def goes_out(name: str) -> bool:
    """Return whether a device's or a row's name says that its energy is sent out, not used."""
    return named(name).export or bool(_SENT_OUT.search(plain(name)))


def _best(kind: Sequence[Series]) -> tuple[Series, bool]:
    """Return the series of one kind that is meant, and whether that is open."""
    if len(kind) == 1:
        return kind[0], False
    whole = [one for one in kind if _WHOLE.search(plain(one.name))]
    if len(whole) == 1:
        return whole[0], False
    if summed := added_parts([one for one in kind if not _EXTREME.search(plain(one.name))] or kind):
        return summed, False
    delivered = [one for one in kind if "delivered" in plain(one.name)]
    if len(delivered) == 1 and any("received" in plain(one.name) for one in kind):
        return delivered[0], False
    out = [one for one in kind if _OUTPUT.search(plain(one.name))]
    if len(out) == 1 and all(_INPUT.search(plain(one.name)) for one in kind if one is not out[0]):
        return out[0], False
    usual = [one for one in kind if not _EXTREME.search(plain(one.name))]
    mean = [one for one in usual if _USUAL.search(plain(one.name))]
    if len(mean) == 1 and len(usual) < len(kind):
        return mean[0], False
    if len(usual) == 1:
        return usual[0], False
    weights = [_energy_wh(one) for one in usual or kind]
    heaviest = max(range(len(weights)), key=weights.__getitem__)
    total = sum(weights)
    if total > 0 and weights[heaviest] >= NEARLY_ALL * total:
        return (usual or kind)[heaviest], False
    if total > 0 and all(abs(weight - weights[heaviest]) <= 0.005 * weights[heaviest] for weight in weights):
        return (usual or kind)[0], False
    return (usual or kind)[heaviest], True
