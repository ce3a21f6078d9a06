"""Further household weights of a food: rows of a measure, what it is like, and its grams."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from kitchen.domain.units import UNITS
from kitchen.forms.numbers import NumberField

MOST_ROWS = 30


def measure_choices() -> list[Any]:
    """Return what a household weight can be of: one whole thing, a volume, or a kind of piece."""
    groups: dict[str, list[tuple[str, str]]] = {"by volume": [], "pieces": []}
    for unit in UNITS.values():
        if unit.dimension != "mass" and unit.key != "each":
            groups["by volume" if unit.dimension == "volume" else "pieces"].append((unit.key, unit.label))
    return [("", "a whole one"), *groups.items()]


class WeightForm(forms.Form):
    """One household weight: "1 cup, chopped, 160 g"."""

    unit = forms.ChoiceField(label="One", choices=measure_choices, required=False)
    words = forms.CharField(label="What it is like", max_length=60, required=False, widget=forms.TextInput({"dir": "auto"}))
    g = NumberField(label="Grams", low=0, high=50000, unit="g", places=3, above_low=True, required=False)

    def clean(self) -> dict[str, Any]:
        """A row that says something has to say its grams."""
        data = super().clean() or self.cleaned_data
        if (data.get("unit") or data.get("words")) and data.get("g") is None and "g" not in self.errors:
            self.add_error("g", "Type its grams, or empty the row.")
        return data

    @property
    def place(self) -> str:
        """The number in the names of the row's fields."""
        return str(self.prefix).removeprefix("weight-")

    @property
    def weight(self) -> dict[str, Any] | None:
        """The weight as the table keeps it, or None for an empty row."""
        grams = self.cleaned_data.get("g")
        if grams is None:
            return None
        words = " ".join(self.cleaned_data["words"].split())
        return {"unit": self.cleaned_data["unit"], "words": words, "g": float(grams)}


def weight_forms(posted: Mapping[str, Any] | None, weights: Sequence[Mapping[str, Any]], wish: str = "") -> list[WeightForm]:
    """Return one form for each weight and an empty one; posted rows where there are any.

    ``wish`` is the button that was pressed: ``more`` adds an empty row, ``less-3`` takes the fourth one away.
    """
    if posted is None:
        shown = [WeightForm(prefix=f"weight-{place}", initial=dict(weight)) for place, weight in enumerate(weights)]
        return [*shown, WeightForm(prefix=f"weight-{len(shown)}")]
    places = [place for place in range(MOST_ROWS) if f"weight-{place}-g" in posted]
    shown = [WeightForm(posted, prefix=f"weight-{place}") for place in places if wish != f"less-{place}"]
    free = places[-1] + 1 if places else 0
    return [*shown, WeightForm(prefix=f"weight-{free}")] if wish == "more" and free < MOST_ROWS else shown


def arranges(wish: str) -> bool:
    """Whether a button only adds or takes away a row, so that nothing is kept yet."""
    return wish == "more" or wish.startswith("less-")


def rows_valid(rows: Sequence[WeightForm]) -> bool:
    """Whether every row makes sense; all are looked at, so that each mistake is said."""
    made = [row.is_valid() for row in rows if row.is_bound]
    return all(made)


def weights_of(rows: Sequence[WeightForm]) -> list[dict[str, Any]]:
    """Return the weights of valid rows as the table keeps them."""
    return [weight for row in rows if row.is_bound and (weight := row.weight) is not None]
