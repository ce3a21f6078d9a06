"""``manage.py prepare``: everything between installed packages and a site that can be served, in one process."""

from __future__ import annotations

import errno
from argparse import ArgumentParser

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError, OperationalError, connection
from django.db.migrations.executor import MigrationExecutor

from deploy.collected import mark_as_current, styles_are_current
from deploy.upgrading import UpgradeFailed, apply_changes, back_up_first, keep_served, refuse_newer_tables
from kitchen.models import Recipe, Site
from kitchen.operations import load_reference_foods, shelve_by_new_rules


class Command(BaseCommand):
    """Tables, reference foods, the worked example on the first start, collected styles. Doing it again changes nothing."""

    requires_system_checks = ()  # the tests make them; a start every morning need not wait for them
    help = "Bring the database and the collected files up to date, as deploy/run does before it serves."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--no-demo", dest="demo", action="store_false", help="leave the worked example out")

    def handle(self, *, demo: bool, **options: object) -> None:
        try:
            self.prepare_tables(demo=demo)
            self.collect_styles()
            keep_served()
        except UpgradeFailed as failure:
            raise CommandError(str(failure)) from None
        except OperationalError as error:
            raise CommandError(why_unusable(error)) from None
        except OSError as error:
            raise CommandError(why_unwritten(error)) from None

    def prepare_tables(self, *, demo: bool) -> None:
        refuse_newer_tables()
        changes = pending_migrations()
        if changes:
            kept = back_up_first()
            if kept is not None:
                self.stdout.write(f"Backup: {kept}")
            self.stdout.write(f"Database: applying {changes} changes")
            apply_changes(kept)
        foods = load_reference_foods()
        if foods:
            self.stdout.write(f"Foods: {foods} from the reference table")
        shelved = shelve_by_new_rules()
        if shelved:
            self.stdout.write(f"Library: {shelved} recipe{'s' if shelved > 1 else ''} shelved by new rules")
        if is_first_start():
            if demo:
                self.stdout.write("Example: loading the recipes of the Fernhollow sky-watching club")
                call_command("demo", stdout=self.stdout)
            Site.objects.get_or_create(pk=1)

    def collect_styles(self) -> None:
        if styles_are_current():
            return
        self.stdout.write("Styles: collecting and compressing")
        call_command("collectstatic", verbosity=0, interactive=False, clear=True)
        mark_as_current()


def pending_migrations() -> int:
    """Return how many changes to the tables are not applied yet."""
    executor = MigrationExecutor(connection)
    return len(executor.migration_plan(executor.loader.graph.leaf_nodes()))


def is_first_start() -> bool:
    """Whether nobody has used this database yet: no site row, no recipe."""
    return not Site.objects.exists() and not Recipe.objects.exists()


def why_unusable(error: DatabaseError) -> str:
    """Return one plain sentence for a database that cannot be used."""
    said = str(error).strip().splitlines() or ["it did not say why"]
    if "disk" in said[0] and "full" in said[0]:
        return "The disk is full: the database could not be written."
    if connection.vendor == "sqlite":
        return f"The database file in {settings.DATA_DIR} cannot be used ({said[0]})."
    return f"The database named by DATABASE_URL cannot be reached ({said[0]})."


def why_unwritten(error: OSError) -> str:
    """Return one plain sentence for a file that could not be written."""
    if error.errno in {errno.ENOSPC, errno.EDQUOT}:
        return f"The disk is full: not everything fits into {settings.DATA_DIR}. Free some space and start again."
    return f"Nothing can be written to {error.filename or settings.DATA_DIR} ({error.strerror})."
