"""What a power source says about a meal: its share of a charge, the pots of one charge, whether it runs. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from energy.estimates.domain.drawn import Draw, Meals
from energy.estimates.domain.meal import MealEnergy
from energy.facts import SourceFacts
from energy.gear.domain.sources import Verdict
from energy.kinds import appliance_kind
from energy.words import ENGLISH, sentence, words_of
from energy.words.answers import beside_another, putting_it_back, turned_down, verdict_words
from energy.words.figure_words import capitalized
from energy.words.figures import format_wh
from energy.words.how_sure import sure_share, sure_wh

_GAUGE_CELLS = 10
_WHOLE_PCT = 100.0


@dataclass(frozen=True)
class SourceLine:
    """One source's answer in words; ``cells`` are the gauge's, each ``used``, ``spare`` or empty.

    ``beyond`` says that one charge does not suffice; ``meals`` is empty where the reserve leaves no whole ``potful``, which is a
    meal where nothing is cooked in a pot, or in more than one.
    """

    name: str
    share: str
    capacity: str
    meals: str
    reserve: str
    verdict: Verdict
    verdict_words: str
    losses: str
    drawn: str
    cells: tuple[str, ...]
    potful: str = ""
    own_kit: bool = False
    beyond: bool = False
    may_need_more: bool = False


@dataclass(frozen=True)
class Supplied:
    """What feeds a meal: ``source`` the recipe's own or the reader's kit, ``others`` this kitchen's other sources.

    ``notes`` are what was assumed, ``back`` how long it takes to put the energy back, ``turned_down`` and ``beside`` what the
    reader's inverter makes of it, alone and beside another cooker; ``print_line`` is all that a paper card has room for.
    """

    source: SourceLine
    others: tuple[SourceLine, ...]
    notes: tuple[str, ...]
    back: tuple[str, ...]
    turned_down: str
    beside: str
    print_line: str


def supplied(meal: MealEnergy, kit: Mapping[str, Any]) -> Supplied:
    """Return what feeds a meal, for a reader's kit; with a battery of their own, this kitchen's other sources are no answer."""
    source = source_line(meal.facts.source, meal.draw, meal)
    others = () if meal.draw.supply.own else meal.facts.other_sources
    return Supplied(
        source=source,
        others=tuple(source_line(other, meal.from_source(other), meal) for other in others),
        notes=tuple(words_of(note, ENGLISH) for note in meal.draw.supply.notes),
        back=putting_it_back(meal, kit, ENGLISH),
        turned_down=turned_down(meal, kit, ENGLISH),
        beside=beside_another(meal.facts, kit, ENGLISH),
        print_line=print_line(source),
    )


def source_line(source: SourceFacts, draw: Draw, meal: MealEnergy) -> SourceLine:
    """Return what a source, or the reader's kit in its place, says about a meal that is fed from it."""
    supply, share_pct = draw.supply, draw.share_pct
    battery = share_pct is not None
    potful = "pot" if meal.batches == 1 and appliance_kind(meal.facts.appliance.kind).vessel else "meal"
    return SourceLine(
        name=words_of(supply.name, ENGLISH),
        share=sure_share(meal, share_pct, ENGLISH) if share_pct is not None else "",
        capacity=format_wh(supply.capacity_wh) if supply.capacity_wh else "",
        meals=_pots(draw.meals, potful),
        potful=sentence(ENGLISH, f"one_{potful}"),
        reserve=sentence(ENGLISH, "kept_in_reserve", reserve_pct=supply.reserve_pct) if battery and supply.reserve_pct else "",
        verdict=supply.verdict,
        verdict_words=verdict_words(supply.verdict, ENGLISH),
        losses=losses_words(source) if battery and not supply.own else "",
        drawn="" if draw.battery_wh is None else sure_wh(meal, draw.battery_wh, ENGLISH),
        cells=gauge(share_pct.value, supply.reserve_pct) if share_pct is not None else (),
        own_kit=supply.own,
        beyond=share_pct is not None and share_pct.low > _WHOLE_PCT,
        may_need_more=share_pct is not None and share_pct.high > _WHOLE_PCT - supply.reserve_pct,
    )


def _pots(meals: Meals | None, pot: str) -> str:
    """Return the pots of one charge, as few and as many as the uncertainty leaves open; empty where there is not even one."""
    if meals is None or meals.most == 0:
        return ""
    many = f"one_{pot}" if meals.most == 1 else f"{pot}s"
    sure = "_at_most" if meals.fewest == 0 else "_between" if meals.fewest < meals.most else ""
    return sentence(ENGLISH, f"fed_{many}{sure}", fewest=meals.fewest, most=meals.most)


def losses_words(source: SourceFacts) -> str:
    """Return what an inverter loses, as a sentence."""
    code = "inverter_idle" if source.idle_w else "inverter"
    return sentence(ENGLISH, code, efficiency_pct=source.inverter_efficiency * 100, idle_w=source.idle_w)


def gauge(share_pct: float, reserve_pct: float) -> tuple[str, ...]:
    """Return the cells of a battery's gauge: used from the left, kept in reserve from the right.

    Examples
    --------
    >>> gauge(29, 10)
    ('used', 'used', 'used', '', '', '', '', '', '', 'spare')
    """
    used = min(_GAUGE_CELLS, max(1, round(share_pct / 100 * _GAUGE_CELLS)))
    spare = min(_GAUGE_CELLS - used, round(reserve_pct / 100 * _GAUGE_CELLS))
    return ("used",) * used + ("",) * (_GAUGE_CELLS - used - spare) + ("spare",) * spare


_ON_A_PAGE = ("beyond_a_charge", "of_a_charge", "no_whole_pot")
_ON_PAPER = ("paper_beyond_a_charge", "paper_of_a_charge", "paper_no_whole_pot")


def print_line(source: SourceLine) -> str:
    """Return the one line about a source that a paper card has room for."""
    return " ".join(words for words in (charge_words(source), source.verdict_words) if words)


def paper_words(source: SourceLine) -> str:
    """Return what a charge gives and whether it runs, for a card that has the share beneath its watt-hours."""
    return " ".join(words for words in (charge_words(source, _ON_PAPER), source.verdict_words) if words)


def charge_words(source: SourceLine, codes: tuple[str, str, str] = _ON_A_PAGE) -> str:
    """Return what a meal takes of one charge, in a sentence; empty without a battery."""
    if not source.share:
        return ""
    beyond, whole, no_whole = codes
    if source.beyond:
        return sentence(ENGLISH, beyond, share=source.share, capacity=source.capacity)
    told = {"share": capitalized(source.share), "capacity": source.capacity}
    if source.meals:
        return sentence(ENGLISH, whole, pots=source.meals if codes is _ON_A_PAGE else capitalized(source.meals), **told)
    return sentence(ENGLISH, no_whole, potful=source.potful, reserve=source.reserve, **told)
