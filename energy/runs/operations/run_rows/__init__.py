"""The one writer of a run's rows. Forms, desk, sheet, marking, files and devices change a run only through this room.

Rules
-----
- A run is held before it is changed: nobody else changes it until the transaction ends, and what the caller had loaded before
  gives way to what the table says. Only what changed is written. Then the figures are worked out, once.
- Locks are taken in one order: a meter, then runs by their number, then the rows of one run.
- Readings, stages and moments that were pressed at a desk follow from the presses that stand (``runs.domain.desk.project``).
  Whoever corrects such a row corrects its press: ``DeskEvent.amended`` holds what it says now, ``said`` what it said when it
  came, so that a late copy is still known. Whoever removes such a row takes its press back.
- What forms and files bring has rows without a press.
- Pauses follow from presses. A run ends with the later one of its latest finish and of ``typed_end``, which forms set.
- When the start of a run moves with all it holds, its presses move along.
"""

from energy.runs.operations.run_rows.brought import bring_moments, bring_presses, bring_readings, bring_stages
from energy.runs.operations.run_rows.file_rows import add_file, confirm_file
from energy.runs.operations.run_rows.holding import HeldRun, hold_run, lock_runs
from energy.runs.operations.run_rows.presses import keep_event, later_end, pressing, show_photo, withdraw_press
from energy.runs.operations.run_rows.readings import (
    Gone,
    add_notes,
    add_readings,
    change_reading,
    drop_reading,
    put_reading_back,
    remove_rows,
)
from energy.runs.operations.run_rows.rows import stage_row
from energy.runs.operations.run_rows.span import end_at, go_on_to, move_run, start_at
from energy.runs.operations.run_rows.stages import put_stages

__all__ = [
    "Gone",
    "HeldRun",
    "add_file",
    "add_notes",
    "add_readings",
    "bring_moments",
    "bring_presses",
    "bring_readings",
    "bring_stages",
    "change_reading",
    "confirm_file",
    "drop_reading",
    "end_at",
    "go_on_to",
    "hold_run",
    "keep_event",
    "later_end",
    "lock_runs",
    "move_run",
    "pressing",
    "put_reading_back",
    "put_stages",
    "remove_rows",
    "show_photo",
    "stage_row",
    "start_at",
    "withdraw_press",
]
