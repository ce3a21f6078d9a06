"""manage.py foods: bring the reference table's foods in, leaving what cooks changed."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand

from kitchen.operations import load_reference_foods


class Command(BaseCommand):
    """Load the reference foods; safe to run again at any time."""

    help = "Adds the reference table's foods and brings untouched ones up to date; rows that a cook changed stay as they are."

    def handle(self, *args: Any, **options: Any) -> None:
        """Load and say how many rows came in or changed."""
        count = load_reference_foods()
        self.stdout.write(f"{count} foods added or brought up to date." if count else "The foods are up to date.")
