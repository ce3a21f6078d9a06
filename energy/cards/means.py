"""The same dish by other means, in words for the card; the ways and their sources stand in one readable file."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import energy.domain
from energy.domain.facts import EnergyFacts
from energy.domain.kinds import APPLIANCE_KINDS
from energy.domain.meal import MealEnergy
from energy.domain.means import FUEL_CAUTION, FUEL_CAUTION_SOURCE, Fuel, Means, Spent, by_other_means, share_of_a_day
from energy.domain.words import format_percent, format_range_wh, format_wh, measured_words

_FILE = Path(energy.domain.__file__).with_name("means.toml")


@dataclass(frozen=True)
class MeansRow:
    """One way in words: what it would spend, and where its efficiency is from."""

    label: str
    spent: str
    efficiency: str
    source: str


def on_your_cooker(facts: EnergyFacts, meal: MealEnergy, kind: str) -> str:
    """Return what the reader's kind of cooker would take up to the boil, by a published band, or why that is not known."""
    if not kind or kind == facts.appliance.kind:
        return ""
    words = dict(APPLIANCE_KINDS).get(kind, kind)
    k = meal.balance.k * meal.batches if meal.balance else 1.0
    spent = by_other_means(facts.heat, [one for one in all_means() if kind in one.kinds], k=k, appliance_kind="")
    if not spent:
        why = facts.heat.why_not if facts.heat is not None else ""
        return f"What it takes on your {words} is not known. {why or 'No published figure for that kind is kept.'}"
    one = spent[0]
    band = f"{one.means.low * 100:.0f} to {one.means.high * 100:.0f}\u00a0% reaches the pot ({one.means.source})"
    takes = format_range_wh(one.low_wh, one.high_wh)
    return f"On your {words} it takes {takes} up to the boil, estimated: {band}. Holding it is not in that."


def elsewhere_words(facts: EnergyFacts) -> tuple[str, ...]:
    """Return what the same recipe took on other cookers of the kitchen, a sentence each."""
    return tuple(
        f"On {one.appliance}: {format_wh(one.energy_wh, one.uncertainty_wh)} for {one.servings}, {measured_words(one.runs)}."
        for one in facts.elsewhere
    )


@dataclass(frozen=True)
class OtherMeans:
    """The comparison as the card shows it; ``caution`` stands wherever something is burnt."""

    rows: tuple[MeansRow, ...]
    ours: str
    caution: str
    caution_source: str
    day: str


def other_means(facts: EnergyFacts, meal: MealEnergy) -> OtherMeans | None:
    """Return what other means would spend up to the boil; None where no heat balance says how much heat the pot needs."""
    k = meal.balance.k * meal.batches if meal.balance else 1.0
    spent = by_other_means(facts.heat, all_means(), k=k, appliance_kind=facts.appliance.kind)
    if not spent or facts.heat is None:
        return None
    until_wh = sum(stage.energy_wh for stage in meal.stages[: facts.heat.until]) * meal.batches
    return OtherMeans(
        rows=tuple(_row(one) for one in spent),
        ours=format_range_wh(until_wh, until_wh),
        caution=FUEL_CAUTION,
        caution_source=FUEL_CAUTION_SOURCE,
        day=f"All of it is {format_percent(share_of_a_day(meal.load_wh))} of what a typical British home uses in a day.",
    )


@cache
def all_means() -> tuple[Means, ...]:
    """Return the ways of the file in its order, read once."""
    held = tomllib.loads(_FILE.read_text(encoding="utf-8"))
    fuels = {fuel["key"]: Fuel(**fuel) for fuel in held["fuels"]}
    return tuple(_means(row, fuels) for row in held["means"])


def _means(row: dict[str, Any], fuels: dict[str, Fuel]) -> Means:
    fuel = fuels[row["fuel"]] if "fuel" in row else None
    return Means(row["key"], row["label"], row["low"], row["high"], row["source"], tuple(row.get("kinds", ())), fuel)


def _row(one: Spent) -> MeansRow:
    means = one.means
    spent = format_range_wh(one.low_wh, one.high_wh)
    source = means.source
    if means.fuel is not None and one.low_g is not None and one.high_g is not None:
        spent = f"{one.low_g:.0f} to {one.high_g:.0f}\u00a0g"
        source = f"{source}; {means.fuel.mj_per_kg:g}\u00a0MJ/kg ({means.fuel.basis})"
    band = f"{means.low * 100:.0f} to {means.high * 100:.0f}\u00a0%"
    return MeansRow(means.label, spent, band, source)
