"""The large figures that the energy card contributes, and the numbers that the library sorts by."""

from __future__ import annotations

from decimal import Decimal
from math import floor

from energy.cards.presenting import minutes_words, standing_of
from energy.cards.source_lines import source_line
from energy.estimates.domain.drawn import draw_from
from energy.estimates.domain.meal import MealEnergy
from energy.gear.domain.supply import supply_for
from energy.kinds import appliance_kind
from energy.words import ENGLISH, sentence
from energy.words.figure_words import capitalized, peak_figure, times_measured_badge
from energy.words.how_sure import each_words, energy_words, sure_share
from kitchen.cards import Badge, Headline, ShelfFigure

SHELF_FIGURES = (
    ShelfFigure(
        "energy_per_serving_wh",
        sentence(ENGLISH, "least_energy"),
        sentence(ENGLISH, "most_energy"),
        "wh",
        "Wh",
        order=10,
        sort_order=10,
    ),
    ShelfFigure("peak_w", sentence(ENGLISH, "lowest_peak"), sentence(ENGLISH, "most_peak"), "w", "W", order=20, sort_order=40),
)
_MINUTES_IN_HOUR, _TWO = 60, 2
_LABEL_WH = 1000.0


def kind_words(key: str) -> str:
    """Return what a kind of cooker is called."""
    return appliance_kind(key).label


def energy_badge(meal: MealEnergy) -> Badge:
    """Return how often it was measured ("measured twice"), or that it is an estimate."""
    standing = standing_of(meal)
    measured = standing == "measured"
    return Badge(standing, times_measured_badge(meal.facts.counted_runs, ENGLISH) if measured else sentence(ENGLISH, "estimated"))


def energy_headlines(meal: MealEnergy) -> list[Headline]:
    """Return energy a serving, the peak (where it is known) and the minutes."""
    facts, standing = meal.facts, standing_of(meal)
    total = _without_unit(energy_words(meal, ENGLISH), "Wh")
    each = _without_unit(each_words(meal, ENGLISH), "Wh")
    words = sentence(ENGLISH, "each_of_all" if standing == "measured" else "each_of_all_estimated", total=total)
    brief = sentence(ENGLISH, "brief_each")
    found = [Headline("energy", each, "Wh", words, "energy", standing, "energy", 10, brief, _share_words(meal))]
    if facts.peak_w is not None:
        peak = _without_unit(peak_figure(facts.peak_w, facts.peak_seen), "W")
        words = sentence(ENGLISH, "at_peak" if facts.peak_seen else "at_peak_or_more")
        brief = sentence(ENGLISH, "brief_peak" if facts.peak_seen else "brief_peak_or_more")
        found.append(Headline("peak", peak, "W", words, "energy", "measured", "energy", 20, brief))
    return [*found, _minutes_headline(meal, standing)]


def _share_words(meal: MealEnergy) -> str:
    """Return what a meal takes of one charge and why it is more than at the socket; empty without a battery."""
    line = source_line(meal.facts.source, meal.draw, meal)
    if not line.share:
        return ""
    return capitalized(sentence(ENGLISH, "share_below", share=line.share, capacity=line.capacity, drawn=line.drawn))


def energy_figures(meal: MealEnergy) -> dict[str, Decimal | None]:
    """Return the numbers for filters and sorts; None for what is the least of more, so that it passes no limit.

    ``own_battery_wh`` is the most that it may take out of a reader's battery of the usual kind, for "fits my kit". A peak that no
    display showed is that of the cooker's plate.
    """
    facts, made = meal.facts, meal.estimate
    known: dict[str, float | None] = {
        "energy_per_serving_wh": meal.per_serving_wh,
        "energy_wh": made.energy_wh,
        "total_min": made.total_s / 60,
        "cooking_min": made.cooking_s / 60,
        "own_battery_wh": _most_of_a_battery_wh(meal),
    }
    if made.at_least:
        known = dict.fromkeys(known)
    found = {"runs": float(facts.counted_runs), "peak_w": facts.highest_w, **known}
    return {name: None if value is None else Decimal(str(round(value, 4))) for name, value in found.items()}


def _most_of_a_battery_wh(meal: MealEnergy) -> float:
    """Return the most that it may take out of a reader's battery, as its label counts. [Wh]"""
    share_pct = draw_from(supply_for(meal.facts, {"battery_wh": _LABEL_WH}), meal.estimate).share_pct
    return share_pct.high * _LABEL_WH / 100 if share_pct else 0.0


def _minutes_headline(meal: MealEnergy, standing: str) -> Headline:
    value, unit = _in_minutes(meal)
    cooking, attended = meal.estimate.cooking_s, meal.estimate.attended_s
    words = sentence(
        ENGLISH,
        "cooking_and_attended" if standing == "measured" else "cooking_and_attended_estimated",
        cooking=minutes_words(meal, cooking),
        attended=minutes_words(meal, attended) if attended >= 30 else sentence(ENGLISH, "not_attended"),
    )
    return Headline("minutes", value, unit, words, "plain", standing, "energy", 30, sentence(ENGLISH, "brief_in_all"))


def energy_briefs(meal: MealEnergy) -> dict[str, tuple[str, ...]]:
    """Return what stands beneath the large figures on paper, where that is more than on the shelf."""
    found = {"energy": (sentence(ENGLISH, "brief_each"), _share_brief(meal)), "minutes": _minutes_brief(meal)}
    return {key: tuple(filter(None, lines)) for key, lines in found.items()}


def _minutes_brief(meal: MealEnergy) -> tuple[str, ...]:
    many = "for_batches_brief" if meal.batches > _TWO else "for_two_brief" if meal.batches == _TWO else "brief_in_all"
    whole, attended_s = sentence(ENGLISH, many, batches=meal.batches), meal.estimate.attended_s
    whole = whole if standing_of(meal) == "measured" else sentence(ENGLISH, "about_brief", whole=whole)
    return whole, sentence(ENGLISH, "hands_on_brief", attended=minutes_words(meal, attended_s)) if attended_s >= 30 else ""


def _share_brief(meal: MealEnergy) -> str:
    """Return what the meal takes of one charge; empty without a battery."""
    share_pct = meal.draw.share_pct
    return "" if share_pct is None else sentence(ENGLISH, "share_of", share=sure_share(meal, share_pct, ENGLISH))


def _in_minutes(meal: MealEnergy) -> tuple[str, str]:
    """Return the time in all and its unit: minutes below an hour, hours and minutes from there on, as the words beside it."""
    minutes = floor(meal.estimate.total_s / 60 + 0.5)
    if minutes < _MINUTES_IN_HOUR and not meal.estimate.at_least:
        return f"{minutes}", "min"
    value, _, unit = minutes_words(meal, meal.estimate.total_s).rpartition("\u00a0")
    return value, unit


def _without_unit(words: str, unit: str) -> str:
    return words.removesuffix(f"\u00a0{unit}")
