"""manage.py doctor: look at everything, a sentence each, with the command that mends it."""

from __future__ import annotations

import sys
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import OperationalError

from deploy.doctor.examining import MENDS, QUICK, THOROUGH, examine
from deploy.doctor.findings import ILL, MIND, WELL, Finding
from deploy.management.commands.prepare import why_unusable

_MARKS = {WELL: "well", MIND: "mind", ILL: "ILL "}


class Command(BaseCommand):
    """Exit status: 0 where nothing is wrong, 1 where something is."""

    requires_system_checks = ()
    help = "Looks at database, photos, figures, disk, clock, libraries, address and the last backup; exits with 1 if one is ill."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take what is to be mended, and whether only the quick things are looked at."""
        parser.add_argument("--mend", action="append", default=[], choices=sorted(MENDS), help="mend this first")
        parser.add_argument("--quick", action="store_true", help="leave out what reads every row and file or asks the network")

    def handle(self, *args: Any, **options: Any) -> None:
        """Mend what was asked for, then look and tell."""
        try:
            for name in options["mend"]:
                self.stdout.write(MENDS[name]())
        except OperationalError as error:
            raise CommandError(why_unusable(error)) from None
        found = [self._told(finding) for finding in examine(QUICK if options["quick"] else (*QUICK, *THOROUGH))]
        if any(finding.state == ILL for finding in found):
            sys.exit(1)

    def _told(self, finding: Finding) -> Finding:
        mend = f" To mend it: {finding.mend}" if finding.mend else ""
        self.stdout.write(f"{_MARKS[finding.state]}  {finding.about}: {finding.words}{mend}")
        return finding
