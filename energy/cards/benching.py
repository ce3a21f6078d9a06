"""What the energy app shows on a recipe's workbench, and what of it stands on the way to the first published recipe."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils import timezone

from energy import charts
from energy.cards.collecting import figure_of
from energy.gear.queries.lists import missing_gear
from energy.models import Run
from energy.runs.domain.summary import RunSummary
from energy.runs.queries.drawings import stage_energies
from energy.runs.queries.run_page import run_standing
from energy.runs.queries.runs import does_count, finished_runs, newest_cooked, run_summary, runs_of_recipe
from energy.words import ENGLISH, sentence
from energy.words.figures import format_wh
from kitchen.cards import BenchLink, FirstThing, WorkbenchPart
from kitchen.domain.band import Band
from kitchen.models import Recipe

MOST_STRIPS = 6


@dataclass(frozen=True)
class CookStrip:
    """One cook as a line of the workbench: its band on the scale of all, its energy, whether it counts."""

    run: Run
    standing: str
    energy: str
    band: Band | None


@dataclass(frozen=True)
class CountedCook:
    """A cook that is counted, or could be; ``why`` says why it is not, or why it is all the same."""

    cook: CookStrip
    counts: bool
    why: str


def cooks_part(recipe: Recipe) -> WorkbenchPart:
    """Return a recipe's cooks as its workbench shows them: the newest few as bands on one scale. Two queries."""
    runs = list(runs_of_recipe(recipe))
    stands = [run_standing(run) for run in runs]
    counting = sum(one in ("counts", "accepted") for one in stands)
    odd = next((run for run, one in zip(runs, stands, strict=True) if one == "flagged"), None)
    code = "not_cooked" if not runs else "cooked_once" if len(runs) == 1 else "cooked_often"
    links = ways_to_record(recipe)
    if runs:
        links += [link_of(recipe, "recipes_runs", "recipe-runs"), link_of(recipe, "choose_runs", "runs-choose")]
    return WorkbenchPart(
        title=sentence(ENGLISH, "section_cooks"),
        state=sentence(ENGLISH, code, cooks=len(runs), count=counting),
        next=_next(recipe, odd, cooked=bool(runs)),
        links=tuple(links),
        template_name="energy/workbench.html",
        counting_template="energy/counting.html",
        context={
            **_strips(runs[:MOST_STRIPS], stands),
            "more": max(0, len(runs) - MOST_STRIPS),
            "counting": lambda: _counting(recipe),
        },
    )


def _counting(recipe: Recipe) -> dict[str, Any]:
    """Return the cooks of which the figures are made, or could be: the newest cooked revision's, on one scale. Four queries."""
    measured = newest_cooked(recipe)
    if measured is None:
        return {}
    runs = finished_runs(measured)
    figure = figure_of({run: does_count(run) for run in runs}, measured)
    aside = figure.aside if figure else {}
    drawn = _strips(runs, [run_standing(run) for run in runs])
    rows = [CountedCook(one, does_count(one.run), aside.get(one.run.pk) or one.run.verdict_reason) for one in drawn["cooks"]]
    return {"rows": rows, "scale": drawn["scale"]}


def ways_to_record(recipe: Recipe, *, file: bool = True) -> list[BenchLink]:
    """Return the three ways in which a cook is recorded, and the paper for the second."""
    ways = (("start_cook", "cook-start"), ("record_cook", "run-new"), ("read_file", "cooks-send"), ("print_sheet", "log-sheet"))
    return [link_of(recipe, code, address) for code, address in ways if file or code != "read_file"]


def _next(recipe: Recipe, odd: Run | None, *, cooked: bool) -> BenchLink | None:
    if odd is not None:
        day = timezone.localtime(odd.started_at)
        return BenchLink(sentence(ENGLISH, "look_at_cook", day=day), reverse("energy:run", args=[odd.pk]))
    return None if cooked else link_of(recipe, "start_cook", "cook-start")


def _strips(runs: list[Run], stands: list[str]) -> dict[str, Any]:
    held = [(run, one, run_summary(run)) for run, one in zip(runs, stands, strict=False)]
    known = [summary for _, _, summary in held if summary and summary.known]
    cooks = [
        CookStrip(run, one, band.whole if band else "", band)
        for run, one, summary in held
        for band in [_band(summary) if summary and summary.known else None]
    ]
    return {"cooks": cooks, "scale": charts.scale_of([stage_energies(summary) for summary in known])}


def _band(summary: RunSummary) -> Band:
    energy = format_wh(summary.energy_wh, summary.uncertainty_wh)
    return Band(energy, energy, tuple(charts.stage_part(stage) for stage in stage_energies(summary)))


def first_things(recipe: Recipe | None) -> list[FirstThing]:
    """Return gear and the first cook, as far as they are. Four queries."""
    start = reverse("energy:cook-start", args=[recipe.slug]) if recipe else ""
    said = {code: sentence(ENGLISH, code) for code in ("first_gear", "how_first_gear", "first_cook", "how_first_cook")}
    return [
        FirstThing(said["first_gear"], said["how_first_gear"], reverse("energy:gear"), not missing_gear(), order=10),
        FirstThing(said["first_cook"], said["how_first_cook"], start, Run.objects.exists(), order=30),
    ]


def link_of(recipe: Recipe, code: str, name: str) -> BenchLink:
    """Return where something is done with a recipe, with a word how."""
    return BenchLink(sentence(ENGLISH, code), reverse(f"energy:{name}", args=[recipe.slug]), sentence(ENGLISH, f"how_{code}"))
