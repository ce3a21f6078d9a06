"""Which of a file's series is the cooker's: one device among several, the total among phases, power and counter together."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from energy.meters.files.columns.names import named, plain
from energy.meters.files.columns.parts import added_parts, summed
from energy.meters.files.columns.sensors import Series
from energy.meters.files.columns.shape import CHARGE, INTERVAL, POWER, ROLE_WORDS, TOTAL, LogShape, UnreadableFile
from energy.meters.files.series.settling import DENSE_S, Track, energy_of_watts, settled, usual_step_s

NEARLY_ALL = 0.98
"""A device with this share of everything is the one that is meant."""

TOGETHER = "+"
"""The answer that several devices or columns are meant together."""

_ADD = (TOTAL, INTERVAL, POWER)
_MOST_CHOICES = 40

_WHOLE = re.compile(r"total|sum|all|whole|gesamt|summe|mains|main|house|overall|aggregate|active")
_SENT_OUT = re.compile(
    r"surplus|export|feed[ -]?in|einspeis|lieferung|injection|vertido|teruglever|generation|production|"
    r"(?<![0-9])2[ .:-]?8[ .:-]?[0-9](?![0-9])"
)
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


DAY_ORDER = Question(
    "day_first", "Days such as 3/4 can be read in two ways.", (("yes", "the day comes first"), ("no", "the month comes first"))
)

YEAR = Question("year", "Its days name no year. Which year was it?", ())


@dataclass
class Chosen:
    """The series that are used; a question where the file has several of a kind; what is told of those that flow out."""

    power: Series | None = None
    total: Series | None = None
    interval: Series | None = None
    charge: Series | None = None
    device: str = ""
    question: Question | None = None
    left_out: tuple[str, ...] = ()


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
    both = any("delivered" in name for name in groups)
    outward = {name: held for name, held in groups.items() if goes_out(name) or (both and "received" in name)}
    inward = {name: held for name, held in groups.items() if name not in outward}
    if not inward and shape.device not in groups:
        raise UnreadableFile(
            f"All that this file holds is energy that was sent out ({', '.join(outward)}). Export what was drawn, or point at "
            "the device."
        )
    if shape.device == TOGETHER:
        chosen = _of_kind([one for held in inward.values() for one in held], replace(shape, together=_ADD))
        return replace(chosen, left_out=_outward_words(outward))
    name, question = _device_of(groups, inward, shape)
    chosen = _of_kind(groups[name], shape)
    left_out = _outward_words({one: held for one, held in outward.items() if one != name})
    return replace(chosen, device=name, question=question or chosen.question, left_out=left_out)


def _device_of(groups: dict[str, list[Series]], inward: dict[str, list[Series]], shape: LogShape) -> tuple[str, Question | None]:
    """Return the device that is meant: the one that was told, the only one, the one with nearly everything; else ask."""
    if shape.device in groups:
        return shape.device, None
    only = None if shape.device else _only_device(inward)
    if only is not None:
        return only, None
    weights = {name: _weight(held) for name, held in inward.items()}
    ranked = sorted(weights, key=lambda one: -weights[one])
    if not shape.device and weights[ranked[0]] >= NEARLY_ALL * max(sum(weights.values()), 1e-9):
        return ranked[0], None
    choices = [(one, f"{one or 'without a name'} ({weights[one]:,.0f} Wh)") for one in ranked[:_MOST_CHOICES]]
    choices += [(TOGETHER, f"all of them together ({sum(weights.values()):,.0f} Wh)")] if len(ranked) > 1 else []
    return ranked[0], Question("device", "The file has several devices. Which one is the cooker’s?", tuple(choices))


def _outward_words(outward: dict[str, list[Series]]) -> tuple[str, ...]:
    """Return what is told of energy that flows the other way."""
    return tuple(f"“{name}” is sent out, not used: {_weight(held):,.0f} Wh left aside." for name, held in outward.items())


def _only_device(groups: dict[str, list[Series]]) -> str | None:
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
        found, open_choice = (summed(kind), False) if role in shape.together and len(kind) > 1 else _best(kind)
        if open_choice and role != CHARGE:
            choices = (*((one.name, one.name) for one in kind[:_MOST_CHOICES]), (TOGETHER, "all of them together"))
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
