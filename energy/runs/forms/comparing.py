"""Which runs of a recipe are to stand beside each other, as an address says it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from energy.models import Run

MOST = 6


@dataclass(frozen=True)
class ChosenRuns:
    """The runs that were asked for, the oldest first, and a sentence where they cannot be compared."""

    runs: tuple[Run, ...]
    sentence: str = ""
    readable: bool = True

    @property
    def comparable(self) -> bool:
        """Whether there are enough of them and not too many."""
        return not self.sentence


def chosen_runs(asked: Sequence[str], known: Sequence[Run]) -> ChosenRuns:
    """Return the runs of ``known`` that an address asks for by their numbers; a number asked for twice counts once."""
    by_number = {str(run.pk): run for run in known}
    wanted = list(dict.fromkeys(asked))
    runs = tuple(sorted((by_number[number] for number in wanted if number in by_number), key=lambda run: run.started_at))
    strange = [number for number in wanted if number not in by_number]
    if strange:
        return ChosenRuns(
            runs, f"Cook {_short(strange[0])} is not a finished, measured cook of this recipe: choose from the list.", False
        )
    if len(runs) > MOST:
        return ChosenRuns(runs, f"{len(runs)} cooks were chosen; {MOST} fit beside each other. Take some out.", False)
    if len(runs) == 1:
        return ChosenRuns(runs, "One cook was chosen. Tick at least one more to hold against it.")
    return ChosenRuns(runs, "" if runs else "No cook was chosen yet. Tick two to six of them.")


def _short(word: str) -> str:
    return f"“{word[:12]}{'…' if len(word) > 12 else ''}”"
