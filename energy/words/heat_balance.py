"""A run's heat balance as its page shows it: in a sentence, in a small table, and what it leaves out."""

from __future__ import annotations

from dataclasses import dataclass

from energy.heat.need import HeatBalance
from energy.words.figure_words import least_wh
from energy.words.figures import format_percent, format_wh, rounded_down, rounded_up
from energy.words.remarks import Language, sentence, words_of
from kitchen.domain.stages import STAGE_KINDS


@dataclass(frozen=True)
class HeatWords:
    """The balance in words: a sentence, rows of (what, how much), what is left out and why."""

    sentence: str
    rows: tuple[tuple[str, str], ...] = ()
    left_out: tuple[tuple[str, str], ...] = ()
    rough: str = ""


def heat_words(heat: HeatBalance | None, language: Language) -> HeatWords | None:
    """Return a run's heat balance in words, or None where there is none yet."""
    if heat is None or not (heat.until or heat.need.why_not):
        return None
    need = heat.need
    left_out = tuple((words_of(left.name, language), words_of(left.why, language)) for left in need.left_out)
    if need.why_not:
        return HeatWords(words_of(need.why_not, language), left_out=left_out)
    rough = sentence(language, "roughly_from_water", foods=", ".join(need.rough)) if need.rough else ""
    return HeatWords(_balance_sentence(heat, language), _balance_rows(heat, language), left_out, rough)


def _balance_sentence(heat: HeatBalance, language: Language) -> str:
    need = heat.need
    if heat.efficiency is None:
        code = "had_taken"
    elif heat.efficiency >= 1:
        code = "had_taken_of"
    else:
        code = "had_taken_of_rest_uncounted" if need.at_least else "had_taken_of_rest"
    return sentence(
        language,
        code,
        stage=STAGE_KINDS[heat.until].label,
        what=sentence(language, "food_and_pot" if need.vessel_wh else "the_food"),
        heat=_heat(need.at_least, need.needed_wh, language),
        measured=_measured_wh(heat, language),
        share=_share(heat, language),
    )


def _balance_rows(heat: HeatBalance, language: Language) -> tuple[tuple[str, str], ...]:
    need = heat.need
    food = {"mass_kg": need.food_g / 1000, "start_c": need.start_c, "end_c": need.end_c}
    pot = {"mass_kg": need.vessel_g / 1000, "start_c": need.vessel_start_c, "end_c": need.end_c}
    rows = [
        (sentence(language, "food_row", **food), _heat(need.at_least, need.food_wh, language)),
        *([(sentence(language, "pot_row", **pot), format_wh(need.vessel_wh))] if need.vessel_wh else []),
        (sentence(language, "measured_until", stage=STAGE_KINDS[heat.until].label), _measured_wh(heat, language)),
        *([(sentence(language, "efficiency"), _share(heat, language))] if heat.efficiency is not None else []),
    ]
    return tuple(rows)


def _measured_wh(heat: HeatBalance, language: Language) -> str:
    """Return the energy; "at most" where it is that of the next reading."""
    if heat.at_most:
        return sentence(language, "at_most", figure=format_wh(rounded_up(heat.measured_wh)))
    return format_wh(heat.measured_wh)


def _share(heat: HeatBalance, language: Language) -> str:
    share_pct = (heat.efficiency or 0.0) * 100
    if heat.at_most or heat.need.at_least:
        return sentence(language, "at_least", figure=format_percent(rounded_down(share_pct)))
    return format_percent(share_pct)


def _heat(at_least: bool, heat_wh: float, language: Language) -> str:
    return least_wh(heat_wh, 0.0, language) if at_least else format_wh(heat_wh)
