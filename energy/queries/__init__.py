"""Reads: what the energy tables say, each in a number of queries that does not grow with the rows."""

from energy.queries.gear import GearUse, NeededGear, card_sources, gear_defaults, gear_rows, gear_use, needed_gear
from energy.queries.heat import cooked_lines, heat_need_of
from energy.queries.heat_words import HeatWords
from energy.queries.recording import (
    Desk,
    StageProposal,
    counter_readings,
    desk,
    elapsed_s,
    first_words,
    newest_revision,
    readings_beside,
    stage_proposals,
    typed_reading,
    typed_stages,
)
from energy.queries.run_page import RunFigures, reading_rows, run_figures, run_line, run_standing
from energy.queries.runs import (
    does_count,
    finished_runs,
    measured_revisions,
    newest_cooked,
    recipes_without_runs,
    run_summary,
    runs_of_cook,
    runs_of_recipe,
    runs_to_look_at,
)

__all__ = [
    "Desk",
    "GearUse",
    "HeatWords",
    "NeededGear",
    "RunFigures",
    "StageProposal",
    "card_sources",
    "cooked_lines",
    "counter_readings",
    "desk",
    "does_count",
    "elapsed_s",
    "finished_runs",
    "first_words",
    "gear_defaults",
    "gear_rows",
    "gear_use",
    "heat_need_of",
    "measured_revisions",
    "needed_gear",
    "newest_cooked",
    "newest_revision",
    "reading_rows",
    "readings_beside",
    "recipes_without_runs",
    "run_figures",
    "run_line",
    "run_standing",
    "run_summary",
    "runs_of_cook",
    "runs_of_recipe",
    "runs_to_look_at",
    "stage_proposals",
    "typed_reading",
    "typed_stages",
]
