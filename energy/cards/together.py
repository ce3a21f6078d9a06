"""What the energy card says of several recipes, cooked one after the other: sums, charges, and which does not fit. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any

from energy.cards.answering import kit_name
from energy.cards.presenting import standing_of
from energy.estimates.domain.drawn import Draw, at_the_socket
from energy.estimates.domain.meal import MealEnergy
from energy.facts import SourceFacts
from energy.gear.domain.charges import Share, charges_for
from energy.words import ENGLISH, sentence
from energy.words.answers import verdict_words
from energy.words.figure_words import least_wh, range_wh
from energy.words.figures import about_minutes, format_minutes, format_percent
from energy.words.how_many_charges import charges_words, served_words
from energy.words.how_sure import sure_share
from kitchen.cards import Answer, Dish, Headline, Together

_UNSOUND = ("no", "tight")


def cooked_together(dishes: Sequence[Dish], kit: Mapping[str, Any]) -> Together:
    """Return the sums of energy and minutes, what they lack, and how many charges all of it takes."""
    measured = [dish for dish in dishes if dish.prepared is not None]
    timed = [(dish, minutes) for dish in dishes if (minutes := _minutes(dish)) is not None]
    energy, figures = _energy(measured, whole=len(measured) == len(dishes))
    time, more = _time(timed, whole=len(timed) == len(dishes))
    answer, meals = _charges(dishes, kit)
    return Together((*energy, *time), tuple(_lacks(dishes)), answer, meals, {**figures, **more})


def _lacks(dishes: Sequence[Dish]) -> Iterator[str]:
    """Yield what the sums do not hold, each recipe once."""
    for dish in {dish.title: dish for dish in dishes}.values():
        if dish.prepared is None:
            yield sentence(ENGLISH, "together_unmeasured", title=dish.title)
        if _open(dish):
            yield sentence(ENGLISH, "together_may_be_more", title=dish.title)
        if _minutes(dish) is None:
            yield sentence(ENGLISH, "together_no_minutes", title=dish.title)


def _open(dish: Dish) -> bool:
    """Whether it may take more than anybody knows."""
    return dish.prepared is not None and dish.prepared.estimate.at_least


def _energy(measured: Sequence[Dish], *, whole: bool) -> tuple[tuple[Headline, ...], dict[str, Any]]:
    if not measured:
        return (), {}
    ends = [at_the_socket(dish.prepared.estimate) for dish in measured]
    low, high = sum(one.low for one in ends), sum(one.high for one in ends)
    at_least = not whole or any(map(_open, measured))
    words = least_wh(low, (high - low) / 2, ENGLISH) if at_least else range_wh(low, high, ENGLISH)
    sure = not at_least and all(standing_of(dish.prepared) == "measured" for dish in measured)
    standing = "measured" if sure else "estimated"
    said = sentence(ENGLISH, "together_energy")
    headline = Headline("energy", words.removesuffix("\u00a0Wh"), "Wh", said, "energy", standing, order=10)
    return (headline,), {"energy_wh": _between(low, high, at_least=at_least)}


def _between(low: float, high: float, *, at_least: bool) -> dict[str, Any]:
    return {"low": round(low, 1), "high": None if at_least else round(high, 1), "at_least": at_least}


def _minutes(dish: Dish) -> Decimal | None:
    """Return how long a recipe takes from its first step to its last; None where nobody knows. [min]"""
    if dish.prepared is None:
        return dish.typed_min
    return Decimal(str(round(dish.prepared.estimate.total_s / 60, 4))) + dish.prep_min


def _time(timed: Sequence[tuple[Dish, Decimal]], *, whole: bool) -> tuple[tuple[Headline, ...], dict[str, Any]]:
    if not timed:
        return (), {}
    span_s = float(sum(minutes for _, minutes in timed)) * 60
    at_least = not whole or any(_open(dish) for dish, _ in timed)
    estimated = any(dish.prepared is not None and standing_of(dish.prepared) != "measured" for dish, _ in timed)
    span = about_minutes(span_s, at_least=at_least) if estimated or at_least else format_minutes(span_s)
    value, _, unit = (sentence(ENGLISH, "at_least", figure=span) if at_least else span).rpartition("\u00a0")
    said = sentence(ENGLISH, "together_minutes_about" if estimated and not at_least else "together_minutes")
    headline = Headline("minutes", value, unit, said, standing="estimated" if estimated else "", order=30)
    return (headline,), {"total_min": {**_between(span_s / 60, span_s / 60, at_least=at_least), "about": estimated}}


def _charges(dishes: Sequence[Dish], kit: Mapping[str, Any]) -> tuple[Answer | None, tuple[str, ...]]:
    """Return what the reader's battery, or the first battery that one was measured on, gives for all; none without a battery."""
    drawn = _drawn(dishes, kit)
    said = _verdicts(dishes, drawn, kit)
    supply = next((draw.supply for draw in drawn if draw is not None and draw.share_pct is not None), None)
    if supply is None:
        return (Answer(said, sound=not said, kit=kit_name(kit)) if said else None), ()
    shares = [_share(dish, draw) for dish, draw in zip(dishes, drawn, strict=True)]
    found = charges_for(shares, supply.reserve_pct)
    words = charges_words(found, supply, [dish.title for dish in dishes], ENGLISH)
    said_of = [_share_words(dish, draw) for dish, draw in zip(dishes, drawn, strict=True)]
    told = [served_words(served, share, ENGLISH) for served, share in zip(found.served, said_of, strict=True)]
    fails = any(draw is not None and draw.supply.verdict.word == "no" for draw in drawn)
    return Answer((*said, *words) if fails else (*words, *said), sound=not fails, kit=kit_name(kit)), tuple(told)


def _drawn(dishes: Sequence[Dish], kit: Mapping[str, Any]) -> list[Draw | None]:
    """Return what each draws from the one battery that is asked about; where there is none, from its own source."""
    meals: list[MealEnergy | None] = [dish.prepared for dish in dishes]
    chosen = None if kit.get("battery_wh") else _battery(meals)
    return [
        None if meal is None else meal.draw if chosen in (None, meal.facts.source) else meal.from_source(chosen) for meal in meals
    ]


def _battery(meals: Sequence[MealEnergy | None]) -> SourceFacts | None:
    return next((meal.facts.source for meal in meals if meal is not None and meal.facts.source.capacity_wh), None)


def _share_words(dish: Dish, draw: Draw | None) -> str:
    if draw is None or draw.battery_wh is None:
        return ""
    return sure_share(dish.prepared, draw.share_pct, ENGLISH) if draw.share_pct else format_percent(0)


def _share(dish: Dish, draw: Draw | None) -> Share:
    if draw is None or draw.share_pct is None:
        return (0.0, 0.0) if draw is not None and draw.battery_wh is not None else None
    return draw.share_pct.low, None if _open(dish) else draw.share_pct.high


def _verdicts(dishes: Sequence[Dish], drawn: Sequence[Draw | None], kit: Mapping[str, Any]) -> tuple[str, ...]:
    """Return which recipes the source does not run, or only just, each once."""
    told: dict[str, None] = {}
    for dish, draw in zip(dishes, drawn, strict=True):
        if draw is None:
            continue
        verdict = dish.prepared.draw.supply.verdict if kit.get("inverter_w") else draw.supply.verdict
        words = verdict_words(verdict, ENGLISH)
        if verdict.word in _UNSOUND:
            told[sentence(ENGLISH, "meal_verdict", title=dish.title, verdict=words)] = None
        elif verdict.word == "unknown":
            told[words] = None
    return tuple(told)
