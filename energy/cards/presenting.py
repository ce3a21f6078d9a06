"""From the energy card's facts to what its templates show, for a number of servings and a reader's kit. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from energy import charts
from energy.cards.means import OtherMeans, elsewhere_words, on_your_cooker, other_means
from energy.cards.source_lines import SourceLine, losses_words, print_line, source_line
from energy.domain.answers import beside_another, putting_it_back, turned_down
from energy.domain.facts import ApplianceFacts, EnergyFacts, SourceFacts, StageEnergy, TariffFacts
from energy.domain.kinds import APPLIANCE_KINDS
from energy.domain.meal import MealEnergy, circumstances_of, meal_energy
from energy.domain.sources import hours_of
from energy.domain.tariffs import format_price
from energy.domain.words import (
    about_minutes,
    about_wh,
    drawn_wh,
    format_minutes,
    format_peak,
    format_range_wh,
    format_watts,
    format_wh,
    measured_words,
    uncertainty_step,
)
from energy.domain.working import Working, boiling_words, working
from kitchen.cards import CardRequest
from kitchen.domain.money import format_money, places_of, round_half_up
from kitchen.domain.stages import STAGE_KINDS

_LAPTOP_W = 100.0
_LAPTOP_STEPS_MIN = (600, 60, 30, 10, 5)
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
class EnergyShown:
    """Everything that the card's templates show. Words are whole; drawings are geometry."""

    standing: str
    badge: str
    total: str
    per_serving: str
    strip: charts.Strip | None
    strip_narrow: charts.Strip | None
    strip_paper: charts.Strip | None
    time: charts.Strip | None
    time_narrow: charts.Strip | None
    contrast: str
    ladder: charts.Ladder
    ladder_narrow: charts.Ladder
    stages: tuple[StageLine, ...]
    total_minutes: str
    batches: int
    peak: str
    range_words: str
    how: str
    runs_url: str
    earlier_words: str
    differs: bool
    far_words: str
    laptop_words: str
    source: SourceLine
    others: tuple[SourceLine, ...]
    cost: str
    cost_words: str
    appliance: str
    notes: tuple[str, ...]
    print_line: str
    working: Working | None = None
    sizes: tuple[tuple[str, str, str], ...] = ()
    why_plain: str = ""
    boiling: str = ""
    back: tuple[str, ...] = ()
    turned_down: str = ""
    means: OtherMeans | None = None
    beside: str = ""
    co2: str = ""
    on_yours: str = ""
    elsewhere: tuple[str, ...] = ()


def the_meal(facts: EnergyFacts, request: CardRequest) -> MealEnergy:
    """Return the meal that was asked for, from the recipe's own source or the reader's kit."""
    return _meal_for(facts, request, request.kit)


def shown(facts: EnergyFacts, request: CardRequest) -> EnergyShown:
    """Return what the card's templates show."""
    meal = the_meal(facts, request)
    source = source_line(facts.source, meal)
    step_wh = max(1.0, uncertainty_step(meal.uncertainty_wh)) if meal.uncertainty_wh > 0 else 1.0
    together = _of_all_batches(meal)
    climbed = meal.stages * meal.batches
    others = tuple(source_line(other, _meal_from(facts, other, request)) for other in facts.other_sources)
    return EnergyShown(
        standing=standing_of(facts, meal),
        badge=_badge(facts, meal),
        total=format_wh(meal.load_wh, meal.uncertainty_wh),
        per_serving=format_wh(meal.per_serving_wh, meal.per_serving_uncertainty_wh),
        strip=charts.strip(together, step_wh=step_wh),
        strip_narrow=charts.strip(together, narrow=True, step_wh=step_wh),
        strip_paper=charts.strip(together, paper=True, step_wh=step_wh),
        time=charts.strip(together, by="minutes"),
        time_narrow=charts.strip(together, narrow=True, by="minutes"),
        contrast=charts.what_costs_what(together),
        ladder=charts.ladder(meal.ladder, climbed, step_wh=step_wh),
        ladder_narrow=charts.ladder(meal.ladder, climbed, narrow=True, step_wh=step_wh),
        stages=_stage_lines(meal),
        total_minutes=minutes_words(meal, meal.total_s),
        batches=meal.batches,
        peak=format_peak(facts.peak_w, facts.peak_seen),
        range_words=_range_words(facts, meal),
        how=_how_words(facts, meal),
        runs_url=f"{request.path}runs/" if request.path else "",
        earlier_words=_earlier_words(facts),
        differs=facts.on_other_food,
        far_words=meal.far_words,
        laptop_words=_laptop_words(meal),
        source=source,
        others=() if meal.own_kit else others,
        cost=_cost(meal),
        cost_words=_cost_words(facts, meal, request.kit),
        appliance=facts.appliance.name,
        notes=meal.notes,
        print_line=print_line(source),
        working=working(meal.balance) if meal.balance else None,
        sizes=_size_rows(facts) if meal.estimate_how == "sizes" else (),
        why_plain=_why_plain(meal, request.kit),
        boiling=boiling_words(meal.balance) if meal.balance else "",
        back=putting_it_back(facts, meal, request.kit),
        turned_down=turned_down(facts, meal, request.kit),
        means=other_means(facts, meal),
        co2=_co2_words(facts, meal),
        on_yours=on_your_cooker(facts, meal, str(request.kit.get("cooker", ""))),
        elsewhere=elsewhere_words(facts),
        beside=beside_another(facts, request.kit),
    )


def _why_plain(meal: MealEnergy, kit: Mapping[str, Any]) -> str:
    """Return why no heat balance stands behind a figure that asks for one; empty where one does, or none is needed."""
    if not meal.estimate_why:
        return ""
    if circumstances_of(kit).said:
        return f"What your height and cold change cannot be said. {meal.estimate_why}"
    return f"Plain proportion, since no heat balance can be made. {meal.estimate_why}"


def _size_rows(facts: EnergyFacts) -> tuple[tuple[str, str, str], ...]:
    return tuple(
        (f"for {size.servings}", format_wh(size.energy_wh, size.uncertainty_wh), measured_words(size.runs))
        for size in facts.sizes
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


def minutes_words(meal: MealEnergy, span_s: float) -> str:
    """Return a span of a meal: as timed, or rounded where it is estimated."""
    return format_minutes(span_s) if meal.standing == "measured" else about_minutes(span_s)


def standing_of(facts: EnergyFacts, meal: MealEnergy) -> str:
    """Return how sure the figures are: what was measured on other food is an estimate for this one."""
    return "estimated" if facts.on_other_food else meal.standing


def _badge(facts: EnergyFacts, meal: MealEnergy) -> str:
    if meal.standing != "measured":
        return "estimated"
    return f"measured on revision {facts.earlier_revision}" if facts.on_other_food else measured_words(facts.counted_runs)


def _meal_from(facts: EnergyFacts, source: SourceFacts, request: CardRequest) -> MealEnergy:
    return _meal_for(replace(facts, source=source), request, {})


def _meal_for(facts: EnergyFacts, request: CardRequest, kit: Mapping[str, Any]) -> MealEnergy:
    return meal_energy(facts, request.servings, kit, currency=request.currency, portion=request.portion, batches=request.batches)


def _of_all_batches(meal: MealEnergy) -> tuple[StageEnergy, ...]:
    """Return each stage with what it takes in all batches together."""
    n = meal.batches
    return tuple(
        replace(stage, energy_wh=n * stage.energy_wh, span_s=n * stage.span_s, uncertainty_wh=n * stage.uncertainty_wh)
        for stage in meal.stages
    )


def _stage_lines(meal: MealEnergy) -> tuple[StageLine, ...]:
    return tuple(
        StageLine(
            name=stage.label or STAGE_KINDS[stage.kind].label,
            minutes=minutes_words(meal, stage.span_s),
            energy=drawn_wh(stage.energy_wh, stage.uncertainty_wh),
            mean=format_watts(stage.mean_w),
            peak="" if stage.peak_w is None else format_watts(stage.peak_w),
            cycling=stage.cycling,
        )
        for stage in _of_all_batches(meal)
    )


def _range_words(facts: EnergyFacts, meal: MealEnergy) -> str:
    """Return what the next cook may need; one run does not tell how much cooks differ."""
    spread = format_range_wh(meal.low_wh, meal.high_wh)
    if facts.counted_runs == 1:
        unknown = "how much one cook differs from the next is not known yet"
        return (
            f"Cooked with a meter only once: {unknown}." if meal.standing == "measured" else f"It may need {spread}; {unknown}."
        )
    return f"{'The next cook' if meal.standing == 'measured' else 'It'} may need {spread}."


def _how_words(facts: EnergyFacts, meal: MealEnergy) -> str:
    if meal.standing != "measured":
        return f"{meal.standing_words[:1].upper()}{meal.standing_words[1:]}."
    counted = [run for run in facts.runs if run.counts]
    methods = {run.method for run in counted}
    if methods == {"watts"}:
        return f"Added up from the watts that the meter showed. {_socket_words(facts)}".strip()
    if methods == {"charge"}:
        return f"Worked out from the fall of the battery’s charge. {_socket_words(facts)}".strip()
    if methods != {"counter"}:
        return "Measured in more than one way."
    if len({run.meter for run in counted}) > 1:
        return "Counters of more than one meter."
    steps = f"{facts.meter.resolution_wh:g}\u00a0Wh steps"
    if facts.meter.place == "socket":
        return f"Counter at the socket, {steps}."
    return f"Counter on the battery’s display, {steps}. {_socket_words(facts)}"


def _socket_words(facts: EnergyFacts) -> str:
    """Return how an energy out of the battery became one at the socket; empty where it was measured there."""
    if facts.meter.place == "socket" and not any(run.counts and run.method == "charge" for run in facts.runs):
        return ""
    losses = losses_words(facts.source)
    return f"What reached the socket is worked out from there: {losses[:1].lower()}{losses[1:]}"


def _earlier_words(facts: EnergyFacts) -> str:
    if facts.earlier_revision is None:
        return ""
    if facts.changed_since is None:
        return f"Measured on revision {facts.earlier_revision}; the recipe has changed since."
    if not facts.changed_since:
        return f"Measured on revision {facts.earlier_revision}, which has the same food, liquid and stages as this one."
    return f"Measured on revision {facts.earlier_revision}; since then {facts.changed_since}."


def _laptop_words(meal: MealEnergy) -> str:
    """Return the comparison with a laptop, its time no finer than the energy is known."""
    minutes = hours_of(meal.load_wh, _LAPTOP_W) * 60
    unsure_min = hours_of(meal.uncertainty_wh, _LAPTOP_W) * 60
    step_min = next((step for step in _LAPTOP_STEPS_MIN if step <= unsure_min), 1)
    span = format_minutes(max(round(minutes / step_min), 1) * step_min * 60)
    return f"About what a {format_watts(_LAPTOP_W)} laptop uses in {span}."


def _cost(meal: MealEnergy) -> str:
    """Return the cost; one that rounds to nothing but is not nothing is said to be less than the smallest coin."""
    if meal.electricity_cost is None:
        return ""
    places = places_of(meal.currency)
    if meal.electricity_cost and not round_half_up(meal.electricity_cost, places):
        return f"under {format_money(Fraction(1, 10**places), meal.currency)}"
    return format_money(meal.electricity_cost, meal.currency)


def _tariff_words(tariff: TariffFacts) -> str:
    return f"{tariff.name}, {tariff.words}" if tariff.words else tariff.name


def _co2_words(facts: EnergyFacts, meal: MealEnergy) -> str:
    """Return the CO2 of what it takes at the wall, only where the owner gave a figure for a kilowatt-hour."""
    if facts.tariff is None or facts.tariff.co2_g_per_kwh is None:
        return ""
    grams = facts.tariff.co2_g_per_kwh * meal.wall_wh / 1000
    whose = f", {facts.tariff.co2_source}" if facts.tariff.co2_source else ""
    rounded = round(grams, -1) if grams >= 100 else round(grams)
    return f"About {rounded:.0f}\u00a0g of CO₂ ({facts.tariff.co2_g_per_kwh:g}\u00a0g for a kilowatt-hour{whose})."


def _cost_words(facts: EnergyFacts, meal: MealEnergy, kit: Mapping[str, Any]) -> str:
    if meal.price_per_kwh is None:
        return f"What its electricity costs is not known: {facts.no_price}." if facts.no_price else ""
    price = f"{format_price(meal.price_per_kwh, meal.currency)} a kilowatt-hour"
    own = kit.get("price_per_kwh") is not None
    whose = f"your {price}" if own else f"{price} ({_tariff_words(facts.tariff)})" if facts.tariff else price
    wall = about_wh(meal.wall_wh, meal.wall_uncertainty_wh)
    return f"{'About ' if meal.standing == 'estimated' else ''}{wall} from the wall at {whose}."
