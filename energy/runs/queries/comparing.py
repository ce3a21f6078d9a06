"""Runs of one recipe beside each other: figures, drawings, what was different when they were cooked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from energy import charts
from energy.estimates.domain.combine import MeasuredRun, at_the_socket
from energy.facts import ApplianceFacts, MeterFacts, SourceFacts
from energy.kinds import meter_place
from energy.models import Run
from energy.runs.domain import comparing
from energy.runs.domain.summary import RunSummary
from energy.runs.queries.conditions import ConditionTable, conditions
from energy.runs.queries.drawings import stage_energies
from energy.runs.queries.runs import does_count, run_summary, runs_of_recipe
from energy.words import ENGLISH, sentence
from energy.words.comparing import difference_words, minutes_words
from energy.words.figure_words import drawn_wh, peak_words
from energy.words.figures import format_minutes, format_wh
from kitchen.domain.changes import what_changed
from kitchen.domain.remark import Remark
from kitchen.domain.stages import STAGE_KINDS
from kitchen.models import Recipe, Revision
from kitchen.queries.collecting import with_facts

LETTERS = "ABCDEF"
MOST_OFFERED = 200


@dataclass(frozen=True)
class RunBeside:
    """One of the runs: its letter, its dashes in the drawing of the ladders, its strips."""

    run: Run
    letter: str
    dashes: str
    energy: str
    strip: charts.Strip | None
    strip_narrow: charts.Strip | None


@dataclass(frozen=True)
class Cell:
    """A figure of one run and how it differs from the first one's; ``told`` where the difference is more than uncertainty."""

    letter: str
    value: str
    apart: str = ""
    told: bool = False


@dataclass(frozen=True)
class FigureRow:
    """One figure of all runs."""

    name: str
    cells: tuple[Cell, ...]
    is_stage: bool = False


@dataclass(frozen=True)
class Comparison:
    """Everything that the page shows of runs beside each other."""

    runs: tuple[RunBeside, ...]
    result: tuple[str, ...]
    ladders: charts.Ladders
    ladders_narrow: charts.Ladders
    rows: tuple[FigureRow, ...]
    conditions: ConditionTable
    food: tuple[tuple[str, tuple[Remark, ...]], ...]
    at_the_battery: str


def comparable_runs(recipe: Recipe) -> list[Run]:
    """Return the finished runs of a recipe whose energy is known, the newest first. One query."""
    runs = runs_of_recipe(recipe).filter(ended_at__isnull=False, summary__method__in=("counter", "watts", "charge"))
    return list(runs[:MOST_OFFERED])


def compare_runs(runs: Sequence[Run]) -> Comparison:
    """Return two to six finished runs of a recipe beside each other, the first one the measure. A few queries, however many."""
    held = [(run, _at_socket(run)) for run in runs]
    scale = charts.scale_of([stage_energies(summary) for _, summary in held])
    named = [charts.NamedClimb(letter, summary.ladder) for letter, (_, summary) in zip(LETTERS, held, strict=False)]
    return Comparison(
        runs=tuple(_beside(run, summary, number, scale) for number, (run, summary) in enumerate(held)),
        result=_result(held),
        ladders=charts.ladders_together(named, language=ENGLISH),
        ladders_narrow=charts.ladders_together(named, language=ENGLISH, narrow=True),
        rows=tuple(_rows(held)),
        conditions=conditions(runs, LETTERS),
        food=_food_changes({run.revision_id for run in runs}),
        at_the_battery=_battery_words(runs),
    )


def _at_socket(run: Run) -> RunSummary:
    """Return a run's figures as a meter at the socket would have shown them."""
    summary = run_summary(run)
    if summary is None:
        raise ValueError(f"{run} has no figures")
    source, appliance, meter = run.source, run.appliance, run.meter
    measured = MeasuredRun(
        summary,
        run.started_at,
        run.servings,
        does_count(run),
        ApplianceFacts(appliance.name, appliance.kind, appliance.rated_w),
        SourceFacts(source.name, source.kind, inverter_efficiency=source.inverter_efficiency, idle_w=source.idle_w),
        MeterFacts(meter.name, meter.place, meter.resolution_wh, meter.accuracy_pct),
    )
    return at_the_socket(measured).summary


def _beside(run: Run, summary: RunSummary, number: int, scale: charts.Scale) -> RunBeside:
    stages = stage_energies(summary)
    return RunBeside(
        run=run,
        letter=LETTERS[number],
        dashes=charts.DASHES[number],
        energy=format_wh(summary.energy_wh, summary.uncertainty_wh),
        strip=charts.strip(stages, language=ENGLISH, scale=scale),
        strip_narrow=charts.strip(stages, language=ENGLISH, scale=scale, size="narrow"),
    )


def _result(held: Sequence[tuple[Run, RunSummary]]) -> tuple[str, ...]:
    """Return a sentence for each run but the first: how it differs from the first, each serving where servings differ."""
    each = len({run.servings for run, _ in held}) > 1
    first = _energy(*held[0], each=each)
    told = []
    for letter, (run, summary) in zip(LETTERS[1:], held[1:], strict=False):
        mine = _energy(run, summary, each=each)
        apart = comparing.difference(*mine, *first)
        shared = apart.told and first[0] > 0
        code = f"took{'_by' if shared else '' if apart.told else '_both'}{'_each' if each else ''}"
        share_pct = 100 * abs(apart.size_wh) / first[0] if shared else 0.0
        told.append(sentence(ENGLISH, code, letter=letter, difference=difference_words(apart, ENGLISH), share_pct=share_pct))
    return tuple(told)


def _energy(run: Run, summary: RunSummary, *, each: bool) -> tuple[float, float]:
    servings = run.servings if each else 1
    return summary.energy_wh / servings, summary.uncertainty_wh / servings


def _rows(held: Sequence[tuple[Run, RunSummary]]) -> list[FigureRow]:
    each = [_energy(run, summary, each=True) for run, summary in held]
    total = [_energy(run, summary, each=False) for run, summary in held]
    spans = (("time_in_all", "total_s"), ("time_cooking", "cooking_s"), ("time_at_pot", "attended_s"))
    return [
        FigureRow(sentence(ENGLISH, "each_serving"), _energy_cells(each)),
        FigureRow(sentence(ENGLISH, "in_all"), _energy_cells(total)),
        *_stage_rows([summary for _, summary in held]),
        FigureRow(sentence(ENGLISH, "peak"), _peak_cells([summary for _, summary in held])),
        *(FigureRow(sentence(ENGLISH, code), _span_cells([getattr(one, field) for _, one in held])) for code, field in spans),
    ]


def _energy_cells(figures: Sequence[tuple[float, float] | None]) -> tuple[Cell, ...]:
    first, cells = figures[0], []
    for letter, figure in zip(LETTERS, figures, strict=False):
        apart = None if figure is None or first is None else comparing.difference(*figure, *first)
        value = "–" if figure is None else drawn_wh(*figure, ENGLISH)
        told = apart is not None and apart.told
        cells.append(
            Cell(letter, value, "" if apart is None or letter == "A" else difference_words(apart, ENGLISH, "same"), told)
        )
    return tuple(cells)


def _stage_rows(summaries: Sequence[RunSummary]) -> list[FigureRow]:
    rows = []
    for places in comparing.in_rows([summary.stages for summary in summaries]):
        stages = [None if place is None else summary.stages[place] for place, summary in zip(places, summaries, strict=True)]
        there = next(stage for stage in stages if stage is not None)
        figures = [None if stage is None else (stage.energy_wh, stage.uncertainty_wh) for stage in stages]
        timed = tuple(
            replace(cell, value=f"{cell.value}, {format_minutes(stage.span_s)}" if stage else sentence(ENGLISH, "no_such_stage"))
            for cell, stage in zip(_energy_cells(figures), stages, strict=True)
        )
        rows.append(FigureRow(there.label or STAGE_KINDS[there.kind].label, timed, is_stage=True))
    return rows


def _span_cells(spans_s: Sequence[float]) -> tuple[Cell, ...]:
    return tuple(
        Cell(letter, format_minutes(span_s), minutes_words(comparing.minutes_apart(span_s, spans_s[0]), ENGLISH))
        for letter, span_s in zip(LETTERS, spans_s, strict=False)
    )


def _peak_cells(summaries: Sequence[RunSummary]) -> tuple[Cell, ...]:
    peaks = [peak_words(summary.peak_w, summary.peak_seen, ENGLISH) for summary in summaries]
    return tuple(Cell(letter, peak or "–") for letter, peak in zip(LETTERS, peaks, strict=False))


def _food_changes(revisions: set[int]) -> tuple[tuple[str, tuple[Remark, ...]], ...]:
    """Return what changed from each of the cooked revisions to the next one. Nothing, and no query, where all are one."""
    if len(revisions) < 2:
        return ()
    facts = sorted((facts for _, facts in with_facts(Revision.objects.filter(pk__in=revisions))), key=lambda one: one.revision)
    return tuple(
        (sentence(ENGLISH, "from_revision", before=before.revision, after=after.revision), what_changed(before, after))
        for before, after in pairwise(facts)
    )


def _battery_words(runs: Sequence[Run]) -> str:
    """Return which runs were brought from the battery to the socket; empty where none was."""
    summaries = [run_summary(run) for run in runs]
    letters = [one for one, held in zip(LETTERS, summaries, strict=False) if held and not meter_place(held.place).at_socket]
    if not letters:
        return ""
    return sentence(ENGLISH, "one_at_battery" if len(letters) == 1 else "some_at_battery", letters=", ".join(letters))
