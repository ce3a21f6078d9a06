"""Figures that need a word beside their unit: nothing, a range, at least so much, how often something was measured."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from energy.words.figures import (
    NOTHING_WH,
    down_to,
    format_percent,
    format_watts,
    format_wh,
    range_step,
    rounded_down,
    to_step,
    uncertainty_step,
)
from energy.words.remarks import Language, sentence
from kitchen.domain.money import format_money, places_of, printed_ends

_TIMES = {1: "once", 2: "twice"}


def least_wh(energy_wh: float, uncertainty_wh: float, language: Language) -> str:
    """Return at least so many watt-hours, rounded down to the place that they are sure of.

    Examples
    --------
    >>> least_wh(246.0, 61.0, "en").replace(chr(160), " "), least_wh(4.26, 0.0, "en").replace(chr(160), " ")
    ('at least 240 Wh', 'at least 4.2 Wh')
    """
    step = uncertainty_step(uncertainty_wh) if uncertainty_wh > 0 else 0.0
    return sentence(language, "at_least", figure=format_wh(rounded_down(energy_wh, step)))


def drawn_wh(energy_wh: float, uncertainty_wh: float, language: Language) -> str:
    """Return the measured energy of one stage; ``nothing`` for one whose counter did not move.

    Examples
    --------
    >>> drawn_wh(0.0, 0.8, "en"), drawn_wh(1.7, 1.4, "en").replace(chr(160), " ")
    ('nothing', '1.7 ± 1.4 Wh')
    """
    if energy_wh < NOTHING_WH:
        return sentence(language, "nothing")
    return format_wh(energy_wh, uncertainty_wh)


def range_wh(low_wh: float, high_wh: float, language: Language) -> str:
    """Return a range of watt-hours, each end rounded away from the other, as coarsely as its width allows.

    Examples
    --------
    >>> range_wh(221.6, 250.2, "en").replace(chr(160), " "), range_wh(0, 431, "en").replace(chr(160), " ")
    ('220 to 252 Wh', 'up to 450 Wh')
    """
    if high_wh <= low_wh:
        return format_wh(low_wh)
    step = range_step(low_wh, high_wh)
    least_wh, most_wh = down_to(low_wh, step), -down_to(-high_wh, step)
    least, most = to_step(least_wh, step), f"{to_step(most_wh, step)}\u00a0Wh"
    return sentence(language, "from_to" if least_wh > 0 else "up_to", least=least, most=most)


def money_between(low: Fraction, high: Fraction, currency: str, language: Language) -> str:
    """Return between which two sums something lies, each rounded once; their middle where that is within one smallest coin.

    One that rounds to nothing but is not nothing is under the smallest coin.

    Examples
    --------
    >>> sums = (("0.052", "0.071"), ("0.864", "0.866"), ("0", "0.07"), ("0", "0.001"))
    >>> [money_between(Fraction(low), Fraction(high), "EUR", "en") for low, high in sums]
    ['€0.05 to €0.07', '€0.87', 'up to €0.07', 'under €0.01']
    """
    least, most = printed_ends(low, high, currency)
    words = format_money(most, currency)
    if high and not most:
        return sentence(language, "under", figure=format_money(Fraction(1, 10 ** places_of(currency)), currency))
    if least == most:
        return words
    return sentence(language, "from_to" if least else "up_to", least=format_money(least, currency), most=words)


def range_percent(low_pct: float, high_pct: float, language: Language) -> str:
    """Return a range of percentages; one figure where both ends are rounded to the same.

    Examples
    --------
    >>> range_percent(26.6, 31.2, "en").replace(chr(160), " "), range_percent(3.12, 3.14, "en").replace(chr(160), " ")
    ('27 to 31 %', '3.1 %')
    """
    low, high = format_percent(low_pct), format_percent(high_pct)
    return low if low == high else sentence(language, "from_to", least=low.removesuffix("\u00a0%"), most=high)


def peak_words(peak_w: float | None, seen: bool, language: Language) -> str:
    """Return the highest watts: at least so much where no display showed them; empty where nothing tells them.

    Examples
    --------
    >>> peak_words(690, True, "en").replace(chr(160), " "), peak_words(660, False, "en").replace(chr(160), " ")
    ('690 W', 'at least 660 W')
    """
    if peak_w is None:
        return ""
    figure = peak_figure(peak_w, seen)
    return figure if seen else sentence(language, "at_least", figure=figure)


def peak_figure(peak_w: float, seen: bool) -> str:
    """Return the highest watts alone; what is the least of more is rounded down.

    Examples
    --------
    >>> peak_figure(660.7, True).replace(chr(160), " "), peak_figure(660.7, False).replace(chr(160), " ")
    ('661 W', '660 W')
    """
    return format_watts(peak_w if seen else rounded_down(peak_w))


def times_measured(runs: int, language: Language) -> str:
    """Return how often something was measured; once is one run, whose figures nobody has repeated.

    Examples
    --------
    >>> times_measured(1, "en"), times_measured(2, "en"), times_measured(3, "en")
    ('measured, one run', 'measured twice', 'measured 3 times')
    """
    return sentence(language, "measured_one_run") if runs == 1 else times_measured_badge(runs, language)


def times_measured_badge(runs: int, language: Language) -> str:
    """Return the same as briefly as a badge says it.

    Examples
    --------
    >>> times_measured_badge(1, "en"), times_measured_badge(3, "en")
    ('measured once', 'measured 3 times')
    """
    return sentence(language, {1: "measured_once", 2: "measured_twice"}.get(runs, "measured_often"), runs=runs)


def times_words(times: int, language: Language) -> str:
    """Return how many times something happened.

    Examples
    --------
    >>> times_words(1, "en"), times_words(2, "en"), times_words(1200, "en")
    ('once', 'twice', '1,200 times')
    """
    return sentence(language, _TIMES.get(times, "times"), times=times)


def spelled(span_s: float, language: Language) -> str:
    """Return a span in whole minutes, for a sentence.

    Examples
    --------
    >>> spelled(61, "en"), spelled(1680, "en")
    ('1 minute', '28 minutes')
    """
    minutes = max(round(span_s / 60), 1)
    return sentence(language, "one_minute" if minutes == 1 else "minutes", minutes=minutes)


def listed(names: Sequence[str], language: Language) -> str:
    """Return names one after the other, the last one behind an "and".

    Examples
    --------
    >>> listed(["brown"], "en"), listed(["brown", "come up", "hold"], "en"), listed([], "en")
    ('brown', 'brown, come up and hold', '')
    """
    return sentence(language, "and").join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def capitalized(words: str) -> str:
    """Return words with a capital at their beginning.

    Examples
    --------
    >>> capitalized("about 29 %"), capitalized("")
    ('About 29 %', '')
    """
    return f"{words[:1].upper()}{words[1:]}"


def uncapitalized(sentence_words: str) -> str:
    """Return a sentence as it stands inside another one.

    Examples
    --------
    >>> uncapitalized("Inverter 88 %.")
    'inverter 88 %.'
    """
    return f"{sentence_words[:1].lower()}{sentence_words[1:]}"
