"""How one ingredient line is read, corrected by the cook."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, cast

from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse

from kitchen.domain.reading import LineReading
from kitchen.domain.simmering import proposed_loss_ml
from kitchen.domain.units import UNITS
from kitchen.forms.numbers import AmountField, NumberField
from kitchen.models import SCALING_RULES, Edition, Food, Line
from kitchen.operations.making import MadeBy
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
        help_text="Type some letters and choose below. Leave empty for none.",
        widget=forms.TextInput({"autocomplete": "off", "dir": "auto"}),
    )
    chosen = forms.CharField(max_length=18, required=False)
    note = forms.CharField(max_length=200, required=False, widget=forms.TextInput({"dir": "auto"}))
    rule = forms.ChoiceField(label="How it scales", choices=SCALING_RULES)
    evaporated_ml = NumberField(low=0, high=50_000, unit="mL", label="Boils off in one batch, mL", required=False)
    made = forms.ChoiceField(
        label="Made by another recipe",
        required=False,
        help_text="Stock, a spice mix, dough: type the amount in portions, or in g where that recipe says what a serving weighs.",
    )
    made_now = forms.BooleanField(label="made in the same cook, its minutes and watt-hours are in it", required=False)
    to_taste = forms.BooleanField(label="to taste", required=False)
    optional = forms.BooleanField(label="optional", required=False)

    def __init__(self, data: Any = None, *, line: Line, editions: Sequence[Edition] = (), own: bool = False) -> None:
        self.line, self.own, self.editions = line, own, {str(edition.pk): edition for edition in editions}
        super().__init__(data, prefix=f"line-{line.pk}", initial=_initial(line))
        told = [(pk, f"{edition.recipe.title}, edition {edition.number}") for pk, edition in self.editions.items()]
        cast("forms.ChoiceField", self.fields["made"]).choices = [("", "no, it is a food"), *told]
        self.fields["evaporated_ml"].help_text = _loss_words(line)
        for field in self.fields.values():
            field.widget.attrs["form"] = "line-form"
        self.fields["food"].widget.attrs |= self._search_as_typed()

    def _search_as_typed(self) -> dict[str, str]:
        """Return what redraws the foods to choose from while a name is typed; without script the button beside it does."""
        address = reverse("kitchen:line-correct", args=[self.line.part.revision.recipe.slug, self.line.pk])
        return {
            "data-hx-get": address,
            "data-hx-trigger": "input changed delay:250ms",
            "data-hx-target": f"#line-foods-{self.line.pk}",
            "data-hx-swap": "outerHTML",
            "data-hx-sync": "this:replace",
        }

    def clean_chosen(self) -> Food | None:
        """Return the food whose button was set below the field; it counts more than what is typed."""
        number = self.cleaned_data["chosen"]
        if not number:
            return None
        food = Food.objects.filter(pk=int(number)).first() if number.isdecimal() and number.isascii() else None
        if food is None:
            raise ValidationError("This food is not in the table any more. Choose another.")
        return food

    def clean_food(self) -> Food | None:
        """Return the food of this name."""
        name = self.cleaned_data["food"].strip()
        food = food_named(name) if name else None
        if name and food is None and not self.own and not self["chosen"].data:
            raise ValidationError(f"There is no food called “{name}”. Choose one below, or add it as a food of your own.")
        return food

    def own_name(self) -> str:
        """Return the name of a food of the cook's own: what was typed for the food, else the line's name."""
        typed = (self["food"].data or "").strip() if self.is_bound else ""
        return " ".join((typed or self["name"].data or self.line.name or self.line.text).split())[:120]

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
        said = {name: data[name] for name in ("low", "unit", "name", "note", "rule", "optional", "to_taste")}
        lost = data["evaporated_ml"] if data["rule"] == "simmer" else None
        food = data["chosen"] or data["food"]
        return LineReading(**said, **kept, high=high, also=also, food=food, evaporated_ml=None if lost is None else float(lost))

    def made_by(self) -> MadeBy:
        """Return the recipe that the line of a valid form is made by."""
        return MadeBy(self.editions.get(self.cleaned_data["made"]), self.cleaned_data["made_now"])

    @property
    def may_simmer(self) -> bool:
        """Whether the line is measured like a liquid, so that what boils off is worth asking."""
        unit = UNITS.get(self["unit"].value() or "")
        return self["rule"].value() == "simmer" or (unit is not None and unit.dimension == "volume")


def _loss_words(line: Line) -> str:
    """Return what the field is for, with a proposal from the minutes that the method boils in an open pan."""
    proposal = proposed_loss_ml(list(line.part.revision.steps.all()))
    about = "Counts for a liquid that simmers in an open pan: an open boil loses about 250 mL in ten minutes"
    return f"{about}. By the steps, about {proposal:g} mL." if proposal else f"{about}, nearly none under a lid."


def _initial(line: Line) -> dict[str, Any]:
    return {
        "low": line.low,
        "high": line.high if line.high != line.low else None,
        "unit": line.unit,
        "name": line.name,
        "food": line.food.name if line.food is not None else "",
        "note": line.note,
        "rule": line.rule,
        "evaporated_ml": line.evaporated_ml,
        "to_taste": line.to_taste,
        "optional": line.optional,
        "made": line.made_of_id or "",
        "made_now": line.made_now,
    }
