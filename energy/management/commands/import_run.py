"""Record a cook from a meter's file: ``manage.py import_run FILE --recipe SLUG --appliance NAME --source NAME --meter NAME``."""

from __future__ import annotations

import re
from argparse import ArgumentParser, RawDescriptionHelpFormatter
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import models
from django.utils import timezone

from energy.management import reading_options
from energy.meters.files.reading import MeterLog
from energy.models import Appliance, Meter, PowerSource
from energy.runs.operations.recording import record_run
from energy.runs.operations.typed import FileFacts, RunDetails, StageStart, TypedRows
from energy.runs.queries.recording import newest_revision
from energy.runs.queries.run_page import run_line
from energy.runs.queries.runs import flag_words
from kitchen.domain.stages import STAGE_KINDS
from kitchen.models import Recipe, Revision
from kitchen.queries import SiteClock, the_site

_STAGE = re.compile(r"^\s*(?P<kind>[a-z_]+)\s*:\s*(?P<minute>\d+(?:\.\d+)?)\s*$")


class Command(BaseCommand):
    """Reads a meter's file and records it as a run."""

    help = reading_options.HELP

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> Any:
        """Keep the lines of the help as they are written."""
        return super().create_parser(prog_name, subcommand, formatter_class=RawDescriptionHelpFormatter, **kwargs)

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Describe the command line."""
        parser.add_argument("file", type=Path, help="the meter's file, or a plain log as CSV")
        parser.add_argument("--look", action="store_true", help="say how the file is read, show its first rows, keep nothing")
        cook = parser.add_argument_group("the cook")
        cook.add_argument("--recipe", metavar="SLUG", help="the recipe's address, like lentil-pot")
        cook.add_argument("--revision", type=int, metavar="N", help="the revision that was cooked; the newest when left out")
        cook.add_argument("--appliance", metavar="NAME")
        cook.add_argument("--source", metavar="NAME")
        cook.add_argument("--meter", metavar="NAME")
        cook.add_argument(
            "--start",
            "--started",
            metavar="ISO",
            help="when it was switched on, like 2026-10-14T19:05; as the file says when left out, or now",
        )
        cook.add_argument("--servings", type=int, metavar="N", help="as the recipe is written when left out")
        cook.add_argument("--stages", default="", metavar="LIST", help='stages by minute, like "brown:0,come_up:10,hold:21"')
        cook.add_argument("--note", default="")
        reading_options.add_to(parser)

    def execute(self, *args: Any, **options: Any) -> Any:
        with timezone.override(SiteClock()):
            return super().execute(*args, **options)

    def handle(self, *args: Any, **options: Any) -> None:
        """Read everything first, then record the run whole or not at all."""
        if options["look"]:
            reading_options.show(options, self.stdout)
            return
        missing = [f"--{name}" for name in ("recipe", "appliance", "source", "meter") if not options[name]]
        if missing:
            raise CommandError(f"These are needed to record a run: {', '.join(missing)}. With --look nothing is recorded.")
        revision = _revision(options["recipe"], options["revision"])
        gear = {
            "appliance": _named(Appliance, options["appliance"]),
            "source": _named(PowerSource, options["source"]),
            "meter": _named(Meter, options["meter"]),
        }
        log, facts = reading_options.read(options, self.stdout, self.stderr)
        details = RunDetails(
            revision=revision,
            **gear,
            started_at=_start(options["start"], log),
            servings=_servings(options["servings"], revision),
            altitude_m=the_site().altitude_m,
            note=options["note"],
        )
        self._record(details, log, facts, _stages(options["stages"]))

    def _record(self, details: RunDetails, log: MeterLog, facts: FileFacts, stages: list[StageStart]) -> None:
        stages = stages or [StageStart(stage.start_s, stage.kind, stage.label) for stage in log.stages]
        owner = details.revision.recipe.owner
        readings = [replace(one, at_s=round(one.at_s, 3)) for one in log.samples()]
        run = record_run(details=details, rows=TypedRows(readings, stages, file=facts), operator=owner, at=timezone.now())
        line = run_line(run)
        self.stdout.write(
            f"Run {run.pk}: {len(readings)} readings, {line.energy or 'too little read'}, {line.minutes}".rstrip(", ")
        )
        for flag in flag_words(run):
            self.stdout.write(self.style.WARNING(f"  {flag}"))


def _revision(slug: str, number: int | None) -> Revision:
    recipe = Recipe.objects.filter(slug=slug).select_related("owner").first()
    if recipe is None:
        raise CommandError(f"There is no recipe “{slug}”. Its address ends in /r/SLUG/.")
    found = newest_revision(recipe) if number is None else recipe.revisions.filter(number=number).first()
    if found is None:
        raise CommandError(f"“{slug}” has no revision {number}." if number else f"“{slug}” has nothing written yet.")
    return found


def _named(model: type[models.Model], name: str) -> Any:
    found = model._default_manager.filter(name__iexact=name).first()
    if found is None:
        known = ", ".join(f"“{each}”" for each in model._default_manager.values_list("name", flat=True)[:20])
        raise CommandError(f"There is no {model._meta.verbose_name} named “{name}”. Known: {known or 'none yet'}.")
    return found


def _start(text: str | None, log: MeterLog) -> datetime:
    if text is None:
        return log.start or timezone.now()
    return reading_options.moment(text)


def _servings(number: int | None, revision: Revision) -> int:
    if number is None:
        return revision.servings
    if not 1 <= number <= 500:
        raise CommandError("Servings are a number from 1 to 500.")
    return number


def _stages(text: str) -> list[StageStart]:
    found = []
    for part in filter(str.strip, text.split(",")):
        match = _STAGE.match(part)
        if match is None or match["kind"] not in STAGE_KINDS:
            raise CommandError(
                f"“{part.strip()}” is not a stage and a minute. Write them like brown:0. Stages: {', '.join(STAGE_KINDS)}."
            )
        found.append(StageStart(float(match["minute"]) * 60, match["kind"]))
    return found
