"""A meter's file beside the readings that it brings: what it was, how it came, and what is in doubt about it."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from energy.models import LoadedFile
from energy.runs.domain.file_came import came_row
from energy.runs.operations.run_rows.holding import HeldRun
from energy.runs.operations.typed import FileFacts


def add_file(held: HeldRun, facts: FileFacts, zero: datetime, by: Any, at: datetime) -> LoadedFile:
    """Keep what is known of a file; its moments count from ``zero``."""
    held.touch()
    return LoadedFile.objects.create(
        run=held.run,
        name=facts.name,
        digest=facts.digest,
        shape=facts.shape,
        words="\n".join(facts.words),
        loaded_at=at,
        loaded_by=by,
        came=came_row(facts.came, facts.doubts, lambda at_s: zero + timedelta(seconds=at_s)),
    )


def confirm_file(held: HeldRun, file: LoadedFile) -> None:
    """Note that what is in doubt about a file was read rightly."""
    if LoadedFile.objects.filter(pk=file.pk, run=held.run, confirmed=False).update(confirmed=True):
        held.touch()
