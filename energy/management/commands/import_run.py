"""Record a cook from a log: ``manage.py import_run FILE --recipe SLUG --appliance NAME --source NAME --meter NAME``."""

from __future__ import annotations

import re
from argparse import ArgumentParser
from datetime import datetime
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import models
from django.utils import timezone
from django.utils.dateparse import parse_datetime

from energy.importers import ReadLog, UnreadableLog, read_log
from energy.models import Appliance, Meter, PowerSource
from energy.operations import NewReading, RunDetails, StageStart, record_run
from energy.queries import newest_revision, run_line
from kitchen.domain.stages import STAGE_KINDS
from kitchen.models import Recipe, Revision
from kitchen.queries import the_site

_STAGE = re.compile(r"^\s*(?P<kind>[a-z_]+)\s*:\s*(?P<minute>\d+(?:\.\d+)?)\s*$")
_LARGEST_BYTES = 50_000_000


class Command(BaseCommand):
    """Reads a CSV of time and any of watt-hours, watts and charge, and records it as a run."""

    help = "Record a measured cook from a CSV file of time and watt-hours, watts or charge."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Describe the command line."""
        parser.add_argument("file", type=Path, help="the log, as CSV")
        parser.add_argument("--recipe", required=True, metavar="SLUG", help="the recipe's address, like lentil-pot")
        parser.add_argument("--revision", type=int, metavar="N", help="the revision that was cooked; the newest when left out")
        parser.add_argument("--appliance", required=True, metavar="NAME")
        parser.add_argument("--source", required=True, metavar="NAME")
        parser.add_argument("--meter", required=True, metavar="NAME")
        parser.add_argument(
            "--start", metavar="ISO", help="when it was switched on, like 2026-10-14T19:05; as the log says when left out, or now"
        )
        parser.add_argument("--servings", type=int, metavar="N", help="as the recipe is written when left out")
        parser.add_argument("--stages", default="", metavar="LIST", help='stages by minute, like "brown:0,come_up:10,hold:21"')
        parser.add_argument("--note", default="")

    def handle(self, *args: Any, **options: Any) -> None:
        """Read everything first, then record the run whole or not at all."""
        log = _log(options["file"])
        revision = _revision(options["recipe"], options["revision"])
        details = RunDetails(
            revision=revision,
            appliance=_named(Appliance, options["appliance"]),
            source=_named(PowerSource, options["source"]),
            meter=_named(Meter, options["meter"]),
            started_at=_start(options["start"], log),
            servings=_servings(options["servings"], revision),
            altitude_m=the_site().altitude_m,
            note=options["note"],
        )
        readings = [NewReading(one.at_s, one.energy_wh, one.power_w, one.charge_pct, origin="file") for one in log.samples]
        stages = _stages(options["stages"]) or [StageStart(stage.start_s, stage.kind, stage.label) for stage in log.stages]
        run = record_run(details=details, readings=readings, stages=stages, operator=revision.recipe.owner, at=timezone.now())
        line = run_line(run)
        self.stdout.write(
            f"Run {run.pk}: {len(readings)} readings, {line.energy or 'too little read'}, {line.minutes}".rstrip(", ")
        )
        for flag in run.flags:
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


def _log(file: Path) -> ReadLog:
    try:
        return read_log(_text(file))
    except UnreadableLog as error:
        raise CommandError(str(error)) from error


def _start(text: str | None, log: ReadLog) -> datetime:
    if text is None:
        moment = log.start or timezone.now()
        return moment if timezone.is_aware(moment) else timezone.make_aware(moment)
    try:
        moment = parse_datetime(text)
    except ValueError:
        moment = None
    if moment is None:
        raise CommandError(f"“{text}” is not a moment. Write it like 2026-10-14T19:05.")
    return moment if timezone.is_aware(moment) else timezone.make_aware(moment)


def _servings(number: int | None, revision: Revision) -> int:
    if number is None:
        return revision.servings
    if not 1 <= number <= 500:
        raise CommandError("Servings are a number from 1 to 500.")
    return number


def _text(file: Path) -> str:
    try:
        if file.stat().st_size > _LARGEST_BYTES:
            raise CommandError(f"{file} is larger than 50 MB. Export a shorter time.")
        return file.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise CommandError(f"{file} cannot be read: {error.strerror}.") from error
    except UnicodeDecodeError as error:
        raise CommandError(f"{file} is not a text file. Export the log as CSV (UTF-8).") from error


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
