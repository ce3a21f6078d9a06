"""How the portions of a cook went."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from energy.models import Run


class PortionsForm(forms.Form):
    """Portions served, left over and thrown away; each may stay empty, together they are at most what was made."""

    def __init__(self, data: Any = None, *, run: Run) -> None:
        self.run = run
        initial = {name: _typed(getattr(run, f"portions_{name}")) for name in ("served", "left", "thrown")}
        super().__init__(data, initial=initial)
        labels = {"served": "Served", "left": "Left over, kept", "thrown": "Thrown away"}
        for name, label in labels.items():
            self.fields[name] = forms.DecimalField(
                required=False,
                min_value=Decimal(0),
                max_value=Decimal(500),
                max_digits=5,
                decimal_places=2,
                label=label,
                error_messages={
                    "min_value": "0 is the least.",
                    "max_value": "500 is the most.",
                    "max_decimal_places": "At most two decimals, like 0.5.",
                    "invalid": "Type a number of portions, like 5 or 0.5.",
                },
            )

    def clean(self) -> dict[str, Any]:
        """Refuse more portions than were made."""
        values = super().clean() or {}
        told = sum((value for value in values.values() if value is not None), Decimal(0))
        if told > self.run.servings:
            self.add_error("served", f"That is {told:f} portions in all, and {self.run.servings} were made.")
        return values


def _typed(portions: Decimal | None) -> str:
    return "" if portions is None else f"{portions.normalize():f}"
