"""From the energy card's facts to what its templates show, for a number of servings and a reader's kit. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from energy import charts
from energy.domain.facts import ApplianceFacts, EnergyFacts, SourceFacts
from energy.domain.kinds import APPLIANCE_KINDS, SOURCE_KINDS
from energy.domain.meal import MealEnergy, meal_energy
from energy.domain.sources import Verdict, hours_of
from energy.domain.tariffs import format_price
from energy.domain.words import (
    format_minutes,
    format_percent,
    format_range_wh,
    format_watts,
    format_wh,
    measured_words,
)
from kitchen.cards import CardRequest
from kitchen.domain.money import format_money
from kitchen.domain.stages import STAGE_KINDS

_LAPTOP_W = 100.0
_GAUGE_CELLS = 10
_SMALLEST_COST = Fraction(1, 100)
_FLAT = ("induction_plate", "griddle")


@dataclass(frozen=True)
class StageLine:
    """One stage of the table in words."""

    name: str
    minutes: str
    energy: str
    mean: str
    peak: str
    cycling: bool


@dataclass(frozen=True)
class SourceLine:
    """One source's answer in words; ``cells`` are the gauge's, each ``used``, ``spare`` or empty."""

    name: str
    kind: str
    share: str
    capacity: str
    meals: str
    reserve: str
    verdict: Verdict | None
    losses: str
    drawn: str
    cells: tuple[str, ...]
    own_kit: bool = False


@dataclass(frozen=True)
class EnergyShown:
    """Everything that the card's templates show. Words are whole; drawings are geometry."""

    standing: str
    badge: str
    total: str
    per_serving: str
    strip: charts.Strip | None
    strip_narrow: charts.Strip | None
    strip_paper: charts.Strip | None
    ladder: charts.Ladder
    ladder_narrow: charts.Ladder
    stages: tuple[StageLine, ...]
    total_minutes: str
    peak: str
    range_words: str
    how: str
    runs_url: str
    earlier_words: str
    far_words: str
    laptop_words: str
    source: SourceLine
    others: tuple[SourceLine, ...]
    cost: str
    cost_words: str
    appliance: str
    notes: tuple[str, ...]
    print_line: str


def the_meal(facts: EnergyFacts, request: CardRequest) -> MealEnergy:
    """Return the meal that was asked for, from the recipe's own source or the reader's kit."""
    return meal_energy(facts, request.servings, request.kit, currency=request.currency)


def shown(facts: EnergyFacts, request: CardRequest) -> EnergyShown:
    """Return what the card's templates show."""
    meal = the_meal(facts, request)
    source = _source_line(facts.source, meal)
    others = tuple(_source_line(other, _meal_from(facts, other, request)) for other in facts.other_sources)
    return EnergyShown(
        standing=meal.standing,
        badge=measured_words(facts.counted_runs) if meal.standing == "measured" else "estimated",
        total=format_wh(meal.load_wh, meal.uncertainty_wh),
        per_serving=format_wh(meal.per_serving_wh, meal.per_serving_uncertainty_wh),
        strip=charts.strip(meal.stages),
        strip_narrow=charts.strip(meal.stages, narrow=True),
        strip_paper=charts.strip(meal.stages, paper=True),
        ladder=charts.ladder(meal.ladder, meal.stages),
        ladder_narrow=charts.ladder(meal.ladder, meal.stages, narrow=True),
        stages=_stage_lines(meal),
        total_minutes=format_minutes(meal.total_s),
        peak=peak_words(facts),
        range_words=_range_words(meal),
        how=_how_words(facts, meal),
        runs_url=f"{request.path}runs/" if request.path else "",
        earlier_words=_earlier_words(facts),
        far_words=meal.far_words,
        laptop_words=_laptop_words(meal),
        source=source,
        others=() if meal.own_kit else others,
        cost=_cost(meal),
        cost_words=_cost_words(facts, meal, request.kit),
        appliance=facts.appliance.name,
        notes=meal.notes,
        print_line=_print_line(source),
    )


def cooked_in(appliance: ApplianceFacts) -> str:
    """Return what it was cooked in: "in a 4 L pressure cooker", "on an induction plate".

    Examples
    --------
    >>> cooked_in(ApplianceFacts("Big pot", "pressure_cooker", 700, 4.0)).replace(chr(160), " ")
    'in a 4 L pressure cooker'
    >>> cooked_in(ApplianceFacts("Ring", "induction_plate", 1300))
    'on an induction plate'
    """
    kind = dict(APPLIANCE_KINDS).get(appliance.kind, appliance.kind)
    if appliance.kind in _FLAT:
        return f"on {'an' if kind[0] in 'aeiou' else 'a'} {kind}"
    size = f"{appliance.capacity_l:g}\u00a0L " if appliance.capacity_l else ""
    words = f"{size}{kind}"
    return f"in {'an' if words[0] in 'aeiou8' else 'a'} {words}"


def peak_words(facts: EnergyFacts) -> str:
    """Return the highest watts in words: at least so much where only the counter tells it; empty where nothing does."""
    if facts.peak_w is None:
        return ""
    return format_watts(facts.peak_w) if facts.peak_seen else f"at least {format_watts(facts.peak_w)}"


def _meal_from(facts: EnergyFacts, source: SourceFacts, request: CardRequest) -> MealEnergy:
    return meal_energy(replace(facts, source=source), request.servings, {}, currency=request.currency)


def _stage_lines(meal: MealEnergy) -> tuple[StageLine, ...]:
    return tuple(
        StageLine(
            name=stage.label or STAGE_KINDS[stage.kind].label,
            minutes=format_minutes(stage.span_s),
            energy=format_wh(stage.energy_wh, stage.uncertainty_wh),
            mean=format_watts(stage.mean_w),
            peak="" if stage.peak_w is None else format_watts(stage.peak_w),
            cycling=stage.cycling,
        )
        for stage in meal.stages
    )


def _range_words(meal: MealEnergy) -> str:
    whose = "The next cook may need" if meal.standing == "measured" else "It may need"
    return f"{whose} {format_range_wh(meal.low_wh, meal.high_wh)}."


def _how_words(facts: EnergyFacts, meal: MealEnergy) -> str:
    if meal.standing != "measured":
        return f"{meal.standing_words[:1].upper()}{meal.standing_words[1:]}."
    methods = {run.method for run in facts.runs if run.counts}
    if methods == {"counter"}:
        place = "at the socket" if facts.meter.place == "socket" else "on the battery’s display"
        return f"Counter {place}, {facts.meter.resolution_wh:g}\u00a0Wh steps."
    if methods == {"watts"}:
        return "Added up from the watts that the meter showed."
    if methods == {"charge"}:
        return "Worked out from the fall of the battery’s charge."
    return "Measured in more than one way."


def _earlier_words(facts: EnergyFacts) -> str:
    if facts.earlier_revision is None:
        return ""
    return f"Measured on revision {facts.earlier_revision}; the recipe has changed since."


def _laptop_words(meal: MealEnergy) -> str:
    return f"About what a {format_watts(_LAPTOP_W)} laptop uses in {format_minutes(hours_of(meal.load_wh, _LAPTOP_W) * 3600)}."


def _source_line(source: SourceFacts, meal: MealEnergy) -> SourceLine:
    battery = meal.share_pct is not None
    return SourceLine(
        name=meal.source_name,
        kind="your kit" if meal.own_kit else dict(SOURCE_KINDS).get(source.kind, source.kind),
        share=format_percent(meal.share_pct) if meal.share_pct is not None else "",
        capacity=format_wh(meal.capacity_wh) if meal.capacity_wh else "",
        meals=_pots(meal.meals_per_charge),
        reserve=f"with {format_percent(meal.reserve_pct)} kept in reserve" if battery and meal.reserve_pct else "",
        verdict=meal.verdict,
        losses=_losses(source) if battery and not meal.own_kit else "",
        drawn=format_wh(meal.battery_wh) if meal.battery_wh is not None else "",
        cells=gauge(meal.share_pct, meal.reserve_pct) if meal.share_pct is not None else (),
        own_kit=meal.own_kit,
    )


def _pots(meals: int | None) -> str:
    if meals is None:
        return ""
    return {0: "not one pot", 1: "1 pot"}.get(meals, f"{meals:,} pots")


def _losses(source: SourceFacts) -> str:
    idle = f", idle {format_watts(source.idle_w)}" if source.idle_w else ""
    return f"Inverter {format_percent(source.inverter_efficiency * 100)}{idle}."


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


def _cost(meal: MealEnergy) -> str:
    if meal.electricity_cost is None:
        return ""
    below_a_cent = 0 < meal.electricity_cost < _SMALLEST_COST
    return format_money(meal.electricity_cost, meal.currency, places=4 if below_a_cent else None)


def _cost_words(facts: EnergyFacts, meal: MealEnergy, kit: Mapping[str, Any]) -> str:
    if meal.price_per_kwh is None:
        return ""
    price = f"{format_price(meal.price_per_kwh, meal.currency)} a kilowatt-hour"
    own = kit.get("price_per_kwh") is not None
    whose = f"your {price}" if own else f"{price} ({facts.tariff.name})" if facts.tariff else price
    return f"{format_wh(meal.wall_wh)} from the wall at {whose}."


def _print_line(source: SourceLine) -> str:
    parts = []
    if source.share:
        parts.append(f"{source.share} of {source.capacity}, {source.meals} a charge.")
    if source.verdict is not None:
        parts.append(source.verdict.words)
    return " ".join(parts)
