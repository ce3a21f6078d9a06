"""The same dish by other means, in words for the card; the ways and their sources stand in one readable file."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import energy.estimates.domain
from energy.estimates.domain.drawn import at_the_socket
from energy.estimates.domain.meal import MealEnergy
from energy.estimates.domain.means import FUEL_CAUTION_SOURCE, Fuel, Means, Spent, by_other_means, share_of_a_day
from energy.facts import EnergyFacts, StageEnergy
from energy.kinds import appliance_kind
from energy.words import ENGLISH, sentence, words_of
from energy.words.figure_words import least_wh, range_wh, times_measured
from energy.words.figures import about_wh, format_wh
from energy.words.how_sure import sure_share

_FILE = Path(energy.estimates.domain.__file__).with_name("means.toml")


@dataclass(frozen=True)
class MeansRow:
    """One way in words: what it would spend, and where its efficiency is from."""

    label: str
    spent: str
    efficiency: str
    source: str


@dataclass(frozen=True)
class OtherMeans:
    """The comparison as the card shows it; ``caution`` stands wherever something is burnt."""

    rows: tuple[MeansRow, ...]
    ours: str
    caution: str
    caution_source: str
    day: str


@dataclass(frozen=True)
class Compared:
    """The same dish on the reader's own kind of cooker, on others of this kitchen, and by other means."""

    on_yours: str
    elsewhere: tuple[str, ...]
    means: OtherMeans | None


def compared(meal: MealEnergy, cooker: str) -> Compared:
    """Return the same dish otherwise; ``cooker`` is the reader's kind of appliance, empty where it is the recipe's."""
    return Compared(_on_your_cooker(meal, cooker), _elsewhere_words(meal.facts), _other_means(meal))


def _on_your_cooker(meal: MealEnergy, kind: str) -> str:
    """Return what the reader's kind of cooker would take up to the boil, by a published band, or why that is not known."""
    facts = meal.facts
    if not kind or kind == facts.appliance.kind:
        return ""
    yours = appliance_kind(kind)
    k = meal.balance.k * meal.batches if meal.balance else 1.0
    spent = by_other_means(facts.heat, [one for one in all_means() if one.key == yours.means], k=k, measured="")
    if not spent:
        why = words_of(facts.heat.why_not, ENGLISH) if facts.heat is not None else ""
        why = why or sentence(ENGLISH, "no_figure_for_kind")
        return sentence(ENGLISH, "on_yours_unknown", cooker=yours.label, why=why)
    one = spent[0]
    takes = range_wh(one.low_wh, one.high_wh, ENGLISH)
    return sentence(ENGLISH, "on_yours", cooker=yours.label, takes=takes, band=_band_words(one.means), source=one.means.source)


def _elsewhere_words(facts: EnergyFacts) -> tuple[str, ...]:
    """Return what the same recipe took on other cookers of the kitchen, a sentence each."""
    return tuple(
        sentence(
            ENGLISH,
            "elsewhere",
            appliance=one.appliance,
            energy=format_wh(one.energy_wh, one.uncertainty_wh),
            servings=one.servings,
            measured=times_measured(one.runs, ENGLISH),
        )
        for one in facts.elsewhere
    )


def _other_means(meal: MealEnergy) -> OtherMeans | None:
    """Return what other means would spend up to the boil; None where that is not known of this cook."""
    facts, spent = meal.facts, spent_otherwise(meal)
    if not spent or facts.heat is None or not facts.heat.until:
        return None
    share = sure_share(meal, at_the_socket(meal.estimate).times(share_of_a_day(1)), ENGLISH)
    return OtherMeans(
        rows=tuple(_spent_row(one) for one in spent),
        ours=_ours(meal, meal.estimate.stages[: facts.heat.until]),
        caution=sentence(ENGLISH, "fuel_caution"),
        caution_source=FUEL_CAUTION_SOURCE,
        day=sentence(ENGLISH, "share_of_a_day", share=share),
    )


def spent_otherwise(meal: MealEnergy) -> Sequence[Spent]:
    """Return what each other way would spend to bring a meal to the boil; empty where that is not known of this cook."""
    k = meal.balance.k * meal.batches if meal.balance else 1.0
    return by_other_means(meal.facts.heat, all_means(), k=k, measured=appliance_kind(meal.facts.appliance.kind).means)


def _ours(meal: MealEnergy, stages: Sequence[StageEnergy]) -> str:
    """Return what this cooker took up to the boil, or would take: an estimate is worded as one."""
    energy_wh, unsure_wh = (sum(getattr(stage, name) for stage in stages) for name in ("energy_wh", "uncertainty_wh"))
    if meal.measured:
        return sentence(ENGLISH, "cooker_took", energy=about_wh(energy_wh, unsure_wh))
    if meal.estimate.at_least:
        return sentence(ENGLISH, "cooker_would_take", energy=least_wh(energy_wh, unsure_wh, ENGLISH))
    return sentence(
        ENGLISH, "cooker_would_take", energy=range_wh(max(energy_wh - unsure_wh, 0.0), energy_wh + unsure_wh, ENGLISH)
    )


@cache
def all_means() -> tuple[Means, ...]:
    """Return the ways of the file in its order, read once."""
    held = tomllib.loads(_FILE.read_text(encoding="utf-8"))
    fuels = {fuel["key"]: Fuel(**fuel) for fuel in held["fuels"]}
    return tuple(_means_of_row(row, fuels) for row in held["means"])


def _means_of_row(row: dict[str, Any], fuels: dict[str, Fuel]) -> Means:
    fuel = fuels[row["fuel"]] if "fuel" in row else None
    return Means(row["key"], row["label"], row["low"], row["high"], row["source"], row.get("water_only", False), fuel)


def _spent_row(one: Spent) -> MeansRow:
    means = one.means
    spent = range_wh(one.low_wh, one.high_wh, ENGLISH)
    source = means.source
    if means.fuel is not None and one.low_g is not None and one.high_g is not None:
        spent = sentence(ENGLISH, "burnt", least_g=one.low_g, most_g=one.high_g)
        fuel = {"mj_per_kg": means.fuel.mj_per_kg, "basis": means.fuel.basis}
        source = sentence(ENGLISH, "fuel_source", source=source, **fuel)
    return MeansRow(means.label, spent, _band_words(means), source)


def _band_words(means: Means) -> str:
    return sentence(ENGLISH, "band", low_pct=means.low * 100, high_pct=means.high * 100)
