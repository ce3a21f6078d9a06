"""How the portions of a cook went: kept with the cook, whose servings are those that were made."""

from __future__ import annotations

from decimal import Decimal

from django.db import transaction

from energy.models import Run
from energy.runs.operations.run_rows import lock_runs


@transaction.atomic
def keep_portions(*, run: Run, served: Decimal | None, left: Decimal | None, thrown: Decimal | None) -> None:
    """Keep how many portions were served, left over and thrown away; None where nobody said."""
    lock_runs([run])
    run.portions_served, run.portions_left, run.portions_thrown = served, left, thrown
    run.save(update_fields=["portions_served", "portions_left", "portions_thrown"])
