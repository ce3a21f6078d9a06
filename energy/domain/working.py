"""How an estimate was worked out, as rows for a table: what was measured, what was assumed, what is published."""

from __future__ import annotations

from dataclasses import dataclass

from energy.domain.circumstances import Circumstances, conditions
from energy.domain.estimating import Balance
from energy.domain.words import format_wh

MEASURED, ASSUMED, PUBLISHED, WORKED_OUT = "measured", "assumed", "published", "worked out"


@dataclass(frozen=True)
class WorkingRow:
    """One row: what it is, in the measured cook, now, and where it comes from. ``standing`` is one of the four words above."""

    words: str
    then: str
    now: str
    standing: str
    source: str


@dataclass(frozen=True)
class Working:
    """The whole account of an estimate by the heat balance.

    ``range_rows`` are the parts of its range (half widths, of all batches); ``left_out`` names food that is not in the balance,
    ``rough`` food whose specific heat is known from its water alone.
    """

    rows: tuple[WorkingRow, ...]
    range_rows: tuple[tuple[str, str], ...]
    foods: tuple[tuple[str, str, str], ...]
    left_out: tuple[str, ...]
    rough: tuple[str, ...]


def working(balance: Balance) -> Working:
    """Return how an estimate was worked out.

    References
    ----------
    Each row names its own: composition and specific heat after Choi and Okos (ASHRAE Handbook, Refrigeration), boiling points
    from IAPWS-IF97 and the ICAO standard atmosphere.
    """
    rows = [*_circumstance_rows(balance), *_heat_rows(balance)]
    return Working(
        rows=tuple(rows),
        range_rows=tuple((share.words, f"± {format_wh(share.half_wh)}") for share in balance.shares if share.half_wh >= 0.5),
        foods=tuple(
            (food.name, f"{food.mass_g:.0f}\u00a0g", f"{food.specific_heat_kj:.2f}\u00a0kJ/(kg K)")
            for food in balance.model.foods
        ),
        left_out=balance.model.left_out,
        rough=balance.model.rough,
    )


def _circumstance_rows(balance: Balance) -> list[WorkingRow]:
    """Return how much food it is, how cold, and how hot it gets."""
    model, then, now = balance.model, balance.then, balance.now
    start = "noted by the cook" if model.start_noted else "taken from the air’s temperature"
    return [
        WorkingRow("Food in the pot", "1 ×", f"{balance.k:.2f} ×".replace(".00", ""), MEASURED, "the recipe’s weights"),
        WorkingRow(
            "Food at the start",
            _c(then.food_start_c),
            _c(now.food_start_c),
            MEASURED if model.start_noted else ASSUMED,
            start,
        ),
        WorkingRow("Air", _c(then.ambient_c), _c(now.ambient_c), MEASURED, "noted by the cook, or yours"),
        WorkingRow("Hot at", _c(then.end_c), _c(now.end_c), PUBLISHED, _hot_source(balance)),
    ]


def _heat_rows(balance: Balance) -> list[WorkingRow]:
    """Return the heats, and the energy up to the boil that follows from them."""
    model = balance.model
    rows = [
        WorkingRow(
            "Heat the food takes",
            format_wh(balance.food_then_wh),
            format_wh(balance.food_now_wh),
            PUBLISHED,
            "specific heat from composition (Choi and Okos)",
        ),
        WorkingRow(
            "Heat the pot takes",
            format_wh(balance.vessel_then_wh),
            format_wh(balance.vessel_now_wh),
            ASSUMED,
            "its weight and material, ± 30 %",
        ),
        WorkingRow(
            "Energy for each Wh of heat", f"{model.phi:.2f}", f"{model.phi:.2f}", MEASURED, "up to the boil, on this cooker"
        ),
        WorkingRow(
            "Up to the boil, each batch" if balance.batches > 1 else "Up to the boil",
            format_wh(balance.heating_then_wh),
            format_wh(balance.heating_now_wh),
            WORKED_OUT,
            "the pot is hot for a later batch" if balance.batches > 1 else "the three lines above",
        ),
    ]
    if balance.minutes_factor != 1:
        percent = f"{(balance.minutes_factor - 1) * 100:+.0f} %".replace("-", "−")
        rows.append(WorkingRow("Minutes under pressure", "", percent, PUBLISHED, "5 % for each 305 m above 610 m (manuals)"))
    return rows


def boiling_words(balance: Balance) -> str:
    """Return at what temperature it boils where the reader cooks higher than the cook did; empty elsewhere."""
    usual = conditions(balance.model, Circumstances())
    if not balance.model.boils or abs(balance.now.end_c - usual.end_c) < 0.5:
        return ""
    return f"At {balance.now.altitude_m:,.0f}\u00a0m it boils at {_c(balance.now.end_c)} instead of {_c(usual.end_c)}."


def _hot_source(balance: Balance) -> str:
    if not balance.model.boils:
        return "the method’s own temperature"
    pressed = f", {balance.model.pressure_kpa:.0f}\u00a0kPa above the air" if balance.model.pressure_kpa else ""
    return f"water at {balance.now.altitude_m:,.0f}\u00a0m{pressed} (IAPWS-IF97, standard atmosphere)"


def _c(temp_c: float) -> str:
    return f"{temp_c:.0f}\u00a0°C".replace("-", "−")
