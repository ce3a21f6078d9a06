"""One food: its words, its weights, what it holds."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from kitchen.forms.numbers import NumberField
from kitchen.models import Food

ALLERGENS = (
    "celery",
    "crustaceans",
    "egg",
    "fish",
    "gluten",
    "lupin",
    "milk",
    "molluscs",
    "mustard",
    "nuts",
    "peanut",
    "sesame",
    "soya",
    "sulphite",
)
MOST_ALIASES = 30


class FoodForm(forms.Form):
    """A food's name and other names, aisle, household weights, refuse and allergens."""

    name = forms.CharField(
        max_length=120, error_messages={"required": "Type the food’s name."}, widget=forms.TextInput({"dir": "auto"})
    )
    aliases = forms.CharField(
        label="Other names",
        max_length=1000,
        required=False,
        help_text="Parted by commas. A line with one of them means this food.",
        widget=forms.TextInput({"dir": "auto"}),
    )
    aisle = forms.CharField(
        max_length=40, required=False, help_text="Where it stands in a shop.", widget=forms.TextInput({"list": "aisles"})
    )
    g_per_ml = NumberField(
        label="Weight of a millilitre",
        low=0,
        high=25,
        places=4,
        above_low=True,
        required=False,
        help_text="A cup of 240 mL that weighs 125 g makes 0.52. Empty: spoons and cups of it have no weight.",
    )
    g_per_each = NumberField(
        label="Weight of one piece",
        low=0,
        high=50000,
        places=2,
        above_low=True,
        required=False,
        help_text="As eaten, without what is thrown away.",
    )
    each_name = forms.CharField(label="What one piece is", max_length=80, required=False, help_text="Like “medium onion”.")
    refuse_pct = NumberField(
        label="Thrown away", low=0, high=99, places=1, required=False, help_text="Peel, core, bone: the part of what is bought."
    )
    allergens = forms.MultipleChoiceField(
        choices=[(name, name) for name in ALLERGENS], required=False, widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args: Any, food: Food | None = None, **kwargs: Any) -> None:
        self.food = food
        super().__init__(*args, initial=_initial(food) if food is not None else None, **kwargs)
        known = set(ALLERGENS)
        extra = [name for name in (food.allergens if food is not None else []) if name not in known]
        self.fields["allergens"].choices = [(name, name) for name in sorted([*ALLERGENS, *extra])]

    def clean_name(self) -> str:
        """Return the name, if no other food has it."""
        name = " ".join(self.cleaned_data["name"].split())
        others = Food.objects.filter(name__iexact=name).exclude(pk=self.food.pk if self.food is not None else None)
        if others.exists():
            raise ValidationError("There is a food of this name already. Change that one, or choose another name.")
        return name

    def clean_aliases(self) -> list[str]:
        """Return the other names, each once."""
        names = list(
            dict.fromkeys(name for piece in self.cleaned_data["aliases"].split(",") if (name := " ".join(piece.split())))
        )
        if len(names) > MOST_ALIASES:
            raise ValidationError(f"There are {len(names)} other names; {MOST_ALIASES} fit.")
        return names

    def values(self) -> dict[str, Any]:
        """Return what a valid form says, as the table keeps it."""
        data = dict(self.cleaned_data)
        for name in ("g_per_ml", "g_per_each"):
            data[name] = None if data[name] is None else float(data[name])
        data["refuse_pct"] = float(data["refuse_pct"] or 0)
        return data


def _initial(food: Food) -> dict[str, Any]:
    kept = ("name", "aisle", "g_per_ml", "g_per_each", "each_name", "refuse_pct", "allergens")
    return {**{name: getattr(food, name) for name in kept}, "aliases": ", ".join(food.aliases)}
