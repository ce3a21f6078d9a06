"""How an estimate was worked out, as rows for a table: what was measured, what was assumed, what is published."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from math import hypot

from energy.estimates.domain.accounts import HeatAccount, accounts
from energy.estimates.domain.circumstances import Circumstances, conditions
from energy.estimates.domain.estimating import Balance
from energy.heat.empty_fields import AIR, GAUGE, HEIGHT_M, TAP, Assumed
from energy.words.figures import format_celsius, format_wh
from energy.words.remarks import Language, sentence, words_of

_Say = Callable[..., str]

_NO_WIDTH, _LEAST_WIDTH_WH = "–", 0.5
"""What stands for a part of a range that is too small to say."""

MEASURED, ASSUMED, PUBLISHED = "measured", "assumed", "published"

_DEFAULTS: dict[str, Assumed] = {"food_start": TAP, "air": AIR, "gauge_pressure": GAUGE, "height": HEIGHT_M}


@dataclass(frozen=True)
class WorkingRow:
    """One row: what it is, in the measured cook, now, and where it comes from. ``standing`` is one of the three words above."""

    words: str
    then: str
    now: str
    standing: str
    source: str


@dataclass(frozen=True)
class EndRow:
    """One end in words: (taken + lost + steamed) / reaches = heating, as printed."""

    words: str
    taken: str
    lost: str
    steamed: str
    reaches: str
    heating: str
    holding: str


@dataclass(frozen=True)
class Working:
    """The whole account of an estimate by the three ends of its heat.

    ``range_rows`` are the parts of its range, below and above (half widths, of all batches; nothing above without an upper end);
    ``assumed`` what nobody noted; ``left_out`` names food that is not in the balance, ``rough`` food whose specific heat is known
    from its water alone.
    """

    rows: tuple[WorkingRow, ...]
    ends: tuple[EndRow, ...]
    range_rows: tuple[tuple[str, str, str], ...]
    foods: tuple[tuple[str, str, str], ...]
    assumed: tuple[str, ...]
    left_out: tuple[str, ...]
    rough: tuple[str, ...]


def working(balance: Balance, language: Language) -> Working:
    """Return how an estimate was worked out.

    References
    ----------
    Each row names its own: composition and specific heat after Choi and Okos (ASHRAE Handbook, Refrigeration), boiling points
    from IAPWS-IF97 and the ICAO standard atmosphere.
    """
    say = partial(sentence, language)
    model = balance.model
    return Working(
        rows=(*_circumstance_rows(balance, say), *_heat_rows(balance, say)),
        ends=_end_rows(balance, say),
        range_rows=_range_rows(balance, say),
        foods=tuple(
            (food.name, f"{food.mass_g:.0f}\u00a0g", f"{food.specific_heat_kj:.2f}\u00a0kJ/(kg K)") for food in model.foods
        ),
        assumed=_assumed(balance, say),
        left_out=tuple(words_of(name, language) for name in model.left_out),
        rough=model.rough,
    )


def _assumed(balance: Balance, say: _Say) -> tuple[str, ...]:
    """Return what stands for what nobody noted, and which of it would narrow the range most."""
    codes = [code for code in balance.model.unnoted if code in _DEFAULTS]
    told = [_stands_for(code, say, kept=code in balance.model.assumed) for code in codes]
    widest, narrower_wh = balance.widest
    if widest:
        told.append(say("noting_helps", what=say(f"range_{widest}"), narrower_wh=narrower_wh))
    return tuple(told)


def _stands_for(code: str, say: _Say, *, kept: bool) -> str:
    """Return what stands for a field, or that nobody kept whether it was noted."""
    if not kept:
        return say("unkept", what=say(f"range_{code}"))
    return say(f"assumed_{code}", value=_DEFAULTS[code].value, half=_DEFAULTS[code].half)


def _end_rows(balance: Balance, say: _Say) -> tuple[EndRow, ...]:
    """Return what each end takes in the first batch, in figures that multiply out as they are printed."""
    name = "unmarked" if balance.cook.heating_w is not None else "end"
    made = accounts(balance.cook, balance.asked, balance.made.ends)
    return tuple(_end_row(say(f"{name}_{one.number}"), one) for one in made)


def _end_row(words: str, one: HeatAccount) -> EndRow:
    parts = (one.taken_wh, one.lost_wh, one.steamed_wh, one.heating_wh, one.holding_wh)
    taken, lost, steamed, heating, holding = (f"{round(wh, 1) + 0.0:.1f}".replace("-", "−") for wh in parts)
    return EndRow(words, taken, lost, steamed, f"{100 * one.reaches:.2f}\u00a0%", heating, holding)


def _range_rows(balance: Balance, say: _Say) -> tuple[tuple[str, str, str], ...]:
    """Return what makes up the range, below and above its middle, parts of one name together; without an upper end only below."""
    made, widths = balance.made, dict[str, tuple[float, float]]()
    ends_wh = [end.energy_wh for end in made.ends if end.energy_wh < float("inf")]
    if made.energy.middle is not None and ends_wh:
        half_wh = (max(ends_wh) - min(ends_wh)) / 2
        widths["between_ends"] = (half_wh, half_wh)
    for part in made.parts:
        below, above = widths.get(part.code, (0.0, 0.0))
        widths[part.code] = (hypot(below, part.low_wh), hypot(above, part.high_wh))
    n, seen = balance.batches, 1.0 if balance.whole else 0.0
    rows = ((say(f"range_{code}"), _width("−", n * low), _width("+", n * high * seen)) for code, (low, high) in widths.items())
    return tuple(row for row in rows if row[1:] != (_NO_WIDTH, _NO_WIDTH))


def _width(sign: str, half_wh: float) -> str:
    return f"{sign} {format_wh(half_wh)}" if half_wh >= _LEAST_WIDTH_WH else _NO_WIDTH


def _circumstance_rows(balance: Balance, say: _Say) -> list[WorkingRow]:
    """Return how much food it is, how cold, and how hot it gets."""
    model, then, now = balance.model, balance.then, balance.now
    start = say("usual_start" if "food_start" in model.assumed else "noted_by_cook" if model.start_noted else "taken_from_air")
    return [
        WorkingRow(say("food_in_pot"), "1 ×", f"{balance.k:.2f} ×".replace(".00", ""), MEASURED, say("recipes_weights")),
        WorkingRow(
            say("food_at_start"),
            format_celsius(then.food_start_c),
            format_celsius(now.food_start_c),
            ASSUMED if "food_start" in model.assumed or not model.start_noted else MEASURED,
            start,
        ),
        WorkingRow(
            say("air"),
            format_celsius(then.ambient_c),
            format_celsius(now.ambient_c),
            ASSUMED if "air" in model.unnoted else MEASURED,
            say("usual_air" if "air" in model.assumed else "perhaps_noted" if "air" in model.unnoted else "noted_or_yours"),
        ),
        WorkingRow(say("hot_at"), format_celsius(then.end_c), format_celsius(now.end_c), PUBLISHED, _hot_source(balance, say)),
    ]


def _heat_rows(balance: Balance, say: _Say) -> list[WorkingRow]:
    """Return the heats, and what share of the energy brings them in."""
    known = balance.model.vessel_j_per_k > 0
    rows = [
        WorkingRow(
            say("heat_of_food"),
            format_wh(balance.food_then_wh),
            format_wh(balance.food_now_wh),
            PUBLISHED,
            say("by_composition"),
        ),
        WorkingRow(
            say("heat_of_pot"),
            *((format_wh(balance.vessel_then_wh), format_wh(balance.vessel_now_wh)) if known else ("–", "–")),
            ASSUMED,
            say("by_weight_and_material" if known else "pot_in_the_range"),
        ),
        WorkingRow(
            say("heater_reaches"),
            "",
            f"{100 * balance.cook.reaches_low:.0f} to {100 * balance.cook.reaches_high:.0f}\u00a0%",
            ASSUMED,
            say("heater_band"),
        ),
    ]
    if balance.minutes_factor != 1:
        percent = f"{(balance.minutes_factor - 1) * 100:+.0f} %".replace("-", "−")
        rows.append(WorkingRow(say("pressure_minutes"), "", percent, PUBLISHED, say("manuals")))
    return rows


def boiling_words(balance: Balance, language: Language) -> str:
    """Return at what temperature it boils where the reader cooks higher than the cook did; empty elsewhere."""
    usual = conditions(balance.model, Circumstances())
    if not balance.model.boils or abs(balance.now.end_c - usual.end_c) < 0.5:
        return ""
    figures = {"here": format_celsius(balance.now.end_c), "there": format_celsius(usual.end_c)}
    return sentence(language, "boils_at", altitude_m=balance.now.altitude_m, **figures)


def _hot_source(balance: Balance, say: _Say) -> str:
    if not balance.model.boils:
        return say("methods_temperature")
    altitude_m, pressure_kpa = balance.now.altitude_m, balance.model.pressure_kpa
    if not pressure_kpa:
        return say("water_at_height", altitude_m=altitude_m)
    return say("water_under_pressure", altitude_m=altitude_m, pressure_kpa=pressure_kpa)
