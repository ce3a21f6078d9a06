"""Reads about meters' files: those that were read into a run, whether one was read before, and the cooks of a longer log."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.db.models import F, Max
from django.utils import timezone

from energy.meters.files.columns.shape import ROLE_WORDS, LogShape, UnreadableFile
from energy.models import Appliance, FileShape, LoadedFile, Meter, PowerSource, Run
from energy.runs.domain.file_came import doubts_of_rows
from energy.runs.domain.log_columns import LONGEST_S, LogColumns, curve_of
from energy.runs.domain.marking import Curve, Stretch, propose_cuts
from energy.runs.queries.marking import CurveDrawing, draw_curve
from energy.runs.queries.recording import first_words, stage_proposals
from energy.words import ENGLISH, sentence, words_of
from energy.words.figures import format_minutes, format_watts, format_wh
from kitchen.models import Recipe, Revision

MOST_COOKS = 30


@dataclass(frozen=True)
class LoadedRow:
    """A file that was read into a run, what was told of it, and what still asks for a yes."""

    file: LoadedFile
    words: tuple[str, ...]
    doubts: tuple[str, ...] = ()


def loaded_files(run: Run) -> list[LoadedRow]:
    """Return the files that were read into a run, the oldest first. One query."""
    return [
        LoadedRow(
            file,
            tuple(line for line in file.words.splitlines() if line),
            tuple(words_of(doubt, ENGLISH) for doubt in doubts_of_rows([(file.came, file.confirmed)])),
        )
        for file in run.files.all()
    ]


def read_before(digest: str, recipe: Recipe, run: Run | None = None) -> str:
    """Return a sentence where these very bytes were read in before, into this run or another of this cook's. One query."""
    files = LoadedFile.objects.filter(digest=digest, run__revision__recipe__owner=recipe.owner_id)
    found = list(files.select_related("run__revision__recipe").order_by("-loaded_at")[:20])
    same = next((file for file in reversed(found) if run and file.run_id == run.pk), None)
    if same is not None:
        return sentence(ENGLISH, "read_into_this", day=timezone.localtime(same.loaded_at))
    if not found:
        return ""
    other = found[0].run
    return sentence(ENGLISH, "read_into_other", moment=_moment(other.started_at), title=other.revision.recipe.title)


@dataclass(frozen=True)
class ShapeRow:
    """A kept way of reading in words."""

    pk: int
    name: str
    words: str


def shape_rows() -> list[ShapeRow]:
    """Return the kept ways of reading with what their columns hold, by name. One query."""
    return [ShapeRow(one.pk, one.name, _shape_words(one.shape)) for one in shapes()]


def _shape_words(shape: dict[str, Any]) -> str:
    """Return what a kept way reads: the names of its columns and what each is used for."""
    try:
        read = LogShape.from_dict(shape)
    except UnreadableFile as refused:
        return str(refused)
    named = [
        f"“{read.header[column.index] if column.index < len(read.header) else column.index + 1}”: {ROLE_WORDS[column.role]}"
        for column in read.columns
    ]
    return "; ".join(named) or sentence(ENGLISH, "no_column_used")


def around(run: Run) -> tuple[datetime, datetime]:
    """Return the instants between which readings belong to a run: an hour more on each side."""
    ends = run.ended_at is not None and run.ended_at > run.started_at + timedelta(minutes=1)
    until = (
        run.ended_at + timedelta(hours=1) if ends and run.ended_at is not None else run.started_at + timedelta(seconds=LONGEST_S)
    )
    return run.started_at - timedelta(hours=1), until


@dataclass(frozen=True)
class Placing:
    """Where a file's readings may belong: choices (one: nothing to ask), and a sentence where file and run do not meet."""

    choices: tuple[tuple[str, str], ...]
    words: str = ""


def placing(run: Run, log: LogColumns) -> Placing:
    """Return where a file's readings may belong in a run. One query at most."""
    if log.start is None:
        return Placing((("start", sentence(ENGLISH, "first_row_is_start")),))
    first, last = log.instant(log.times_s[0]), log.instant(log.times_s[-1])
    assert first is not None
    assert last is not None
    run_end = run.ended_at if run.ended_at and run.ended_at > run.started_at else None
    if (
        last >= run.started_at
        and (run_end is None or first <= run_end)
        and first <= run.started_at + timedelta(seconds=LONGEST_S)
    ):
        return Placing((("dates", sentence(ENGLISH, "where_their_times_are")),))
    told = {"first": _moment(first), "last": _moment(last), "start": _moment(run.started_at)}
    words = sentence(ENGLISH, "do_not_meet_ended" if run_end else "do_not_meet", **told, end=_moment(run_end) if run_end else "")
    choices = [("start", sentence(ENGLISH, "files_clock_wrong", **told))]
    if not run.events.exists():
        choices.insert(0, ("move", sentence(ENGLISH, "runs_start_wrong", **told)))
    return Placing(tuple(choices), words)


@dataclass(frozen=True)
class FoundCook:
    """A stretch of a log that looks like a cook, in words. [s, s]"""

    start_s: float
    end_s: float
    when: str
    minutes: str
    energy: str
    peak: str


@dataclass(frozen=True)
class CookBand:
    """Where a found cook stands on the drawing."""

    number: int
    x: float
    width: float


@dataclass(frozen=True)
class CutDrawing:
    """The drawing of a whole log with its cooks on it."""

    plot: CurveDrawing
    bands: tuple[CookBand, ...]


@dataclass(frozen=True)
class CutLog:
    """A log cut into cooks: them, the drawings, and how many more there would have been."""

    cooks: tuple[FoundCook, ...]
    drawings: tuple[CutDrawing, ...]
    more: int
    sentence: str


def cut_log(log: LogColumns) -> CutLog:
    """Return a log cut into cooks; one in which none is found is one cook as a whole. No query."""
    curve = curve_of(log)
    stretches = propose_cuts(curve) or [_whole(log, curve)]
    shown = stretches[:MOST_COOKS]
    first_s, last_s = log.times_s[0], log.times_s[-1]
    drawings = tuple(_banded(draw_curve(curve, first_s, last_s, kind), shown) for kind in ("wide", "narrow"))
    return CutLog(
        cooks=tuple(_cook_words(log, stretch) for stretch in shown),
        drawings=drawings if len(curve.times_s) >= 2 else (),
        more=len(stretches) - len(shown),
        sentence=sentence(ENGLISH, "watts_over", span_s=log.span_s, peak_w=curve.peak_w),
    )


def _whole(log: LogColumns, curve: Curve) -> Stretch:
    return Stretch(log.times_s[0], log.times_s[-1], 0.0, curve.peak_w)


def _banded(plot: CurveDrawing, stretches: Sequence[Stretch]) -> CutDrawing:
    edges = [(plot.x(one.start_s), plot.x(one.end_s)) for one in stretches]
    return CutDrawing(plot, tuple(CookBand(n, low, round(max(high - low, 2.0), 1)) for n, (low, high) in enumerate(edges, 1)))


def _cook_words(log: LogColumns, one: Stretch) -> FoundCook:
    begins = log.instant(one.start_s)
    return FoundCook(
        start_s=one.start_s,
        end_s=one.end_s,
        when=_moment(begins) if begins else sentence(ENGLISH, "after_first_row", span_s=one.start_s),
        minutes=format_minutes(one.end_s - one.start_s),
        energy=format_wh(one.energy_wh) if one.energy_wh else "",
        peak=format_watts(one.peak_w),
    )


def picks(user: Any) -> dict[str, dict[str, Any]]:
    """Return what a cook of a log may be and have been cooked on, each by its number. Four queries."""
    revisions = Revision.objects.annotate(newest=Max("recipe__revisions__number")).filter(number=F("newest"))
    if not user.is_superuser:
        revisions = revisions.filter(recipe__owner=user)
    revisions = revisions.filter(recipe__withdrawn_at__isnull=True).select_related("recipe").order_by("recipe__title")
    found = {
        "revision": revisions,
        "appliance": Appliance.objects.all(),
        "source": PowerSource.objects.all(),
        "meter": Meter.objects.all(),
    }
    return {name: {str(one.pk): one for one in things} for name, things in found.items()}


def usual_cook(recipe: Recipe, revision: Revision, user: Any, now: datetime) -> dict[str, Any]:
    """Return what a cook of a log starts with: this recipe, the gear of its last run, the method's first stage. A few queries."""
    words = first_words(recipe, revision, user, now)
    proposals = stage_proposals(revision)
    kept: dict[str, Any] = {
        name: words[name] for name in ("revision", "servings", "appliance", "source", "meter") if name in words
    }
    return {**kept, "stage": proposals[0].kind if proposals else "come_up"}


def shapes() -> list[FileShape]:
    """Return the kept ways of reading, by name. One query."""
    return list(FileShape.objects.all())


def _moment(instant: datetime) -> str:
    local = timezone.localtime(instant)
    return sentence(ENGLISH, "day_and_clock", day=local, clock=f"{local:%H:%M}")
