"""Writes: what a cook does with gear and runs, each named as a cook would say it."""

from energy.operations.gear import remove_gear, save_gear
from energy.operations.judging import NeedsReason, choose_runs, judge_run, refresh_summary
from energy.operations.recording import (
    SentBefore,
    add_reading,
    correct_reading,
    edit_run,
    finish_run,
    import_readings,
    mark_next_stage,
    mark_stages,
    put_back_reading,
    record_run,
    remove_reading,
    remove_run,
)
from energy.operations.typed import RESET_NOTE, NewReading, RunDetails, StageStart

__all__ = [
    "RESET_NOTE",
    "NeedsReason",
    "NewReading",
    "RunDetails",
    "SentBefore",
    "StageStart",
    "add_reading",
    "choose_runs",
    "correct_reading",
    "edit_run",
    "finish_run",
    "import_readings",
    "judge_run",
    "mark_next_stage",
    "mark_stages",
    "put_back_reading",
    "record_run",
    "refresh_summary",
    "remove_gear",
    "remove_reading",
    "remove_run",
    "save_gear",
]
