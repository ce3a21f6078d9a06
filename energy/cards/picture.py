"""What a picture of an energy card shows: a title, four figures, the strip, the ladder, a few words, an address. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from energy import charts
from energy.cards.headlines import energy_headlines
from energy.cards.presenting import shown, the_meal
from energy.domain.facts import EnergyFacts, StageEnergy
from energy.domain.summary import RunSummary
from energy.domain.words import about_wh, format_minutes, format_watts, format_wh, measured_words, uncertainty_step
from kitchen.cards import CardRequest, Facts, Headline
from kitchen.domain import record
from kitchen.page import Page

_LONG_TITLE, _LONGEST_TITLE = 30, 42


@dataclass(frozen=True)
class Picture:
    """Everything that the template draws."""

    title: str
    badge: str
    standing: str
    headlines: tuple[Headline, ...]
    strip: charts.Strip | None
    time: charts.Strip | None
    ladder: charts.Ladder
    words: tuple[str, ...]
    address: str
    foot: str

    @property
    def fit(self) -> str:
        """How small the title's type must be: ``longest`` goes over two lines."""
        return "longest" if len(self.title) > _LONGEST_TITLE else "long" if len(self.title) > _LONG_TITLE else ""


def picture_of_page(page: Page, facts: Facts, request: CardRequest, *, size: str, address: str, foot: str) -> Picture:
    """Return the picture of a published recipe at the size it was written for, from its edition's energy facts."""
    held = record.read(EnergyFacts, facts)
    request = replace(request, batches=page.batches)
    meal, told = the_meal(held, request), shown(held, request)
    step_wh = max(1.0, uncertainty_step(meal.uncertainty_wh)) if meal.uncertainty_wh > 0 else 1.0
    return Picture(
        title=page.recipe.title,
        badge=page.badge or told.badge,
        standing=page.standing or told.standing,
        headlines=tuple(page.headlines) or tuple(energy_headlines(held, meal)),
        strip=told.strip_narrow,
        time=told.time_narrow,
        ladder=charts.ladder(meal.ladder, meal.stages * meal.batches, step_wh=step_wh, size=size),
        words=tuple(words for words in (told.contrast, told.print_line.partition(". It")[0]) if words),
        address=_bare(address),
        foot=foot,
    )


def picture_of_run(
    summary: RunSummary, stages: Sequence[StageEnergy], servings: int, *, title: str, size: str, address: str, foot: str
) -> Picture:
    """Return the picture of one run, from its own figures."""
    each = about_wh(summary.energy_wh / servings, summary.uncertainty_wh / servings)
    total = format_wh(summary.energy_wh, summary.uncertainty_wh)
    return Picture(
        title=title,
        badge=measured_words(1),
        standing="measured",
        headlines=(
            _headline("energy", each, f"each serving, {total.removesuffix(' Wh').removesuffix(chr(160) + 'Wh')} in all"),
            *_peak(summary),
            _headline("mean", format_watts(summary.mean_w), "on average"),
            _headline("minutes", format_minutes(summary.total_s), f"{format_minutes(summary.cooking_s)} cooking", "plain"),
        ),
        strip=charts.strip(stages, narrow=True),
        time=charts.strip(stages, narrow=True, by="minutes"),
        ladder=charts.ladder(summary.ladder, stages, size=size),
        words=tuple(words for words in (charts.what_costs_what(stages),) if words),
        address=_bare(address),
        foot=foot,
    )


def _peak(summary: RunSummary) -> tuple[Headline, ...]:
    if summary.peak_w is None:
        return ()
    return (_headline("peak", format_watts(summary.peak_w), "at its peak" if summary.peak_seen else "at its peak, or more"),)


def _headline(key: str, figure: str, words: str, tone: str = "energy") -> Headline:
    """Return a headline of a figure in words: its last word is the unit, set smaller."""
    value, _, unit = figure.rpartition("\u00a0")
    return Headline(key, value, unit, words, tone, "measured")


def _bare(address: str) -> str:
    """Return an address as it is printed: without its scheme and its last slash."""
    return address.removeprefix("https://").removeprefix("http://").rstrip("/")
