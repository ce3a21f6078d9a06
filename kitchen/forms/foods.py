"""One food: its words, its weights, what it holds."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from kitchen.domain.allergens import ALLERGENS, MAYBE, NONE, current_key
from kitchen.forms.allergens import choices_of
from kitchen.forms.numbers import NumberField
from kitchen.models import Food

MOST_ALIASES = 30
_ALL = choices_of(entry.key for entry in ALLERGENS)
_NOT_LISTED = {"invalid_choice": "“%(value)s” is not on the list. Tick what is shown here."}


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
        choices=[*_ALL, (NONE, "none of these")],
        required=False,
        help_text="What it is made of. Without a tick, recipes say that nothing is known of it.",
        widget=forms.CheckboxSelectMultiple,
        error_messages=_NOT_LISTED,
    )
    some_brands = forms.MultipleChoiceField(
        label="Allergens of some brands",
        choices=_ALL,
        required=False,
        help_text="Recipes say: read the label.",
        widget=forms.CheckboxSelectMultiple,
        error_messages=_NOT_LISTED,
    )

    def __init__(self, *args: Any, food: Food | None = None, **kwargs: Any) -> None:
        self.food = food
        super().__init__(*args, initial=_initial(food) if food is not None else None, **kwargs)

    def clean_allergens(self) -> list[str]:
        """Return what is ticked, unless that is something and nothing at once."""
        ticked = list(self.cleaned_data["allergens"])
        if NONE in ticked and len(ticked) > 1:
            raise ValidationError("You ticked “none of these” and others. Untick the one or the others.")
        return ticked

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
        maybes = [key + MAYBE for key in data.pop("some_brands") if key not in data["allergens"]]
        data["allergens"] = sorted([*data["allergens"], *maybes])
        return data


def _initial(food: Food) -> dict[str, Any]:
    kept = ("name", "aisle", "g_per_ml", "g_per_each", "each_name", "refuse_pct")
    keys = [current_key(key) for key in food.allergens]
    return {
        **{name: getattr(food, name) for name in kept},
        "aliases": ", ".join(food.aliases),
        "allergens": [key for key in keys if not key.endswith(MAYBE)],
        "some_brands": [key.removesuffix(MAYBE) for key in keys if key.endswith(MAYBE)],
    }
