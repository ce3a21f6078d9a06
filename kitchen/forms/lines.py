"""How one ingredient line is read, corrected by the cook."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from kitchen.domain.reading import LineReading
from kitchen.domain.units import UNITS
from kitchen.forms.numbers import AmountField
from kitchen.models import SCALING_RULES, Food, Line
from kitchen.queries import food_named

_DIMENSIONS = {"mass": "weight", "volume": "volume", "count": "pieces"}


def unit_choices() -> list[Any]:
    """Return the units grouped by what they measure; no unit at all comes first."""
    groups: dict[str, list[tuple[str, str]]] = {}
    for unit in UNITS.values():
        groups.setdefault(_DIMENSIONS.get(unit.dimension, "other"), []).append((unit.key, unit.label))
    return [("", "none: a number of things"), *groups.items()]


class LineForm(forms.Form):
    """Amount, unit, food, note and scaling rule of one line.

    Its inputs name the form that they belong to, so that they may stand in a table inside the editor's own form.
    """

    low = AmountField(label="Amount", required=False)
    high = AmountField(label="Up to", required=False)
    unit = forms.ChoiceField(choices=unit_choices, required=False)
    name = forms.CharField(label="Ingredient", max_length=160, required=False, widget=forms.TextInput({"dir": "auto"}))
    food = forms.CharField(
        label="Food in the table",
        max_length=120,
        required=False,
        help_text="Its weights and prices are used. Leave empty for none.",
        widget=forms.TextInput({"list": "food-names", "autocomplete": "off", "dir": "auto"}),
    )
    note = forms.CharField(max_length=200, required=False, widget=forms.TextInput({"dir": "auto"}))
    rule = forms.ChoiceField(label="How it scales", choices=SCALING_RULES)
    to_taste = forms.BooleanField(label="to taste", required=False)
    optional = forms.BooleanField(label="optional", required=False)

    def __init__(self, *args: Any, line: Line, **kwargs: Any) -> None:
        self.line = line
        super().__init__(*args, prefix=f"line-{line.pk}", initial=_initial(line), **kwargs)
        for field in self.fields.values():
            field.widget.attrs["form"] = "line-form"

    def clean_food(self) -> Food | None:
        """Return the food of this name."""
        name = self.cleaned_data["food"]
        food = food_named(name) if name.strip() else None
        if name.strip() and food is None:
            raise ValidationError(f"There is no food called “{name.strip()}”. Choose one from the list, or add it under Foods.")
        return food

    def clean(self) -> dict[str, Any]:
        """Check the two ends of the amount against each other."""
        data = super().clean() or self.cleaned_data
        low, high = data.get("low"), data.get("high")
        if high is not None and low is None and "low" not in self.errors:
            self.add_error("low", "Type the amount from which it goes up.")
        if low is not None and high is not None and high < low:
            self.add_error("high", "This is less than the amount it starts from.")
        return data

    def reading(self) -> LineReading:
        """Return the corrected reading of a valid form."""
        data = self.cleaned_data
        kept = {name: getattr(self.line, name) for name in ("size",)}
        also = tuple(self.line.also)
        high = data["low"] if data["high"] is None else data["high"]
        chosen = {name: data[name] for name in ("low", "unit", "name", "note", "rule", "optional", "to_taste", "food")}
        return LineReading(**chosen, **kept, high=high, also=also)


def _initial(line: Line) -> dict[str, Any]:
    return {
        "low": line.low,
        "high": line.high if line.high != line.low else None,
        "unit": line.unit,
        "name": line.name,
        "food": line.food.name if line.food is not None else "",
        "note": line.note,
        "rule": line.rule,
        "to_taste": line.to_taste,
        "optional": line.optional,
    }
