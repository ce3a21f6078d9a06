"""The presses that a run's desk shows, those of phones and what was typed elsewhere, and how one goes over the wire."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from energy.models import DeskEvent, Reading, Run
from energy.runs.domain.desk import Press, project
from energy.runs.domain.samples import FIGURES
from energy.runs.queries.presses import presses_that_stand

_MOST_TYPED = 400
_BESIDE = ("at", "kind", "replaces")
"""Names in what was said that stand beside it: what is left are a press's own words."""


@dataclass(frozen=True)
class DeskPresses:
    """The presses of a run's desk in order: all that stand, and those that are shown, without second taps.

    ``typed`` names what no press made: it is corrected and taken back elsewhere.
    """

    standing: tuple[Press, ...]
    shown: tuple[Press, ...]
    typed: frozenset[UUID]
    paused: bool

    def key(self, press: Press) -> str:
        """Return the name under which a press is corrected or taken back here; empty where it cannot be."""
        return "" if press.id in self.typed else str(press.id)

    def find(self, key: str) -> Press | None:
        """Return one press by its name, if it stands."""
        return next((press for press in self.shown if key and self.key(press) == key), None)


def desk_presses(run: Run) -> DeskPresses:
    """Return the presses of a run that stand, with what was typed elsewhere under no name of its own. Three queries."""
    pressed = presses_that_stand(run)
    typed = [Press(UUID(int=place), *rest) for place, rest in enumerate(_typed(run, {press.id for press in pressed}))]
    standing = tuple(sorted([*typed, *pressed], key=lambda press: (press.at, str(press.id))))
    follows = project(standing)
    return DeskPresses(
        standing=standing,
        shown=tuple(press for press in standing if press.kind != "stage" or press.id in follows.rows),
        typed=frozenset(press.id for press in typed),
        paused=bool(follows.pauses) and follows.pauses[-1][1] is None,
    )


def _typed(run: Run, known: set[UUID]) -> Iterator[tuple[str, datetime, dict[str, Any]]]:
    """Yield kind, moment and words of the rows that no press made; of one moment they come before any press."""
    for reading in run.readings.exclude(origin="file").order_by("-at")[:_MOST_TYPED]:
        if reading.pk not in known:
            yield "reading", reading.at, _reading_says(reading)
    for stage in run.stages.filter(event=None):
        yield "stage", stage.starts_at, {"stage": stage.kind, "label": stage.label}


def _reading_says(reading: Reading) -> dict[str, Any]:
    return {name: value for name in (*FIGURES, "note") if (value := getattr(reading, name)) not in (None, "")}


def press_json(press: Press | DeskEvent, key: str) -> dict[str, Any]:
    """Return a press as a phone keeps it, under a name."""
    said = {name: value for name, value in press.said.items() if name not in _BESIDE}
    return {"id": key, "kind": press.kind, "at": rfc3339(press.at), "said": said}


def rfc3339(moment: datetime | None) -> str | None:
    """Return an instant as it goes over the wire: RFC 3339 in UTC, with its microseconds."""
    return None if moment is None else moment.astimezone(UTC).isoformat().replace("+00:00", "Z")
