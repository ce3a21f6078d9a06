"""What a picture of an energy card shows: a title, four figures, the strip, the ladder, a few words, an address. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from energy import charts
from energy.cards.drawings import climb, meal_strip
from energy.cards.presenting import EnergyShown
from energy.estimates.domain.meal import MealEnergy
from energy.facts import StageEnergy
from energy.runs.domain.summary import RunSummary
from energy.words import ENGLISH, sentence
from energy.words.figure_words import peak_figure, times_measured
from energy.words.figures import each_wh, format_minutes, format_watts, format_wh, printed_step
from energy.words.titles import Fineness, what_costs_what
from kitchen.cards import Headline
from kitchen.domain.pictures import search_pictures
from kitchen.page import Page

_LONG_TITLE, _LONGEST_TITLE = 30, 42
_STRIPS, _LADDERS = {"share": "share", "square": "wide"}, {"frame": "frame", "tall": "frame", "broad": "frame"}
"""The sizes of the drawings in a picture by its shape, where they are not those of most."""

_WITH_PHOTO = frozenset({"share", "tall"})
"""What is passed on among people shows the dish: in place of the climb."""


@dataclass(frozen=True)
class Picture:
    """Everything that the template draws."""

    title: str
    badge: str
    standing: str
    headlines: tuple[Headline, ...]
    strip: charts.Strip | None
    ladder: charts.Ladder
    words: tuple[str, ...]
    address: str
    foot: str
    photo: str = ""

    @property
    def fit(self) -> str:
        """How small the title's type must be: ``longest`` goes over two lines."""
        return "longest" if len(self.title) > _LONGEST_TITLE else "long" if len(self.title) > _LONG_TITLE else ""


def picture_of_page(page: Page, *, size: str, address: str, foot: str) -> Picture:
    """Return the picture of a published recipe at the size it was written for, from its page, which has the energy card."""
    meal: MealEnergy = page.request.prepared["energy"]
    told: EnergyShown = next(plate.context["energy"] for plate in page.cards if plate.slug == "energy")
    return Picture(
        title=page.recipe.title,
        badge=page.badge or told.badge,
        standing=page.standing or told.standing,
        headlines=page.headlines,
        strip=meal_strip(meal, _STRIPS.get(size, "narrow")),
        ladder=climb(meal, size=_LADDERS.get(size, "share")),
        words=tuple(words for words in (told.drawings.contrast, told.supplied.print_line.partition(". It")[0]) if words),
        address=printed_address(address),
        foot=foot,
        photo=search_pictures(page.recipe.photo)[-1] if page.recipe.photo and size in _WITH_PHOTO else "",
    )


def picture_of_run(
    summary: RunSummary, stages: Sequence[StageEnergy], servings: int, *, title: str, size: str, address: str, foot: str
) -> Picture:
    """Return the picture of one run, from its own figures."""
    said: dict[str, Any] = {"language": ENGLISH, "fine": Fineness(printed_step(summary.energy_wh, summary.uncertainty_wh))}
    cooking = format_minutes(summary.cooking_s)
    each = each_wh(summary.energy_wh, summary.uncertainty_wh, servings)
    total = format_wh(summary.energy_wh, summary.uncertainty_wh).removesuffix("\u00a0Wh")
    return Picture(
        title=title,
        badge=times_measured(1, ENGLISH),
        standing="measured",
        headlines=(
            _headline("energy", each, sentence(ENGLISH, "each_of_all", total=total)),
            *_peak_headline(summary),
            _headline("mean", format_watts(summary.mean_w), sentence(ENGLISH, "on_average")),
            _headline("minutes", format_minutes(summary.total_s), sentence(ENGLISH, "cooking", cooking=cooking), "plain"),
        ),
        strip=charts.strip(stages, size=_STRIPS.get(size, "narrow"), **said),
        ladder=charts.ladder(summary.ladder, stages, size=_LADDERS.get(size, "share"), **said),
        words=tuple(words for words in (what_costs_what(stages, ENGLISH),) if words),
        address=printed_address(address),
        foot=foot,
    )


def _peak_headline(summary: RunSummary) -> tuple[Headline, ...]:
    if summary.peak_w is None:
        return ()
    words = sentence(ENGLISH, "at_peak" if summary.peak_seen else "at_peak_or_more")
    return (_headline("peak", peak_figure(summary.peak_w, summary.peak_seen), words),)


def _headline(key: str, figure: str, words: str, tone: str = "energy") -> Headline:
    """Return a headline of a figure in words: its last word is the unit, set smaller."""
    value, _, unit = figure.rpartition("\u00a0")
    return Headline(key, value, unit, words, tone, "measured")


def printed_address(address: str) -> str:
    """Return an address as it is printed: without its scheme and its last slash."""
    return address.removeprefix("https://").removeprefix("http://").rstrip("/")
